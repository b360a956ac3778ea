/** Where in a track the ball touches the banked rail, and where the path after it ends. */
import type { Point } from "../../bank/pathClearance";
import { median } from "../../statistics/numeric/median";
import { there } from "../../there";

/** Points on each side of a possible contact that are looked at. */
const WINDOW = 9;
const FEWEST = 3;

const timeOf = (times: readonly number[], i: number) => there(times[i], "a time for every point");

/**
 * A line that bad points cannot move: median of the slopes between all pairs (Theil 1950; Sen, J. Am. Stat. Assoc. 63
 * (1968) 1379).
 */
function steadyLine(times: readonly number[], values: readonly number[]) {
  const points = values.map((value, i) => ({ value, time: timeOf(times, i) }));
  const slopes = points.flatMap((one, i) =>
    points.slice(i + 1).map((later) => (later.value - one.value) / (later.time - one.time)),
  );
  const slope = median(slopes);
  const level = median(points.map(({ value, time }) => value - slope * time));
  const off = median(points.map(({ value, time }) => Math.abs(value - level - slope * time)));
  return { slope, level, off };
}

/**
 * Index of the first point after the contact: where a ball that came nearer to the rail goes away from it, nearest to
 * the distance at which its centre touches. A track that begins after the contact gives 0.
 * @param nearest distance of the ball's centre from the nose at the contact
 * @returns undefined when the ball never goes away from the rail
 */
export function firstAfterContact(
  times: readonly number[],
  places: readonly Point[],
  nearest: number,
): number | undefined {
  const away = places.map(({ y }) => y);
  let best: { index: number; score: number } | undefined;
  for (let index = FEWEST; index <= times.length - FEWEST; index++) {
    const start = Math.max(0, index - WINDOW);
    const before = steadyLine(times.slice(start, index), away.slice(start, index));
    const after = steadyLine(times.slice(index, index + WINDOW), away.slice(index, index + WINDOW));
    if (!(before.slope < 0 && after.slope > 0)) continue;
    const when = (before.level - after.level) / (after.slope - before.slope);
    const [last, next] = [timeOf(times, index - 1), timeOf(times, index)];
    const room = next - last;
    if (when < last - room || when > next + room) continue;
    const score = before.off + after.off + Math.abs(before.level + before.slope * when - nearest);
    if (!best || score < best.score) best = { index, score };
  }
  if (best) return best.index;
  return steadyLine(times.slice(0, WINDOW), away.slice(0, WINDOW)).slope > 0 ? 0 : undefined;
}

/** How many of the points after the contact belong to the way out: up to where the ball comes back. */
export function wayOut(times: readonly number[], places: readonly Point[]): number {
  const away = places.map(({ y }) => y);
  for (let index = FEWEST; index + WINDOW <= times.length; index++) {
    const slope = steadyLine(times.slice(index, index + WINDOW), away.slice(index, index + WINDOW)).slope;
    if (slope < 0)
      return index + away.slice(index, index + WINDOW).indexOf(Math.max(...away.slice(index, index + WINDOW)));
  }
  return times.length;
}
