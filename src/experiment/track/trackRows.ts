/** A track as rows: frame or time, x, y, as a film's reader or a program that follows a ball writes them. */
import { median } from "../../statistics/numeric/median";
import type { CellValue } from "../../workbook/book";
import type { SeenPoint } from "./fitMotion";

export interface TrackRows {
  readonly points: readonly SeenPoint[];
  /** Whether the rows have times of their own, and how many a second. */
  readonly ownRate: number | undefined;
  /** Rows in which the ball was not seen: a frame without x and y. */
  readonly unseen: number;
}

/** What is wrong with a track's rows; the message names the cell, the value and the mend. */
export class TrackRowProblem extends Error {}

const TIME = /^(time|t|seconds|second|s|sec)( \(s\))?$/;
const FRAME = /^(frame|frames|frame number)$/;

interface Columns {
  readonly when: number;
  readonly x: number;
  readonly y: number;
  readonly inSeconds: boolean | undefined;
  /** Rows above the first point. */
  readonly heads: number;
}

/** Which columns hold what: by their headings, or the first three where there are none. */
function columnsOf(rows: readonly (readonly CellValue[])[]): Columns {
  const head = rows[0] ?? [];
  if (!head.some((cell) => typeof cell === "string")) return { when: 0, x: 1, y: 2, inSeconds: undefined, heads: 0 };
  const names = head.map((cell) =>
    String(cell ?? "")
      .trim()
      .toLowerCase(),
  );
  const find = (test: (name: string) => boolean) => names.findIndex(test);
  const frame = find((name) => FRAME.test(name));
  const time = find((name) => TIME.test(name));
  const x = find((name) => /^x\b/.test(name));
  const y = find((name) => /^y\b/.test(name));
  const missing = [
    ...(frame < 0 && time < 0 ? ["frame or time"] : []),
    ...(x < 0 ? ["x"] : []),
    ...(y < 0 ? ["y"] : []),
  ];
  if (missing.length > 0)
    throw new TrackRowProblem(
      `no column is headed ${missing.join(", ")}; row 1 has ${names
        .filter((name) => name !== "")
        .map((name) => `"${name}"`)
        .join(", ")}. Head the columns frame (or time), x, y.`,
    );
  return { when: frame >= 0 ? frame : time, x, y, inSeconds: frame < 0, heads: 1 };
}

/**
 * @param rows cells as the file has them, the first row's headings among them
 * @param framesPerSecond of the film; times in s need none
 * @throws TrackRowProblem
 */
export function trackRows(rows: readonly (readonly CellValue[])[], framesPerSecond: number | undefined): TrackRows {
  const columns = columnsOf(rows);
  const found: { row: number; when: number; x: number; y: number }[] = [];
  let unseen = 0;
  rows.slice(columns.heads).forEach((cells, i) => {
    const row = i + columns.heads + 1;
    const when = blankAsNull(cells[columns.when]);
    const x = blankAsNull(cells[columns.x]);
    const y = blankAsNull(cells[columns.y]);
    if (when === null && x === null && y === null) return;
    if (when !== null && x === null && y === null) {
      unseen += 1;
      return;
    }
    found.push({ row, when: numberIn(when, row, "frame or time"), x: numberIn(x, row, "x"), y: numberIn(y, row, "y") });
  });
  const frames = !(columns.inSeconds ?? !found.every(({ when }) => Number.isInteger(when)));
  const sorted = [...found].sort((a, b) => a.when - b.when);
  sorted.forEach(({ when, row }, i) => {
    const before = sorted[i - 1];
    if (before && before.when === when)
      throw new TrackRowProblem(
        `rows ${before.row} and ${row} are both ${frames ? `frame ${when}` : `at ${when} s`}: a ball is in one place at a time. Take one of them out.`,
      );
  });
  if (frames && framesPerSecond === undefined)
    throw new TrackRowProblem(
      "the rows have frames and no times: give --frames-per-second F, the film's own rate, such as 240.",
    );
  const step = frames ? (framesPerSecond ?? 1) : 1;
  const points = sorted.map(({ when, x, y }) => ({ time: when / step, seen: { x, y } }));
  const steps = points.slice(1).map(({ time }, i) => time - (points[i]?.time ?? time));
  return { points, unseen, ownRate: frames || steps.length === 0 ? undefined : 1 / median(steps) };
}

const blankAsNull = (cell: CellValue | undefined) =>
  cell === undefined || (typeof cell === "string" && cell.trim() === "") ? null : cell;

function numberIn(cell: CellValue, row: number, name: string): number {
  if (typeof cell === "number" && Number.isFinite(cell)) return cell;
  throw new TrackRowProblem(
    cell === null
      ? `row ${row} has no ${name}: give it, or leave x and y of that frame both blank.`
      : `row ${row}: ${name} is "${typeof cell === "object" ? cell.error : String(cell)}". Give a number.`,
  );
}
