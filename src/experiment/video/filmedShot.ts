/** What a film tells: its map and how far that is off, the path on the table, the bend. */
import type { ProjectiveMap } from "../../bank/projective";
import type { Point } from "../../bank/pathClearance";
import { INCH } from "../../bank/units";
import { picturedTable } from "../track/picturedTable";
import { trackedShot, type TrackedShot } from "../track/trackedShot";
import { TrackProblem } from "../track/trackProblem";
import { slownessOf } from "./filmTime";
import { CORNERS, type VideoForm } from "./videoForm";

export interface FilmedShot {
  /** Undefined until four corners stand around a quadrangle. */
  readonly map: ProjectiveMap | undefined;
  /** The ball's places on the table, in, in the order of time; y from the banked rail's nose. */
  readonly path: readonly Point[];
  /** The check length as the map has it, m; undefined until both of its ends are marked. */
  readonly checked: number | undefined;
  readonly shot: TrackedShot | undefined;
  /** What is missing or wrong, as a sentence; undefined where there is a bend. */
  readonly wanted: string | undefined;
}

/** @param confidence of the interval */
export function filmedShot(form: VideoForm, confidence: number): FilmedShot {
  const [a, b, c, d] = form.corners;
  const [length, width] = [form.railLength / INCH, form.tableWidth / INCH];
  const table = a && b && c && d ? picturedTable([a, b, c, d], length, width, form.cornerError) : undefined;
  if (!table) return { map: undefined, path: [], checked: undefined, shot: undefined, wanted: cornersWanted(form) };
  const { map } = table;
  const known = { map, path: form.points.map((point) => map.toTable(point)), checked: checkLengthOf(form, map) };
  if (form.points.length === 0)
    return { ...known, shot: undefined, wanted: "Mark the ball in a frame before the contact." };
  const slowness = slownessOf(form);
  try {
    const points = form.points.map(({ time, x, y }) => ({ time: time / slowness, seen: { x, y } }));
    const shot = trackedShot(points, { table, nearest: form.ballDiameter / 2 / INCH, confidence });
    return { ...known, shot: { ...shot, contactTime: shot.contactTime * slowness }, wanted: undefined };
  } catch (problem) {
    if (!(problem instanceof TrackProblem)) throw problem;
    return { ...known, shot: undefined, wanted: `No bend yet: ${problem.message}` };
  }
}

function cornersWanted({ corners }: VideoForm): string {
  const next = CORNERS[corners.length];
  return next === undefined
    ? "The corners do not go around the playing surface: mark the banked rail's left and right end, then the right and left end of the rail opposite."
    : `Mark the corners of the playing surface, ${corners.length} of 4 so far. Next: ${next}.`;
}

function checkLengthOf({ check: [from, to] }: VideoForm, map: ProjectiveMap): number | undefined {
  if (!from || !to) return undefined;
  const [one, other] = [map.toTable(from), map.toTable(to)];
  return Math.hypot(other.x - one.x, other.y - one.y) * INCH;
}
