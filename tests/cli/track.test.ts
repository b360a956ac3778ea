/**
 * bendbook track as people call it: films with a known bend, on the table and in a picture, and files that are wrong.
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { tableMap, type Corners } from "../../src/bank/projective";
import { randomOf } from "../../src/statistics/numeric/drawer";
import { commandLine } from "./commandLine";

let folder: string;
const bendbook = commandLine(() => folder);
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "bendbook-track-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const RADIUS = 1.125;
const CONTACT = 0.31;
/** Bows to the far side for 0.35 s, then rolls straight at 220 frames a second. */
const at = (time: number) => {
  const since = time - CONTACT;
  if (since < 0) return { x: 40 + 35 * since, y: RADIUS - 80 * since };
  const slip = Math.min(since, 0.35);
  const rolled = Math.max(0, since - 0.35);
  return {
    x: 40 + 38 * slip - 35 * slip * slip + rolled * (38 - 70 * 0.35),
    y: RADIUS + 70 * slip - 15 * slip * slip + rolled * (70 - 30 * 0.35),
  };
};
const RATE = 240;
const FRAMES = Array.from({ length: 190 }, (_, frame) => frame);
const LAST = FRAMES[FRAMES.length - 1] / RATE;

/** Largest distance from the chord, looked for in ten thousand places: no formula of the program's. */
const truth = (() => {
  const [from, to] = [at(CONTACT), at(LAST)];
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  return Math.max(
    ...Array.from({ length: 10_000 }, (_, i) => {
      const { x, y } = at(CONTACT + ((LAST - CONTACT) * i) / 10_000);
      return ((x - from.x) * (to.y - from.y) - (y - from.y) * (to.x - from.x)) / length;
    }),
  );
})();

const CORNERS: Corners = [
  { x: 120, y: 640 },
  { x: 1180, y: 600 },
  { x: 980, y: 180 },
  { x: 300, y: 200 },
];

interface Film {
  readonly scatter: number;
  readonly mirrored?: boolean;
  readonly picture?: boolean;
  readonly bad?: boolean;
}

function film(name: string, { scatter, mirrored = false, picture = false, bad = false }: Film): string {
  const random = randomOf(5);
  const map = tableMap(CORNERS, 100, 50);
  const rows = FRAMES.map((frame) => {
    if (frame % 17 === 3) return `${frame},,`;
    const place = at(frame / RATE);
    const astray = bad && frame % 11 === 5 ? 1.5 : 0;
    const x = (mirrored ? 100 - place.x : place.x) + scatter * random.normal() + astray;
    const y = place.y + scatter * random.normal();
    const seen = picture && map ? map.toPicture({ x, y }) : { x, y };
    return `${frame},${seen.x},${seen.y}`;
  });
  const path = join(folder, name);
  writeFileSync(path, ["frame,x,y", ...rows].join("\n"));
  return path;
}

const track = (path: string, ...more: string[]) => {
  const { status, out, err } = bendbook("track", path, "--frames-per-second", String(RATE), "--json", ...more);
  expect(err).toBe("");
  expect(status).toBe(0);
  return JSON.parse(out) as Record<string, number>;
};

describe("track", () => {
  it("gives back a perfect film's bend, angles, speed and contact", () => {
    const found = track(film("perfect.csv", { scatter: 0 }));
    expect(Object.keys(found)).toEqual([
      "bend",
      "standardError",
      "low",
      "high",
      "departureAngle",
      "arrivalAngle",
      "speedAfterCushion",
      "cushionAt",
      "pointsUsed",
      "pointsLeftOut",
    ]);
    expect(found["bend"]).toBeCloseTo(truth, 3);
    expect(found["standardError"]).toBeLessThan(0.002);
    expect(found["cushionAt"]).toBeCloseTo(40, 2);
    expect(found["departureAngle"]).toBeCloseTo((Math.atan2(38, 70) * 180) / Math.PI, 1);
    expect(found["arrivalAngle"]).toBeCloseTo((Math.atan2(38 - 24.5, 70 - 10.5) * 180) / Math.PI, 1);
    expect(found["speedAfterCushion"]).toBeCloseTo(Math.hypot(38, 70) / 17.6, 1);
    expect(found["pointsLeftOut"]).toBe(0);
  });

  it("covers the bend through scatter, bad points and missing frames, and leaves the bad ones out", () => {
    const found = track(film("bad.csv", { scatter: 0.03, bad: true }));
    expect(found["low"]).toBeLessThan(truth);
    expect(found["high"]).toBeGreaterThan(truth);
    expect(found["high"] - found["low"]).toBeLessThan(0.1);
    const after = FRAMES.filter((frame) => frame / RATE > CONTACT && frame % 17 !== 3);
    expect(found["pointsLeftOut"]).toBe(after.filter((frame) => frame % 11 === 5).length);
    expect(found["pointsUsed"] + found["pointsLeftOut"]).toBe(after.length);
  });

  it("needs no rate for times, and takes the first of two contacts", () => {
    const text = (head: string, when: (frame: number) => number, y: (frame: number) => number) =>
      [head, ...FRAMES.map((frame) => `${when(frame)},${at(frame / RATE).x},${y(frame)}`)].join("\n");
    const plain = (frame: number) => at(frame / RATE).y;
    const timed = bendbook(
      "track",
      written(
        "timed.csv",
        text("time,x,y", (frame) => frame / RATE, plain),
      ),
      "--json",
    );
    expect(JSON.parse(timed.out)).toEqual(
      track(
        written(
          "framed.csv",
          text("frame,x,y", (frame) => frame, plain),
        ),
      ),
    );
    const { status, err } = bendbook("track", join(folder, "framed.csv"));
    expect([status, err]).toEqual([1, expect.stringMatching(/frames and no times: give --frames-per-second/)]);
    // Back from 35 in and to the rail again.
    const folded = (y: number) => {
      const round = (((y - RADIUS) % 40) + 40) % 40;
      return RADIUS + (round > 20 ? 40 - round : round);
    };
    const twice = track(
      written(
        "twice.csv",
        text(
          "frame,x,y",
          (frame) => frame,
          (frame) => folded(plain(frame)),
        ),
      ),
    );
    expect(twice["cushionAt"]).toBeCloseTo(40, 1);
    const { out } = bendbook("track", join(folder, "twice.csv"), "--frames-per-second", "240");
    expect(out).toMatch(/ends where the ball comes back or meets something else: \d+ later points are not used/);
    expect(bendbook("track", join(folder, "framed.csv"), "--frames-per-second", "9000").out).toMatch(
      /is hardly a ball's speed after a cushion: look whether the frames per second/,
    );
  });

  it("does not care which way along the rail the ball goes", () => {
    const [one, other] = [
      track(film("one.csv", { scatter: 0 })),
      track(film("other.csv", { scatter: 0, mirrored: true })),
    ];
    expect(other["bend"]).toBeCloseTo(one["bend"], 6);
    expect(other["departureAngle"]).toBeCloseTo(one["departureAngle"], 6);
    expect(other["cushionAt"]).toBeCloseTo(100 - one["cushionAt"], 6);
  });

  it("flattens a picture by its corners", () => {
    const corners = CORNERS.map(({ x, y }) => `${x},${y}`).join(" ");
    const flat = track(film("table.csv", { scatter: 0 }));
    const seen = track(film("picture.csv", { scatter: 0, picture: true }), "--corners", corners, "--table", "100x50");
    for (const name of ["bend", "cushionAt", "speedAfterCushion"]) expect(seen[name]).toBeCloseTo(flat[name], 3);
    // The picture weighs near places more than far ones, and what is known of slowing beforehand against both: the path
    // may differ by the hundred-thousandth of the track below which scatter is rounding, or 0.001 of a degree.
    expect(seen["departureAngle"]).toBeCloseTo(flat["departureAngle"], 2);
  });

  it("holds what a hand misses of the corners, and says so", () => {
    const corners = CORNERS.map(({ x, y }) => `${x},${y}`).join(" ");
    const path = film("clicked.csv", { scatter: 0.01, picture: true });
    const options = ["--corners", corners, "--table", "100x50"];
    const [exact, usual, rough] = [["--corner-error", "0"], [], ["--corner-error", "4"]].map(
      (more) => track(path, ...options, ...more)["standardError"],
    );
    expect(exact).toBeLessThan(usual);
    expect(usual).toBeLessThan(rough);
    const { out } = bendbook("track", path, "--frames-per-second", String(RATE), ...options);
    expect(out).toMatch(/marked within 1\.5 pixels each way \(standard uncertainty\); that alone makes 0\.0\d+ in of/);
  });

  it("says it in words with units, and which bend it is", () => {
    const { out } = bendbook("track", film("words.csv", { scatter: 0.03 }), "--frames-per-second", "240");
    expect(out).toMatch(/bends \d\.\d+ in short .* 95 % interval \d\.\d+ to \d\.\d+ in/);
    expect(out).toMatch(/mph after the cushion/);
    expect(out).toContain("not the bend that the layout asked for");
  });

  const written = (name: string, text: string) => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };
  it.each([
    ["no y", "frame,x\n1,2\n", /no column is headed y; row 1 has "frame", "x"/],
    ["a word", "frame,x,y\n1,2,3\n2,left,4\n", /row 3: x is "left"\. Give a number/],
    ["half a point", "frame,x,y\n1,2,3\n2,4,\n", /row 3 has no y/],
    ["a frame twice", "frame,x,y\n1,2,3\n1,4,5\n", /rows 2 and 3 are both frame 1/],
    [
      "times of another rate",
      `time,x,y\n${FRAMES.map((frame) => `${frame / 240},${frame},1`).join("\n")}\n`,
      /the times in .* are 240 a second/,
    ],
    ["too few", "frame,x,y\n1,2,3\n2,4,5\n3,6,7\n4,7,8\n5,8,9\n6,9,10\n", /too few: 8 are needed/],
    [
      "a ball that never goes away",
      `frame,x,y\n${FRAMES.map((frame) => `${frame},${frame},${40 - 0.2 * frame}`).join("\n")}\n`,
      /never goes away from the banked rail/,
    ],
  ])("%s is told with its row and the mend", (name, text, said) => {
    const { status, err } = bendbook("track", written(`${name}.csv`, text), "--frames-per-second", "60");
    expect(err).toMatch(said);
    expect(status).toBe(1);
  });

  it.each([
    [["--frames-per-second", "0"], /--frames-per-second is "0"/],
    [["--frames-per-second", "60", "--corners", "1,2 3,4"], /--corners and --table go together/],
    [["--frames-per-second", "60", "--corners", "1,2 3,4", "--table", "100x50"], /has 2 points: give four/],
    [["--frames-per-second", "60", "--corners", "0,0 9,5 9,0 0,5", "--table", "100x50"], /do not go around/],
    [["--frames-per-second", "60", "--corners", "0,0 9,0 9,5 0,5", "--table", "100"], /--table is "100"/],
    [["--frames-per-second", "60", "--corner-error", "2"], /--corner-error is of the corners/],
    [
      ["--frames-per-second", "60", "--corners", "0,0 9,0 9,5 0,5", "--table", "100x50", "--corner-error", "-1"],
      /--corner-error is "-1"/,
    ],
  ])("%j is not understood", (options, said) => {
    const { status, err } = bendbook("track", join(folder, "perfect.csv"), ...options);
    expect(err).toMatch(said);
    expect(status).toBe(2);
  });
});
