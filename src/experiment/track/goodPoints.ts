/**
 * Which points of a track are good ones, roughly: paths through three points drawn by lot, for several ends of the
 * slip. First the scatter, from the smallest median distance of all (least median of squares; Rousseeuw, J. Am. Stat.
 * Assoc. 79 (1984) 871), which up to half of bad points cannot move; then the path with the smallest sum of squared
 * distances of which none counts more than a few times the scatter. The median alone does not do: where the slip ends
 * early most points lie on the straight part, and those before it look like bad ones.
 */
import type { Point } from "../../bank/pathClearance";
import { drawer } from "../../statistics/numeric/drawer";
import { median } from "../../statistics/numeric/median";
import { there } from "../../there";

const DRAWS = 60;
/** The same track gives the same answer. */
const SEED = 20261127;
/** Shares of the track at which the slip is let end; past the last point the path is a parabola. */
const ENDS = [Infinity, 0.75, 0.6, 0.47, 0.36, 0.27, 0.2, 0.14];
/** No more points than this are looked at for choosing; the distances are those of all. */
const ENOUGH = 50;
/** Median of the squared distance over the variance of a coordinate: chi-square with two degrees of freedom. */
const MIDDLE = 1.386;
/** A squared distance counts at most so many variances; generous, because three points do not fix a path well. */
const MOST = 25;
/** Scatter below this share of the track is rounding. */
const ROUNDING = 1e-9;

interface Timed extends Point {
  readonly time: number;
}

type Path = (time: number) => Point;

/** Squared distance of each point from the path that suits most of them. */
export function distancesFromPath(times: readonly number[], places: readonly Point[]): number[] {
  const points = places.map(({ x, y }, i): Timed => ({ time: there(times[i], "a time for every place"), x, y }));
  const every = Math.ceil(points.length / ENOUGH);
  const looked = points.filter((_, i) => i % every === 0 || i === points.length - 1);
  const paths = drawnPaths(points);
  const from = (path: Path, some: readonly Timed[]) =>
    some.map((point) => {
      const at = path(point.time);
      return (point.x - at.x) ** 2 + (point.y - at.y) ** 2;
    });
  const all = paths.map((path) => from(path, looked));
  const size = Math.max(...looked.map(({ x, y }) => Math.abs(x) + Math.abs(y)));
  const variance = Math.max(Math.min(...all.map(median).filter(Number.isFinite)) / MIDDLE, (ROUNDING * size) ** 2);
  // Two points at one time fix no path.
  const costs = all.map((distances) =>
    distances.reduce((sum, one) => sum + (Number.isFinite(one) ? Math.min(one, MOST * variance) : Infinity), 0),
  );
  return from(there(paths[costs.indexOf(Math.min(...costs))], "a path that was drawn"), points);
}

/** Paths through three different points, one from each third: far apart, so that a path is steady. */
function drawnPaths(points: readonly Timed[]): Path[] {
  const draw = drawer(SEED);
  const third = Math.max(1, Math.floor(points.length / 3));
  const drawn = (from: number, count: number) => there(points[from + draw(count)], "a point that was drawn");
  const [first, last] = [there(points[0], "a first point"), there(points.at(-1), "a last point")];
  return ENDS.flatMap((share) => {
    const end = first.time + share * (last.time - first.time);
    return Array.from({ length: DRAWS }, () =>
      through(drawn(0, third), drawn(third, third), drawn(2 * third, points.length - 2 * third), end),
    );
  });
}

/** The path through three points that is a parabola up to a time and straight from there (Newton's differences). */
function through(one: Timed, two: Timed, three: Timed, end: number): Path {
  // Square of the time since the first point, going on straight from the end.
  const bent = (time: number) => {
    const since = Math.min(time, end) - one.time;
    return since * (since + 2 * Math.max(0, time - end));
  };
  const [b, c] = [two.time - one.time, three.time - one.time];
  const apart = bent(three.time) * b - bent(two.time) * c;
  const alongOf = (value: (point: Timed) => number) => {
    const [second, third] = [value(two) - value(one), value(three) - value(one)];
    const curve = apart === 0 ? 0 : (third * b - second * c) / apart;
    const slope = (third - curve * bent(three.time)) / c;
    return (time: number) => value(one) + slope * (time - one.time) + curve * bent(time);
  };
  const [x, y] = [alongOf((point) => point.x), alongOf((point) => point.y)];
  return (time) => ({ x: x(time), y: y(time) });
}
