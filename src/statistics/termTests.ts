/** Does a driver matter at all, given the others? May import: regression.ts, design.ts, distributions.ts. */
import type { DesignColumn } from "./design";
import { fisherUpper } from "./distributions";
import type { FTest, Regression } from "./regression";

export interface TermTest {
  /** "Cloth", or "Humidity × Cloth" for a joint effect. */
  readonly name: string;
  /** Indices of the drivers tested: one, or two for a joint effect. */
  readonly drivers: readonly number[];
  readonly test: FTest;
}

/**
 * One F test per driver and per joint effect, given all the rest. A driver is tested together with every joint effect
 * that it takes part in, so the answer does not depend on which level is the reference or where a number's zero is.
 * @example termTests(regress({ response: [1, 3, 5, 8], drivers: [{ kind: "number", name: "x", values: [0, 1, 2, 3], degree: 1 }] }))[0].test.df2 === 2
 */
export function termTests(regression: Regression): TermTest[] {
  const { drivers, joint = [] } = regression.question;
  const test = jointTester(regression);
  const singles = drivers.map(({ name }, index) => ({ name, drivers: [index], test: test((column) => column.drivers.includes(index)) }));
  const pairs = joint.map(([a, b]) => ({
    name: `${drivers[a].name} × ${drivers[b].name}`,
    drivers: [a, b],
    test: test((column) => column.drivers.length === 2 && column.drivers[0] === a && column.drivers[1] === b),
  }));
  return [...singles, ...pairs];
}

/** Would a straight line do for this number driver? Tests its powers above the first together. */
export function curveTest(regression: Regression, driver: number): FTest {
  return jointTester(regression)((column) => column.drivers.length === 1 && column.drivers[0] === driver && column.power > 1);
}

/** Tests that all coefficients of the matching columns are zero, given the other columns. */
function jointTester({ design, fit, residual }: Regression): (matches: (column: DesignColumn) => boolean) => FTest {
  const inverse = fit.inverseCross();
  return (matches) => {
    const places = fit.kept.flatMap((column, place) => (matches(design.columns[column]) ? [place] : []));
    const df = { df1: places.length, df2: residual.df };
    if (places.length === 0 || residual.sd === null) return { value: null, ...df, p: null };
    const squares = quadraticForm(places.map((a) => places.map((b) => inverse[a][b])), places.map((place) => fit.coefficients[place][0]));
    const value = squares / places.length / residual.sd ** 2;
    return { value, ...df, p: fisherUpper(value, places.length, residual.df) };
  };
}

/** xᵀ·M⁻¹·x for a positive definite M, by a Cholesky factor of M scaled to unit diagonal. */
function quadraticForm(matrix: number[][], x: number[]): number {
  const scale = matrix.map((row, i) => 1 / Math.sqrt(row[i]));
  const lower: number[][] = [];
  let total = 0;
  const solved: number[] = [];
  for (let i = 0; i < x.length; i++) {
    lower.push([]);
    let rest = x[i] * scale[i];
    for (let j = 0; j <= i; j++) {
      let entry = matrix[i][j] * scale[i] * scale[j];
      for (let k = 0; k < j; k++) entry -= lower[i][k] * lower[j][k];
      lower[i].push(i === j ? Math.sqrt(entry) : entry / lower[j][j]);
      if (j < i) rest -= lower[i][j] * solved[j];
    }
    solved.push(rest / lower[i][i]);
    total += solved[i] ** 2;
  }
  return total;
}
