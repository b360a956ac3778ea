/** What the Video view keeps with the workbook: marks, sizes and the ball's places; never the film. SI, pixels. */
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import type { Point } from "../../bank/pathClearance";
import type { Rail } from "../../bank/tableShape";
import { INCH } from "../../bank/units";
import { asRecord } from "../language/keptObject";
import type { Setup } from "../setup/setup";
import { USUAL_CORNER_ERROR } from "../track/picturedTable";

/** The ball in one frame. */
export interface FilmPoint extends Point {
  /** Of the frame, by the film's own clock, s. */
  readonly time: number;
}

export interface VideoForm {
  readonly units: "us" | "si";
  /** Playing surface, nose to nose: along the banked rail and away from it, m; the set-up's, as is the ball. */
  readonly railLength: number;
  readonly tableWidth: number;
  readonly ballDiameter: number;
  /** Where the playing surface's corners are seen, as many as are marked, in the order of CORNERS; pixels. */
  readonly corners: readonly Point[];
  /** Standard uncertainty of a corner each way, pixels of the film. */
  readonly cornerError: number;
  /** Where the two ends of the check length are seen. */
  readonly check: readonly Point[];
  readonly checkLength: number;
  /** Frames a second at which the camera filmed; 0 for as the file plays. */
  readonly filmedAt: number;
  /** Frames a second of the file, where the browser does not tell when its frames are. */
  readonly fileRate: number;
  /** Frames a second of the film that the places are of, as frames were seen to follow each other; 0: unknown. */
  readonly seenRate: number;
  /** Whether the shot was filmed in both views; a film does not know. */
  readonly bothViews: "" | "yes" | "no";
  /** The film that the ball's places are of. */
  readonly film: FilmName | undefined;
  readonly points: readonly FilmPoint[];
}

export interface FilmName {
  readonly name: string;
  /** In bytes, so that another film of the same name is told apart. */
  readonly size: number;
}

/** The corners in the order in which they are marked. */
export const CORNERS = [
  "banked rail, left end",
  "banked rail, right end",
  "rail opposite, right end",
  "rail opposite, left end",
] as const;

export const FIRST_VIDEO: VideoForm = {
  units: "us",
  railLength: 100 * INCH,
  tableWidth: 50 * INCH,
  ballDiameter: STANDARD_BALL_DIAMETER.mm / 1000,
  corners: [],
  cornerError: USUAL_CORNER_ERROR,
  check: [],
  checkLength: 25 * INCH,
  filmedAt: 0,
  fileRate: 30,
  seenRate: 0,
  bothViews: "",
  film: undefined,
  points: [],
};

/** More places than this are not kept. */
const MOST = 5000;

/** Reads a kept form; what is missing or of the wrong kind is the usual. */
export function parseVideo(raw: unknown): VideoForm {
  const given = asRecord(raw);
  const size = (name: "railLength" | "tableWidth" | "ballDiameter" | "checkLength" | "fileRate") =>
    isAbove(given[name], 0) ? given[name] : FIRST_VIDEO[name];
  const film = asRecord(given["film"]);
  return {
    units: given["units"] === "si" ? "si" : "us",
    railLength: size("railLength"),
    tableWidth: size("tableWidth"),
    ballDiameter: size("ballDiameter"),
    corners: pointsIn(given["corners"]).slice(0, CORNERS.length),
    cornerError: isAbove(given["cornerError"], -Number.MIN_VALUE) ? given["cornerError"] : USUAL_CORNER_ERROR,
    check: pointsIn(given["check"]).slice(0, 2),
    checkLength: size("checkLength"),
    filmedAt: isAbove(given["filmedAt"], 0) ? given["filmedAt"] : 0,
    fileRate: size("fileRate"),
    seenRate: isAbove(given["seenRate"], 0) ? given["seenRate"] : 0,
    bothViews: given["bothViews"] === "yes" || given["bothViews"] === "no" ? given["bothViews"] : "",
    film:
      typeof film["name"] === "string" && isAbove(film["size"], -1)
        ? { name: film["name"], size: film["size"] }
        : undefined,
    points: (Array.isArray(given["points"]) ? given["points"] : []).slice(0, MOST).flatMap((one): FilmPoint[] => {
      const { time, x, y } = asRecord(one);
      return isNumber(time) && isNumber(x) && isNumber(y) ? [{ time, x, y }] : [];
    }),
  };
}

/** The form with what the set-up says: units, table and ball; the banked rail stays the long or the short one. */
export function videoOfSetup(form: VideoForm, { units, length, breadth, ballDiameter }: Setup): VideoForm {
  return bankedFrom(form.railLength >= form.tableWidth ? "long" : "short", {
    ...form,
    units,
    railLength: length.value,
    tableWidth: breadth.value,
    ballDiameter: ballDiameter.value,
  });
}

/** The form with the table turned so that the banked rail is its long or its short one. */
export function bankedFrom(rail: Rail, form: VideoForm): VideoForm {
  const [short, long] = [form.railLength, form.tableWidth].sort((a, b) => a - b) as [number, number];
  return { ...form, railLength: rail === "long" ? long : short, tableWidth: rail === "long" ? short : long };
}

function pointsIn(raw: unknown): Point[] {
  return (Array.isArray(raw) ? raw : []).flatMap((one): Point[] => {
    const { x, y } = asRecord(one);
    return isNumber(x) && isNumber(y) ? [{ x, y }] : [];
  });
}

const isNumber = (value: unknown): value is number => typeof value === "number" && Number.isFinite(value);
const isAbove = (value: unknown, least: number): value is number => isNumber(value) && value > least;

/** The form with the ball at a place in a frame; what was there in that frame is replaced. */
export function withPoint(form: VideoForm, point: FilmPoint): VideoForm {
  const others = form.points.filter(({ time }) => !isSameFrame(time, point.time));
  return { ...form, points: [...others, point].sort((a, b) => a.time - b.time) };
}

/** Frames of no film are closer together than this. */
const SAME = 5e-4;

export function isSameFrame(one: number, other: number): boolean {
  return Math.abs(one - other) < SAME;
}

/** Whether the kept places are those of this film. */
export function isOfFilm({ film }: VideoForm, { name, size }: FilmName): boolean {
  return film?.name === name && film.size === size;
}
