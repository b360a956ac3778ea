/**
 * Which points of a track are good ones: parabolas through three points drawn by lot, the one with the smallest median
 * distance (least median of squares; Rousseeuw, J. Am. Stat. Assoc. 79 (1984) 871), which up to half of bad points cannot move.
 */
import type { Point } from "../../bank/pathClearance";
import { drawer } from "../../statistics/numeric/drawer";
import { median } from "../../statistics/numeric/median";

const DRAWS = 400;
/** The same track gives the same answer. */
const SEED = 20261127;
/** Squared distance of each point from the parabola in time that suits most of them. */
export function distancesFromParabola(times: readonly number[], places: readonly Point[]): number[] {
  const draw = drawer(SEED);
  let best: number[] = [];
  let least = Infinity;
  for (let round = 0; round < DRAWS; round++) {
    const three = drawnThree(times.length, draw);
    const x = through(
      three,
      times,
      places.map((place) => place.x),
    );
    const y = through(
      three,
      times,
      places.map((place) => place.y),
    );
    const distances = places.map((place, i) => (place.x - x(times[i])) ** 2 + (place.y - y(times[i])) ** 2);
    const middle = median(distances);
    if (middle < least) {
      least = middle;
      best = distances;
    }
  }
  return best;
}

/** Three different places in the list, one from each third: far apart, so that the parabola is steady. */
function drawnThree(count: number, draw: (limit: number) => number): [number, number, number] {
  const third = Math.max(1, Math.floor(count / 3));
  return [draw(third), third + draw(third), 2 * third + draw(count - 2 * third)];
}

/** The parabola through three points (Lagrange). */
function through([i, j, k]: readonly [number, number, number], times: readonly number[], values: readonly number[]) {
  const [a, b, c] = [times[i], times[j], times[k]];
  return (time: number) =>
    (values[i] * (time - b) * (time - c)) / ((a - b) * (a - c)) +
    (values[j] * (time - a) * (time - c)) / ((b - a) * (b - c)) +
    (values[k] * (time - a) * (time - b)) / ((c - a) * (c - b));
}
