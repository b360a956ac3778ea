/**
 * What the residuals of a fit say against it: unequal spread, error of predicting a row left out.
 */
import { chiSquareUpper } from "../distributions/distributions";
import { membersOf, type Grouping } from "../errors/errorModel";
import { medianOfOwn } from "../numeric/median";
import { levelsDiffer, levelSpread, valuesByLevel } from "./levelsDiffer";
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
  readonly squares: Pick<Regression, "terms">;
}

/** Digits of a p, which is told in three. */
const ENOUGH = 9;

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
  const df = fit.kept.length - (fit.kept.includes(0) && question.constant !== false ? 1 : 0);
  if (df === 0 || residual.df <= 0 || !(fit.residualSquares > 0)) return undefined;
  // In units of the mean square, so that tiny responses do not underflow.
  const mean = inner(residuals, residuals) / residuals.length;
  const onDrivers = regress({
    response: residuals.map((e) => (e * e) / mean),
    drivers: question.drivers,
    ...(question.joint && { joint: question.joint }),
    ...(together && { errors: { kind: "cluster", by: together } }),
    confidence: regression.confidence,
    digits: ENOUGH,
  });
  if (onDrivers.rSquared === null) return undefined;
  const chiSquare = regression.rows * onDrivers.rSquared;
  // The terms alone: the fit of a long log is large.
  const of = { chiSquare, df, squares: { terms: onDrivers.terms } };
  if (!together) return { ...of, p: chiSquareUpper(chiSquare, df) };
  const { p } = onDrivers.F;
  return p === null ? undefined : { ...of, p, together: together.name };
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
  const own = valuesByLevel(values, by);
  const spreads = own.map(levelSpread);
  const medians = own.map(medianOfOwn);
  return {
    levels: by.levels.map((level, g) => {
      const { rows, squares } = spreads[g];
      return { level, rows, sd: rows > 1 ? Math.sqrt(squares / (rows - 1)) : null };
    }),
    test: together
      ? differTogether(
          Float64Array.from(values, (value, row) => Math.abs(value - medians[by.groups[row]])),
          by,
          together,
        )
      : levelsDiffer(own.map((level, g) => levelSpread(asDistances(level, medians[g])))),
  };
}

/** In place: nobody needs the values after that. */
function asDistances(values: Float64Array, from: number): Float64Array {
  for (let i = 0; i < values.length; i++) values[i] = Math.abs(values[i] - from);
  return values;
}

/** The same test with errors for rows that go together. */
function differTogether(values: Float64Array, by: Grouping, together: Grouping): FTest {
  const { name, groups, levels } = by;
  const { F } = regress({
    response: values,
    drivers: [{ kind: "category", name, values: groups, levels }],
    errors: { kind: "cluster", by: together },
  });
  return loneSession(by, together) ? untested(F.df1) : F;
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
  const { response, weights } = question;
  const weight = (row: number) => (weights ? weights[row] : 1);
  let all = 0;
  for (let row = 0; row < rows; row++) all += weight(row);
  let mean = 0;
  for (let row = 0; row < rows; row++) mean += (weight(row) / all) * response[row];
  const members = by && membersOf(by);
  // One list for all single rows: a list for each is slow where there are many.
  const single = [0];
  let squares = 0;
  let without = 0;
  for (let place = 0; place < (members?.length ?? rows); place++) {
    single[0] = place;
    const group = members?.[place] ?? single;
    if (group.length === 0) continue;
    const shift =
      group.reduce((total, row) => total + weight(row) * (response[row] - mean), 0) /
      group.reduce((rest, row) => rest - weight(row), all);
    for (const row of group) without += weight(row) * (response[row] - mean + shift) ** 2;
    const left = group.length === 1 ? leftOutRow(fit, directions, group[0]) : leftOutGroup(fit, directions, group);
    if (left === undefined) return undefined;
    squares += left;
  }
  return { error: Math.sqrt(squares / rows), share: without > 0 ? 1 - squares / without : null };
}

/** Below this a row or a group alone determines a coefficient. */
const ALONE = 1e-10;

/** Square of the error of predicting a row from all others. */
function leftOutRow({ residuals }: Regression["fit"], directions: readonly Float64Array[], row: number) {
  const rest = directions.reduce((total, direction) => total - direction[row] ** 2, 1);
  return rest < ALONE ? undefined : (residuals[row] / rest) ** 2;
}

/** Squares of the errors of predicting a group's rows from all other groups. */
function leftOutGroup({ residuals }: Regression["fit"], directions: readonly Float64Array[], group: readonly number[]) {
  const cross = zeroMatrix(directions.length);
  const pull = new Array<number>(directions.length).fill(0);
  const across = group.map((row) => directions.map((direction) => direction[row]));
  across.forEach((values, i) => {
    addOuter(cross, values);
    values.forEach((value, j) => (pull[j] += value * residuals[group[i]]));
  });
  const parted = eigen(cross);
  if (parted.values.some((value) => 1 - value < ALONE)) return undefined;
  const move = timesVector(
    mapEigenvalues(parted, (value) => 1 / (1 - value)),
    pull,
  );
  return group.reduce((total, row, i) => total + (residuals[row] + inner(across[i], move)) ** 2, 0);
}
