/**
 * Films of a table that no camera ever saw: a shot of the project's own model, seen through a projective map, drawn on
 * a canvas and encoded by the browser itself (WebCodecs, VP8). The file around the frames is written here (Matroska,
 * RFC 9559: EBML header, segment, track, clusters of simple blocks), because a recording in real time would put each
 * frame where the machine had time for it. Like a recording of the browser it says neither its length nor where to
 * seek.
 */
import type { Page } from "playwright-core";
import { STANDARD_BALL_DIAMETER } from "../../src/bank/bend";
import { positionAt, runOnCloth, timeAtLine } from "../../src/bank/cloth";
import { DEFAULT_CONDITIONS } from "../../src/bank/conditions";
import { bankOf } from "../../src/bank/shot";
import { tableMap, type Corners } from "../../src/bank/projective";
import { DEGREE, INCH } from "../../src/bank/units";

export interface FilmOptions {
  /** Times of the frames, s; 60 a second for two seconds when missing. */
  readonly times?: readonly number[];
  /** When the ball is out of sight. */
  readonly hidden?: (time: number) => boolean;
}

export const SIZE = { width: 960, height: 540 };
export const CORNERS: Corners = [
  { x: 90, y: 480 },
  { x: 880, y: 450 },
  { x: 740, y: 90 },
  { x: 210, y: 100 },
];
const TABLE = { length: 100, width: 50 };
const RADIUS = STANDARD_BALL_DIAMETER.in / 2;
/** The contact: when, and where along the rail in in. */
export const CONTACT = { time: 0.4, at: 46 };
const ANGLE = 30 * DEGREE;
const SPEED = 2.4;

/**
 * The ball on the table, in, y from the banked rail's nose; it stays where it is half an inch before the rail opposite.
 */
const shot = (() => {
  const bank = bankOf({ speed: SPEED, angle: ANGLE, roll: 0.3, side: 0.2, swerve: 0 }, 1.2, DEFAULT_CONDITIONS);
  const run = runOnCloth(bank.offCushion, DEFAULT_CONDITIONS);
  const end = timeAtLine(run, -(TABLE.width - 2 * RADIUS - 0.5) * INCH);
  return { run, end };
})();

export function ballAt(time: number): { readonly x: number; readonly y: number } {
  const since = time - CONTACT.time;
  if (since < 0)
    return {
      x: CONTACT.at + (since * SPEED * Math.sin(ANGLE)) / INCH,
      y: RADIUS - (since * SPEED * Math.cos(ANGLE)) / INCH,
    };
  const { x, y } = positionAt(shot.run, Math.min(since, shot.end));
  return { x: CONTACT.at + x / INCH, y: RADIUS - y / INCH };
}

/** + short, in, from the chord between the contact and the place at a time: by looking at ten thousand places. */
export function bendUntil(last: number): number {
  const [from, to] = [ballAt(CONTACT.time), ballAt(last)];
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  let bend = 0;
  for (let i = 0; i <= 10_000; i++) {
    const { x, y } = ballAt(CONTACT.time + ((last - CONTACT.time) * i) / 10_000);
    const off = ((x - from.x) * (to.y - from.y) - (y - from.y) * (to.x - from.x)) / length;
    if (Math.abs(off) > Math.abs(bend)) bend = off;
  }
  return bend;
}

/** mph after the cushion. */
export const SPEED_AFTER = Math.hypot(shot.run.start.vx, shot.run.start.vy) / 0.44704;
/** When the ball is there, s. */
export const ARRIVAL = CONTACT.time + shot.end;

const map = tableMap(CORNERS, TABLE.length, TABLE.width)!;
export const pictureOf = (place: { readonly x: number; readonly y: number }) => map.toPicture(place);

/** Frames a second. */
export const RATE = 60;

/** The whole shot, which several tests film: it is drawn and encoded once. */
let whole: Promise<Buffer> | undefined;

/** A film as a file for a file picker. */
export async function filmedTable(
  page: Page,
  name: string,
  options?: FilmOptions,
): Promise<{ name: string; mimeType: string; buffer: Buffer }> {
  const buffer = await (options ? encoded(page, options) : (whole ??= encoded(page, {})));
  return { name, mimeType: "video/webm", buffer };
}

async function encoded(
  page: Page,
  { times = Array.from({ length: Math.ceil(ARRIVAL * RATE) }, (_, i) => i / RATE), hidden = () => false }: FilmOptions,
): Promise<Buffer> {
  const frames = times.map((time) => {
    const place = ballAt(time);
    const [at, along, away] = [place, { x: place.x + RADIUS, y: place.y }, { x: place.x, y: place.y + RADIUS }].map(
      pictureOf,
    );
    const radius = [Math.hypot(along.x - at.x, along.y - at.y), Math.hypot(away.x - at.x, away.y - at.y)];
    return {
      time,
      ball: hidden(time) ? undefined : { ...at, wide: radius[0], high: Math.max(radius[1], 0.8 * radius[0]) },
    };
  });
  const bytes = await page.evaluate(encodeFilm, { ...SIZE, corners: CORNERS, frames });
  return Buffer.from(bytes, "base64");
}

/** In the page: draws, encodes, and writes the file. @returns base64 */
async function encodeFilm({
  width,
  height,
  corners,
  frames,
}: {
  width: number;
  height: number;
  corners: readonly { x: number; y: number }[];
  frames: readonly { time: number; ball?: { x: number; y: number; wide: number; high: number } | undefined }[];
}): Promise<string> {
  const canvas = document.createElement("canvas");
  Object.assign(canvas, { width, height });
  const context = canvas.getContext("2d")!;
  const draw = (ball: (typeof frames)[number]["ball"]) => {
    context.fillStyle = "#4a3526";
    context.fillRect(0, 0, width, height);
    context.fillStyle = "#1f6b4a";
    context.beginPath();
    for (const { x, y } of corners) context.lineTo(x + 0.5, y + 0.5);
    context.fill();
    // Cloth is not of one colour all over.
    for (let i = 0; i < 60; i++) {
      context.fillStyle = `rgba(255,255,255,${0.01 + (0.03 * ((i * 7919) % 10)) / 10})`;
      context.fillRect((i * 193) % width, (i * 331) % height, 30, 18);
    }
    if (!ball) return;
    const { x, y, wide, high } = ball;
    context.fillStyle = "#f4efe2";
    context.beginPath();
    context.ellipse(x + 0.5, y + 0.5, wide, high, 0, 0, 2 * Math.PI);
    context.fill();
    context.fillStyle = "#c0392b";
    context.beginPath();
    context.ellipse(x + 0.5, y + 0.5, 0.45 * wide, 0.45 * high, 0, 0, 2 * Math.PI);
    context.fill();
  };
  const number = (value: number, bytes: number) =>
    Array.from({ length: bytes }, (_, i) => Math.floor(value / 256 ** (bytes - 1 - i)) % 256);
  const text = (value: string) => [...value].map((one) => one.charCodeAt(0));
  const element = (id: readonly number[], body: ArrayLike<number>) => [
    ...id,
    ...[0x01, ...number(body.length, 7)],
    ...Array.from(body),
  ];
  const open = (id: readonly number[]) => [...id, 0x01, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff];
  // Times in tenths of a millisecond.
  const scale = 1e-4;
  const parts: number[][] = [
    element(
      [0x1a, 0x45, 0xdf, 0xa3],
      [
        ...element([0x42, 0x86], [1]),
        ...element([0x42, 0xf7], [1]),
        ...element([0x42, 0xf2], [4]),
        ...element([0x42, 0xf3], [8]),
        ...element([0x42, 0x82], text("webm")),
        ...element([0x42, 0x87], [2]),
        ...element([0x42, 0x85], [2]),
      ],
    ),
    open([0x18, 0x53, 0x80, 0x67]),
    element(
      [0x15, 0x49, 0xa9, 0x66],
      [
        ...element([0x2a, 0xd7, 0xb1], number(scale * 1e9, 4)),
        ...element([0x4d, 0x80], text("test")),
        ...element([0x57, 0x41], text("test")),
      ],
    ),
    element(
      [0x16, 0x54, 0xae, 0x6b],
      element(
        [0xae],
        [
          ...element([0xd7], [1]),
          ...element([0x73, 0xc5], [1]),
          ...element([0x83], [1]),
          ...element([0x86], text("V_VP8")),
          ...element([0xe0], [...element([0xb0], number(width, 2)), ...element([0xba], number(height, 2))]),
        ],
      ),
    ),
  ];
  // Whoever looks for one frame decodes all since the last that stands by itself.
  const key = 4;
  let cluster = 0;
  const encoder = new VideoEncoder({
    error: (problem) => {
      throw problem;
    },
    output: (chunk) => {
      const bytes = new Uint8Array(chunk.byteLength);
      chunk.copyTo(bytes);
      const at = Math.round(chunk.timestamp / 1e6 / scale);
      if (chunk.type === "key") {
        cluster = at;
        parts.push([...open([0x1f, 0x43, 0xb6, 0x75]), ...element([0xe7], number(at, 4))]);
      }
      parts.push(element([0xa3], [0x81, ...number(at - cluster, 2), chunk.type === "key" ? 0x80 : 0, ...bytes]));
    },
  });
  encoder.configure({ codec: "vp8", width, height, bitrate: 8e6, framerate: 60 });
  for (const [i, { time, ball }] of frames.entries()) {
    draw(ball);
    const frame = new VideoFrame(canvas, { timestamp: Math.round(time * 1e6) });
    encoder.encode(frame, { keyFrame: i % key === 0 });
    frame.close();
    if (encoder.encodeQueueSize > 8) await new Promise((resolve) => setTimeout(resolve, 5));
  }
  await encoder.flush();
  let binary = "";
  for (const part of parts) for (const byte of part) binary += String.fromCharCode(byte);
  return btoa(binary);
}
