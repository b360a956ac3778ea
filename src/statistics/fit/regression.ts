/**
 * Regression of one response on drivers: estimates, intervals, tests, predictions, influence.
 */
import { fisherUpper } from "../distributions/distributions";
import { clusterErrors } from "../errors/clusterErrors";
import type { ErrorModel, Grouping, SpreadIntervals, Uncertainty } from "../errors/errorModel";
import { randomIntercept } from "../errors/randomIntercept";
import { robustErrors } from "../errors/robustErrors";
import { exactColumn, multiplyColumns, rootColumn, type Column } from "../numeric/doubleDouble";
import { inner } from "../numeric/symmetric";
import {
  buildDesign,
  designMemory,
  type Design,
  type DesignColumn,
  type DesignMemory,
  type Driver,
  type Setting,
} from "./designMatrix";
import { isFiniteRange, columnRangeOf, type RangeMemory } from "./columnRange";
import type { Estimate, FTest, Term } from "./estimates";
import { FittedModel } from "./fittedModel";
import { leastSquares, type FitMemory, type LeastSquares } from "./leastSquares";
import { once } from "./once";
import { explain, oneLevel, withoutError, type Unestimated } from "./unestimated";

export interface RegressionProblem {
  readonly response: ArrayLike<number>;
  readonly drivers: readonly Driver[];
  /** Pairs of drivers (indices) whose effects may depend on each other. */
  readonly joint?: readonly (readonly [number, number])[];
  /** False forces the fit through the origin. */
  readonly constant?: boolean;
  /** Confidence of every interval, 0.95 unless said. */
  readonly confidence?: number;
  /** How rows scatter; alike and apart from each other unless said. */
  readonly errors?: ErrorModel;
  /**
   * One per row, above 0: a row of weight 2 scatters with half the variance of one of weight 1. All alike unless said.
   */
  readonly weights?: ArrayLike<number>;
  /**
   * How many digits are proved of a long fit, 13 unless said. A check that is told in three needs fewer: a coefficient
   * that happens to be almost zero is then no reason to go the thorough way.
   */
  readonly digits?: number;
}

export interface Regression {
  readonly rows: number;
  readonly confidence: number;
  readonly terms: readonly Term[];
  readonly unestimated: readonly Unestimated[];
  /** Standard deviation of single rows about the fit; with weights that of a row of weight 1. */
  readonly residual: { readonly sd: number | null; readonly df: number };
  /** Share of the response's variation that goes with the drivers; null when the response never varies. */
  readonly rSquared: number | null;
  /** All drivers together against none. */
  readonly F: FTest;
  readonly residuals: Float64Array;
  /** Standard deviation between groups and within them; undefined unless groups were taken as random. */
  readonly spread: { readonly between: number; readonly within: number } | undefined;
  /** How far a group that is not among the rows may lie off; see Uncertainty. */
  readonly newGroup: { readonly standard: number; readonly df: number } | undefined;
  /** Intervals of those two; undefined where the rows cannot give them. */
  spreadIntervals(): SpreadIntervals | undefined;
  /**
   * The plain least squares fit, whatever was said of the scatter; with weights that of rows times the roots of their
   * weights.
   */
  readonly fit: LeastSquares;
  /** The design's columns and the response as they went into the fit. */
  readonly fitted: { readonly columns: readonly Column[]; readonly response: Column };
  readonly design: Design;
  readonly question: RegressionProblem;
  /** Fitted mean at settings (one per driver); undefined where the rows do not determine it. */
  estimate(settings: readonly Setting[]): Estimate | undefined;
  /** Difference of the fitted means at two settings, second less first. */
  difference(from: readonly Setting[], to: readonly Setting[]): Estimate | undefined;
  /**
   * Σ factor · fitted mean at settings, such as a difference of two differences; undefined where the rows do not
   * determine it.
   */
  contrast(parts: readonly { readonly factor: number; readonly settings: readonly Setting[] }[]): Estimate | undefined;
  /** Tests that the coefficients of these columns of the design are all zero, given the others. */
  test(matches: (column: DesignColumn) => boolean): FTest;
}

/** What fits on the same rows leave for the next; see FitMemory. */
export interface RegressionMemory {
  readonly design: DesignMemory;
  readonly fit: FitMemory;
}

export function regressionMemory(): RegressionMemory {
  const ranges: RangeMemory = new WeakMap();
  return { design: designMemory(ranges), fit: { ranges } };
}

/**
 * Fits by least squares.
 * @param memory of earlier fits on the same rows: columns that they had are not worked out again, given the same arrays
 * of values
 * @returns estimates in the response's unit per driver's unit
 * @throws RangeError when there is no row, lengths differ, a value is not finite, a weight is not above 0, or weights
 * meet a random shift
 * @example regress({ response: [1, 3, 5, 8], drivers: [{ kind: "number", name: "x", values: [0, 1, 2, 3], degree: 1 }] }).terms[1].estimate // 2.3
 */
export function regress(question: RegressionProblem, memory: RegressionMemory = regressionMemory()): Regression {
  const { response, drivers, joint = [], constant = true, confidence = 0.95, errors, weights, digits } = question;
  refuseRows(question, memory);
  const rows = response.length;
  const design = buildDesign(rows, drivers, joint, constant, memory.design);
  const roots = weights && rootColumn(weights);
  const asWeighed = (column: Column) => (roots ? multiplyColumns(column, roots) : column);
  const fitted = {
    columns: design.columns.map(({ values }) => asWeighed(values)),
    response: asWeighed(exactColumn(response)),
  };
  const fit = leastSquares(fitted.columns, fitted.response, weights ? {} : memory.fit, digits);
  const df = rows - fit.kept.length;
  const uncertainty = errors && df > 0 ? scatterAs(errors, fit, df) : undefined;
  const residuals = once(() =>
    roots ? fit.residuals.map((value, row) => value / roots.high[row]) : shifted(fit, uncertainty),
  );
  const sd = df <= 0 ? null : (uncertainty?.spread?.within ?? Math.sqrt(fit.residualSquares / df));
  const model = new FittedModel({ fit, design, constant, confidence, df, sd, uncertainty });
  const terms = design.columns.map((_, index) => model.term(index));
  const { explained, total } = squaresAbout(fit, constant);
  return {
    rows,
    confidence,
    terms,
    unestimated: [...oneLevel(drivers), ...untoldTerms(terms, fit, design, question, sd)],
    residual: { sd, df },
    rSquared: total > 0 ? (uncertainty?.shift ? 1 - squaresOf(residuals()) / total : explained / total) : null,
    F: uncertainty
      ? model.test(({ drivers: of }) => of.length > 0)
      : plainF(explained, total, fit, df, fit.kept.length - (constant ? 1 : 0)),
    get residuals() {
      return residuals();
    },
    spread: uncertainty?.spread,
    newGroup: uncertainty?.newGroup,
    spreadIntervals: once(() => uncertainty?.spreadIntervals?.(confidence)),
    fit,
    fitted,
    design,
    question,
    estimate: (settings) => model.estimate(settings),
    difference: (from, to) => model.difference(from, to),
    contrast: (parts) => model.contrast(parts),
    test: (matches) => model.test(matches),
  };
}

/** @throws RangeError when there is no row, lengths differ, a value is not finite, or a weight cannot be used */
function refuseRows(
  { response, drivers, weights, errors }: RegressionProblem,
  { design: { ranges } }: RegressionMemory,
): void {
  const rows = response.length;
  if (rows === 0) throw new RangeError("no rows to fit");
  for (const { name, values } of [
    { name: "response", values: response },
    ...(weights ? [{ name: "weight", values: weights }] : []),
    ...drivers,
  ]) {
    if (values.length !== rows)
      throw new RangeError(`${name} has ${values.length} rows where the response has ${rows}`);
    if (isFiniteRange(columnRangeOf(values, ranges))) continue;
    for (let i = 0; i < rows; i++)
      if (!Number.isFinite(values[i])) throw new RangeError(`${name} is ${values[i]} in row ${i + 1}`);
  }
  if (weights) refuseWeights(weights, errors);
}

/** The response's variation about its mean, or about zero without a constant, and what the drivers take of it. */
function squaresAbout({ sequentialSquares, kept, residualSquares }: LeastSquares, constant: boolean) {
  const explained = sequentialSquares.reduce(
    (sum, square, place) => (constant && kept[place] === 0 ? sum : sum + square),
    0,
  );
  return { explained, total: explained + residualSquares };
}

/** All drivers together against none, where rows scatter alike and apart from each other. */
function plainF(explained: number, total: number, { residualSquares }: LeastSquares, df: number, df1: number): FTest {
  if (df <= 0 || df1 === 0 || !(total > 0)) return { value: null, df1, df2: null, p: null };
  const value = explained / df1 / (residualSquares / df);
  return { value, df1, df2: df, p: fisherUpper(value, df1, df) };
}

/** Terms without an estimate, or without a standard error, and why. */
function untoldTerms(
  terms: readonly Term[],
  fit: LeastSquares,
  design: Design,
  { drivers, errors }: RegressionProblem,
  sd: number | null,
): Unestimated[] {
  return terms.flatMap(({ label, estimate, standardError }, index) => {
    if (estimate === null) return [explain(index, fit, design, drivers)];
    return errors && sd !== null && standardError === null
      ? [{ term: label, reason: withoutError(label, errors) }]
      : [];
  });
}

function refuseWeights(weights: ArrayLike<number>, errors: ErrorModel | undefined): void {
  for (let i = 0; i < weights.length; i++)
    if (!(weights[i] > 0)) throw new RangeError(`weight is ${weights[i]} in row ${i + 1}: a weight must be above 0`);
  if (errors?.kind === "random") {
    throw new RangeError(
      `weights and a random shift of each ${errors.by.name} cannot be asked together: take one of them out, or let rows of one ${errors.by.name} go together in any way`,
    );
  }
}

function scatterAs(errors: ErrorModel, fit: LeastSquares, df: number): Uncertainty {
  const scatter = { directions: fit.directions(), residuals: fit.residuals, df };
  if (errors.kind === "robust") return robustErrors(scatter);
  refuseGrouping(errors.by, fit.rows);
  return errors.kind === "cluster" ? clusterErrors(scatter, errors.by) : randomIntercept(scatter, errors.by);
}

/** @throws RangeError when the groups do not cover the rows or are a single one */
export function refuseGrouping({ name, groups, levels }: Grouping, rows: number): void {
  if (groups.length !== rows) throw new RangeError(`${name} has ${groups.length} rows where the response has ${rows}`);
  if (Array.prototype.every.call(groups, (group) => group === groups[0]))
    throw new RangeError(
      `${name} has one group only (${levels[groups[0]]}): at least two are needed to see how groups differ`,
    );
}

/** Residuals after the estimates have moved. */
function shifted(fit: LeastSquares, uncertainty: Uncertainty | undefined): Float64Array {
  const shift = uncertainty?.shift;
  if (!shift) return fit.residuals;
  const residuals = fit.residuals.slice();
  fit.directions().forEach((direction, j) => {
    for (let row = 0; row < residuals.length; row++) residuals[row] -= shift[j] * direction[row];
  });
  return residuals;
}

function squaresOf(values: Float64Array): number {
  return inner(values, values);
}
