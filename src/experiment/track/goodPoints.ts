/**
 * Which points of a track are good ones: parabolas through three points drawn by lot, the one with the smallest median
 * distance (least median of squares; Rousseeuw, J. Am. Stat. Assoc. 79 (1984) 871), which up to half of bad points
 * cannot move.
 */
import type { Point } from "../../bank/pathClearance";
import { drawer } from "../../statistics/numeric/drawer";
import { median } from "../../statistics/numeric/median";
import { there } from "../../there";

const DRAWS = 400;
/** The same track gives the same answer. */
const SEED = 20261127;
/** Squared distance of each point from the parabola in time that suits most of them. */
export function distancesFromParabola(times: readonly number[], places: readonly Point[]): number[] {
  const draw = drawer(SEED);
  const points = places.map(({ x, y }, i): Timed => ({ time: there(times[i], "a time for every place"), x, y }));
  let best: number[] = [];
  let least = Infinity;
  for (let round = 0; round < DRAWS; round++) {
    const three = drawnThree(points, draw);
    const x = through(three, (point) => point.x);
    const y = through(three, (point) => point.y);
    const distances = new Float64Array(points.length);
    let nearer = 0;
    points.forEach((point, i) => {
      const distance = (point.x - x(point.time)) ** 2 + (point.y - y(point.time)) ** 2;
      distances[i] = distance;
      if (distance < least) nearer++;
    });
    if (2 * nearer < points.length) continue;
    const middle = median(distances);
    if (middle < least) {
      least = middle;
      best = Array.from(distances);
    }
  }
  return best;
}

interface Timed extends Point {
  readonly time: number;
}

type Three = readonly [Timed, Timed, Timed];

/** Three different points, one from each third: far apart, so that the parabola is steady. */
function drawnThree(points: readonly Timed[], draw: (limit: number) => number): Three {
  const third = Math.max(1, Math.floor(points.length / 3));
  const drawn = (from: number, count: number) => there(points[from + draw(count)], "a point that was drawn");
  return [drawn(0, third), drawn(third, third), drawn(2 * third, points.length - 2 * third)];
}

/** The parabola through three points (Lagrange). */
function through([one, two, three]: Three, valueOf: (point: Timed) => number) {
  const [a, b, c] = [one.time, two.time, three.time];
  const [first, second, third] = [valueOf(one), valueOf(two), valueOf(three)];
  return (time: number) =>
    (first * (time - b) * (time - c)) / ((a - b) * (a - c)) +
    (second * (time - a) * (time - c)) / ((b - a) * (b - c)) +
    (third * (time - a) * (time - b)) / ((c - a) * (c - b));
}
