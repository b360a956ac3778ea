/**
 * What clicked corners make of a bend's uncertainty. The path in the picture is what was seen, and stays; the table
 * under it moves with each corner. So the fitted path is shown in the picture, taken back to the table through each map
 * with a corner moved, and its bend taken there, from where it touches the cushion in that map; the eight changes add
 * up as squares (JCGM 100:2008, 5.1.2, numerically).
 */
import type { Point } from "../../bank/pathClearance";
import type { ProjectiveMap } from "../../bank/projective";
import { there } from "../../there";
import { contactOf, courseOf, type TrackMotion } from "./motion";
import type { PicturedTable } from "./picturedTable";

const PIECES = 200;
/** The path is followed this share of its time back beyond the contact, because a moved corner moves the contact. */
const BEYOND = 0.1;

export interface PathEnds {
  /** Distance of the ball's centre from the nose at the contact, in. */
  readonly nearest: number;
  /** Time of the last point, s. */
  readonly last: number;
  /** 1 when the ball goes to larger x along the rail, −1 when to smaller. */
  readonly forward: 1 | -1;
}

/** Standard uncertainty of the bend that the corners make, in. */
export function cornersPart({ map, moved }: PicturedTable, motion: TrackMotion, ends: PathEnds): number {
  const seen = pictured(map, motion, ends);
  const bend = (other: ProjectiveMap) => bendOfPlaces(seen.map(other.toTable), ends);
  return Math.sqrt(moved.reduce((sum, [back, on]) => sum + ((bend(on) - bend(back)) / 2) ** 2, 0));
}

/** The path in the picture, from a little before the contact to the last point. */
function pictured(map: ProjectiveMap, motion: TrackMotion, { nearest, last }: PathEnds): Point[] {
  const { when } = contactOf(motion, nearest);
  const placeAt = courseOf(motion);
  const from = when - BEYOND * (last - when);
  return Array.from({ length: PIECES + 1 }, (_, i) => map.toPicture(placeAt(from + ((last - from) * i) / PIECES)));
}

/** Largest distance from the chord that begins where the places pass the contact; + short. */
function bendOfPlaces(places: readonly Point[], { nearest, forward }: PathEnds): number {
  const after = Math.max(
    1,
    places.findIndex(({ y }) => y >= nearest),
  );
  const [before, first] = [there(places[after - 1], "a place before"), there(places[after], "a place after")];
  const share = first.y > before.y ? (nearest - before.y) / (first.y - before.y) : 0;
  const from = { x: before.x + share * (first.x - before.x), y: before.y + share * (first.y - before.y) };
  const to = there(places.at(-1), "a last place");
  const [cx, cy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(cx, cy);
  const off = places.slice(after).map(({ x, y }) => ((x - from.x) * cy - (y - from.y) * cx) / length);
  return forward * off.reduce((most, one) => (Math.abs(one) > Math.abs(most) ? one : most), 0);
}
