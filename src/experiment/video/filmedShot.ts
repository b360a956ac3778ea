/** What a film tells: its map and how far that is off, the path on the table, the bend. */
import { tableMap, type ProjectiveMap } from "../../bank/projective";
import type { Point } from "../../bank/pathClearance";
import { INCH } from "../../bank/units";
import { trackedShot, TrackProblem, type TrackedShot } from "../track/trackedShot";
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

const CONFIDENCE = 0.95;

/** @param fileRate frames a second of the file, where it is known */
export function filmedShot(form: VideoForm, fileRate: number | undefined): FilmedShot {
  const [a, b, c, d] = form.corners;
  const map = a && b && c && d ? tableMap([a, b, c, d], form.railLength / INCH, form.tableWidth / INCH) : undefined;
  if (!map) return { map, path: [], checked: undefined, shot: undefined, wanted: cornersWanted(form) };
  const path = form.points.map((point) => map.toTable(point));
  const checked = checkLengthOf(form, map);
  const slowed = form.filmedAt > 0 && fileRate !== undefined ? fileRate / form.filmedAt : 1;
  if (form.points.length === 0)
    return { map, path, checked, shot: undefined, wanted: "Mark the ball in a frame before the contact." };
  try {
    const points = form.points.map(({ time, x, y }) => ({ time: time * slowed, seen: { x, y } }));
    const shot = trackedShot(points, { map, nearest: form.ballDiameter / 2 / INCH, confidence: CONFIDENCE });
    return { map, path, checked, shot: { ...shot, contactTime: shot.contactTime / slowed }, wanted: undefined };
  } catch (problem) {
    if (!(problem instanceof TrackProblem)) throw problem;
    return { map, path, checked, shot: undefined, wanted: `No bend yet: ${problem.message}` };
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
