/**
 * What the residuals of a fit say against it: unequal spread, error of predicting a row left out.
 */
import { chiSquareUpper } from "../distributions/distributions";
import { membersOf, type Grouping } from "../errors/errorModel";
import { median } from "../numeric/median";
import { untested } from "../fit/withoutIntervals";
import { regress, type Regression } from "../fit/regression";
import type { FTest } from "../fit/estimates";
import { addOuter, eigen, inner, mapEigenvalues, timesVector, zeroMatrix } from "../numeric/symmetric";

export interface UnequalSpread {
  /** Rows times the share of the squared residuals' variation that goes with the drivers. */
  readonly chiSquare: number;
  readonly df: number;
  /** From the chi-square; from the squares' own F with CR2 errors where rows go together. */
  readonly p: number;
  /** Name of the groups whose rows were taken together. */
  readonly together?: string;
  /** The fit of the squared residuals on the drivers: where its slope is positive, the spread grows. */
  readonly squares: Regression;
}

/**
 * Does the spread go with the drivers? The test of Breusch & Pagan (Econometrica 47 (1979) 1287–1294) as Koenker made
 * it hold for residuals of any shape (Journal of Econometrics 17 (1981) 107–112).
 * @param together rows that are not separate evidence: a session off its place makes all its squares large
 * @param residuals in place of the fit's own, such as those that sessions are taken out of
 * @returns undefined when there is nothing to judge: no driver, no spread, no rows to spare, or too few groups that go
 * together
 * @throws RangeError when `together` has one group only
 */
export function unequalSpread(
  regression: Regression,
  together?: Grouping,
  residuals: Float64Array = regression.fit.residuals,
): UnequalSpread | undefined {
  const { question, fit, residual } = regression;
  const squares = Array.from(residuals, (e) => e * e);
  const df = fit.kept.length - (fit.kept.includes(0) && question.constant !== false ? 1 : 0);
  if (df === 0 || residual.df <= 0 || !(fit.residualSquares > 0)) return undefined;
  // In units of the mean square, so that tiny responses do not underflow.
  const mean = squares.reduce((total, square) => total + square, 0) / squares.length;
  const onDrivers = regress({
    response: squares.map((square) => square / mean),
    drivers: question.drivers,
    ...(question.joint && { joint: question.joint }),
    ...(together && { errors: { kind: "cluster", by: together } }),
    confidence: regression.confidence,
  });
  if (onDrivers.rSquared === null) return undefined;
  const chiSquare = regression.rows * onDrivers.rSquared;
  if (!together) return { chiSquare, df, p: chiSquareUpper(chiSquare, df), squares: onDrivers };
  const { p } = onDrivers.F;
  return p === null ? undefined : { chiSquare, df, p, together: together.name, squares: onDrivers };
}

export interface SpreadByLevel {
  readonly levels: readonly { readonly level: string; readonly rows: number; readonly sd: number | null }[];
  readonly test: FTest;
}

/**
 * Does the spread differ between groups? Brown & Forsythe (Journal of the American Statistical Association 69 (1974)
 * 364–367): analysis of variance of the distances from each group's median.
 * Rows that come in sessions are not separate evidence: a session off its place makes all its distances large. With
 * `together` the analysis of variance has errors for rows that go together in any way (CR2), and a group whose rows all
 * come from one session leaves no test: nothing shows how far sessions by themselves differ in it (with three sessions
 * such a test at 0.05 called 0.09 of logs without a difference).
 * @param values such as the residuals of a fit, or the response itself
 * @throws RangeError when `together` has one group only
 */
export function spreadByLevel(values: ArrayLike<number>, by: Grouping, together?: Grouping): SpreadByLevel {
  const { name, groups, levels } = by;
  const members = membersOf(by).map((rows) => rows.map((row) => values[row]));
  const medians = members.map(median);
  const distances = Array.from(values, (value, row) => Math.abs(value - medians[groups[row]]));
  const { F } = regress({
    response: distances,
    drivers: [{ kind: "category", name, values: groups, levels }],
    ...(together && { errors: { kind: "cluster", by: together } }),
  });
  return {
    levels: levels.map((level, g) => ({
      level,
      rows: members[g].length,
      sd: members[g].length > 1 ? regress({ response: members[g], drivers: [] }).residual.sd : null,
    })),
    test: together && loneSession(by, together) ? untested(F.df1) : F,
  };
}

/** Whether all rows of some group come from one session. */
function loneSession(by: Grouping, { groups }: Grouping): boolean {
  return membersOf(by).some((rows) => rows.length > 0 && rows.every((row) => groups[row] === groups[rows[0]]));
}

export interface LeftOutError {
  /** Root of the mean squared error of predicting what was left out, in the response's unit. */
  readonly error: number;
  /**
   * Share of the variation that such predictions take up, against predicting the mean of the others; may be below 0.
   */
  readonly share: number | null;
}

/**
 * Error of predicting each row from all others, or each group from all other groups, without fitting anew
 * (Allen, Technometrics 16 (1974) 125–127; for groups the same with the group's projection).
 * With weights the errors are those of rows times the roots of their weights, as if all had weight 1.
 * @returns undefined when a row or group alone determines a coefficient
 */
export function leaveOneOut({ question, fit }: Regression, by?: Grouping): LeftOutError | undefined {
  const rows = fit.rows;
  const directions = fit.directions();
  const members = by ? membersOf(by) : Array.from({ length: rows }, (_, row) => [row]);
  const { response, weights } = question;
  const weight = (row: number) => (weights ? weights[row] : 1);
  let all = 0;
  for (let row = 0; row < rows; row++) all += weight(row);
  let mean = 0;
  for (let row = 0; row < rows; row++) mean += (weight(row) / all) * response[row];
  let squares = 0;
  let without = 0;
  for (const group of members) {
    if (group.length === 0) continue;
    const shift =
      group.reduce((total, row) => total + weight(row) * (response[row] - mean), 0) /
      group.reduce((rest, row) => rest - weight(row), all);
    for (const row of group) without += weight(row) * (response[row] - mean + shift) ** 2;
    if (group.length === 1) {
      const [row] = group;
      const rest = directions.reduce((total, direction) => total - direction[row] ** 2, 1);
      if (rest < 1e-10) return undefined;
      squares += (fit.residuals[row] / rest) ** 2;
      continue;
    }
    const cross = zeroMatrix(directions.length);
    const pull = new Array<number>(directions.length).fill(0);
    const across = group.map((row) => directions.map((direction) => direction[row]));
    across.forEach((values, i) => {
      addOuter(cross, values);
      values.forEach((value, j) => (pull[j] += value * fit.residuals[group[i]]));
    });
    const parted = eigen(cross);
    if (parted.values.some((value) => 1 - value < 1e-10)) return undefined;
    const move = timesVector(
      mapEigenvalues(parted, (value) => 1 / (1 - value)),
      pull,
    );
    group.forEach((row, i) => {
      squares += (fit.residuals[row] + inner(across[i], move)) ** 2;
    });
  }
  return { error: Math.sqrt(squares / rows), share: without > 0 ? 1 - squares / without : null };
}
