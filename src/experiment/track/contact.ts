/** Where in a track the ball touches the banked rail, and where the path after it ends. */
import type { Point } from "../../bank/pathClearance";
import { median } from "../../statistics/numeric/median";
import { there } from "../../there";

/** Points on each side of a possible contact that are looked at: few, because the path after it may curve. */
const CLOSE = 6;
/** Points that tell whether the ball comes back. */
const WINDOW = 9;
/** Of many frames more are looked at, because the ball moves so little between two that bad points rule a few. */
const CLOSE_SHARE = 1 / 20;
const WINDOW_SHARE = 1 / 12;
const FEWEST = 3;
/** A contact whose lines fit worse than another's by no more than this, in in, is one, too. */
const AS_GOOD = 0.75;
/** No cloth turns a ball faster than this, in in/s²: half of gravity. What turns faster met a rail or another ball. */
const TURNING = 193;
/** Share of its speed by which a ball's steady lines may differ besides. */
const SLACK = 0.3;

const timeOf = (times: readonly number[], i: number) => there(times[i], "a time for every point");

/**
 * A line that bad points cannot move: median of the slopes between all pairs (Theil 1950; Sen, J. Am. Stat. Assoc. 63
 * (1968) 1379).
 */
function steadyLine(times: readonly number[], values: readonly number[]) {
  const points = values.map((value, i) => ({ value, time: timeOf(times, i) }));
  const slopes: number[] = [];
  points.forEach((one, i) => {
    for (const earlier of points.slice(0, i)) slopes.push((earlier.value - one.value) / (earlier.time - one.time));
  });
  const slope = median(slopes);
  const level = median(points.map(({ value, time }) => value - slope * time));
  const off = median(points.map(({ value, time }) => Math.abs(value - level - slope * time)));
  return { slope, level, off };
}

/**
 * Index of the first point after the contact: where a ball that came nearer to the rail goes away from it, nearest to
 * the distance at which its centre touches. A track that begins after the contact gives 0.
 * Of several contacts it is the first.
 * @param nearest distance of the ball's centre from the nose at the contact
 * @returns undefined when the ball never goes away from the rail
 */
export function firstAfterContact(
  times: readonly number[],
  places: readonly Point[],
  nearest: number,
): number | undefined {
  const away = places.map(({ y }) => y);
  const close = Math.max(CLOSE, Math.round(CLOSE_SHARE * times.length));
  const found: { readonly index: number; readonly score: number }[] = [];
  for (let index = FEWEST; index <= times.length - FEWEST; index++) {
    const start = Math.max(0, index - close);
    const before = steadyLine(times.slice(start, index), away.slice(start, index));
    const after = steadyLine(times.slice(index, index + close), away.slice(index, index + close));
    if (!(before.slope < 0 && after.slope > 0)) continue;
    const turn = after.slope - before.slope;
    const when = (before.level - after.level) / turn;
    const [last, next] = [timeOf(times, index - 1), timeOf(times, index)];
    const outside = Math.max(0, last - when, when - next);
    if (outside > next - last) continue;
    const score = before.off + after.off + Math.abs(before.level + before.slope * when - nearest) + outside * turn;
    found.push({ index, score });
  }
  const least = Math.min(...found.map(({ score }) => score));
  const first = found.find(({ score }) => score <= least + AS_GOOD);
  if (first)
    return found
      .filter(({ index }) => index < first.index + close)
      .reduce((best, one) => (one.score < best.score ? one : best)).index;
  return steadyLine(times.slice(0, WINDOW), away.slice(0, WINDOW)).slope > 0 ? 0 : undefined;
}

/**
 * How many of the points after the contact belong to the way out: up to where the ball comes back, or where it turns
 * faster along the rail than cloth can turn it.
 */
export function wayOut(times: readonly number[], places: readonly Point[]): number {
  const away = places.map(({ y }) => y);
  const along = places.map(({ x }) => x);
  const window = Math.max(WINDOW, Math.round(WINDOW_SHARE * times.length));
  const slopeOf = (values: readonly number[], index: number) =>
    steadyLine(times.slice(index, index + window), values.slice(index, index + window)).slope;
  for (let index = FEWEST; index + window <= times.length; index++) {
    const out = slopeOf(away, index);
    const some = away.slice(index, index + window);
    if (out < 0) return index + some.indexOf(Math.max(...some));
    const before = index - window;
    if (before < 0) continue;
    const [slow, fast] = [slopeOf(along, before), slopeOf(along, index)];
    const apart = timeOf(times, index + (window >> 1)) - timeOf(times, before + (window >> 1));
    if (Math.abs(fast - slow) > TURNING * apart + SLACK * Math.hypot(slow, out)) return index;
  }
  return times.length;
}
