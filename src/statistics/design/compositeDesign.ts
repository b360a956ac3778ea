/**
 * Composite plans for curved effects: a cube of two-level runs, a star along the axes, and repeated centres (Box &
 * Wilson, J. R. Statist. Soc. B 13 (1951) 1–45).
 */
import { there } from "../../there";
import { fractionRuns, twoLevel } from "./twoLevel";

/**
 * How far the star reaches, in half-widths of the cube: "turning" makes the error of a prediction depend on the
 * distance from the centre alone, "blocks" keeps cube and star apart as blocks without touching any effect (both: Box &
 * Hunter, Ann. Math. Statist. 28 (1957) 195–241), "face" keeps to three levels.
 */
export type StarReach = "turning" | "blocks" | "face";

export interface Composite {
  readonly reach: number;
  /** Coded settings of each run, the cube's half-width being 1. */
  readonly points: readonly (readonly number[])[];
  /** 0 for the cube with its centres, 1 for the star with its own. */
  readonly blocks: readonly number[];
}

/**
 * @param factors 2 to 8; from 5 on the cube is the smallest fraction that keeps joint effects of two apart
 * @param centres repeated centres with the cube and with the star
 * @throws RangeError naming what is out of range
 * @example compositeDesign(2, "turning", [1, 0]).points.length // 9
 */
export function compositeDesign(
  factors: number,
  reach: StarReach,
  [cubeCentres, starCentres]: readonly [number, number],
): Composite {
  if (!(Number.isInteger(factors) && factors >= 2 && factors <= 8))
    throw new RangeError(`factors is ${factors}: a composite plan takes 2 to 8`);
  for (const count of [cubeCentres, starCentres])
    if (!(Number.isInteger(count) && count >= 0))
      throw new RangeError(`centres is ${count}: give a whole number, 0 or more`);
  const cubes = fractionRuns(factors).map((runs) => twoLevel(factors, runs));
  const cube = there(
    cubes.find(({ resolution }) => resolution >= 5),
    "a fraction of resolution V",
  ).points;
  const size = cube.length;
  const far =
    reach === "face"
      ? 1
      : reach === "turning"
        ? size ** 0.25
        : Math.sqrt((size * (2 * factors + starCentres)) / (2 * (size + cubeCentres)));
  const centre = (count: number) => Array.from({ length: count }, () => new Array<number>(factors).fill(0));
  const star = Array.from({ length: 2 * factors }, (_, i) =>
    Array.from({ length: factors }, (_unused, factor) => (factor === i >> 1 ? (i % 2 ? far : -far) : 0)),
  );
  const first = [...cube, ...centre(cubeCentres)];
  const second = [...star, ...centre(starCentres)];
  return { reach: far, points: [...first, ...second], blocks: [...first.map(() => 0), ...second.map(() => 1)] };
}
