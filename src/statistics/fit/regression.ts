/**
 * Regression of one response on drivers: estimates, intervals, tests, predictions, influence.
 */
import { clusterErrors } from "../errors/clusterErrors";
import {
  buildDesign,
  designMemory,
  type Design,
  type DesignMemory,
  type DesignColumn,
  type Driver,
  type Setting,
} from "./designMatrix";
import { fisherUpper, studentQuantile, studentTwoSided } from "../distributions/distributions";
import {
  add,
  allFinite,
  exactColumn,
  multiply,
  multiplyColumns,
  rootColumn,
  type Column,
  type Pair,
} from "../numeric/doubleDouble";
import type { ErrorModel, Grouping, SpreadIntervals, Uncertainty } from "../errors/errorModel";
import { leastSquares, type Combination, type FitMemory, type LeastSquares } from "./leastSquares";
import { listOf } from "./listOf";
import { randomIntercept } from "../errors/randomIntercept";
import { robustErrors } from "../errors/robustErrors";
import { inner } from "../numeric/symmetric";

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
}

/** One coefficient. Parts that the rows cannot give are null. */
export interface Term {
  readonly label: string;
  readonly drivers: readonly number[];
  readonly estimate: number | null;
  readonly standardError: number | null;
  readonly t: number | null;
  /** Degrees of freedom of t: rows less coefficients, or fewer where rows go together. */
  readonly df: number | null;
  readonly p: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** A term without an estimate, and why. */
export interface Unestimated {
  readonly term: string;
  readonly reason: string;
}

export interface FTest {
  readonly value: number | null;
  readonly df1: number;
  /** Null where there is no test. */
  readonly df2: number | null;
  readonly p: number | null;
}

/** An estimate with its standard error and interval; null where no spread can be judged. */
export interface Estimate {
  readonly value: number;
  readonly standardError: number | null;
  /** Degrees of freedom of the standard error. */
  readonly df: number | null;
  readonly low: number | null;
  readonly high: number | null;
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
  return { design: designMemory(), fit: {} };
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
  const { response, drivers, joint = [], constant = true, confidence = 0.95, errors, weights } = question;
  const rows = response.length;
  if (rows === 0) throw new RangeError("no rows to fit");
  for (const { name, values } of [
    { name: "response", values: response },
    ...(weights ? [{ name: "weight", values: weights }] : []),
    ...drivers,
  ]) {
    if (values.length !== rows)
      throw new RangeError(`${name} has ${values.length} rows where the response has ${rows}`);
    if (allFinite(values)) continue;
    for (let i = 0; i < rows; i++)
      if (!Number.isFinite(values[i])) throw new RangeError(`${name} is ${values[i]} in row ${i + 1}`);
  }
  if (weights) refuseWeights(weights, errors);
  const design = buildDesign(rows, drivers, joint, constant, memory.design);
  const columns = design.columns;
  const roots = weights && rootColumn(weights);
  const asWeighed = (column: Column) => (roots ? multiplyColumns(column, roots) : column);
  const fitted = {
    columns: columns.map(({ values }) => asWeighed(values)),
    response: asWeighed(exactColumn(response)),
  };
  const fit = leastSquares(fitted.columns, fitted.response, weights ? {} : memory.fit);
  const df = rows - fit.kept.length;
  const uncertainty = errors && df > 0 ? scatterAs(errors, fit, df) : undefined;
  const residuals = once(() =>
    roots ? fit.residuals.map((value, row) => value / roots.high[row]) : shifted(fit, uncertainty),
  );
  const sd = df <= 0 ? null : (uncertainty?.spread?.within ?? Math.sqrt(fit.residualSquares / df));

  const valueOf = ({ value, along }: Combination) =>
    uncertainty?.shift ? value + inner(along, uncertainty.shift) : value;
  const finish = (combined: Combination | undefined): Estimate | undefined => {
    if (!combined) return undefined;
    const value = valueOf(combined);
    const nothing = { value, standardError: null, df: null, low: null, high: null };
    if (sd === null) return nothing;
    const variance = uncertainty ? uncertainty.variance(combined.along) : (combined.errorFactor * sd) ** 2;
    if (variance === undefined) return nothing;
    const standardError = uncertainty ? Math.sqrt(variance) : combined.errorFactor * sd;
    const free = uncertainty ? uncertainty.df(combined.along) : df;
    const half = standardError * studentQuantile(confidence, free);
    return { value, standardError, df: free, low: value - half, high: value + half };
  };
  const unit = (index: number) =>
    fit.combine(
      columns.map((_, j) => [j === index ? 1 / columns[index].scale : 0, 0]),
      constant,
    );

  const terms = columns.map(({ label, drivers: of }, index): Term => {
    const estimate = fit.kept.includes(index) ? finish(unit(index)) : undefined;
    if (!estimate)
      return {
        label,
        drivers: of,
        estimate: null,
        standardError: null,
        t: null,
        df: null,
        p: null,
        low: null,
        high: null,
      };
    const { value, standardError, df: free, low, high } = estimate;
    // Nothing over nothing tells nothing.
    const t = standardError === null || (standardError === 0 && value === 0) ? null : value / standardError;
    return {
      label,
      drivers: of,
      estimate: value,
      standardError,
      t,
      df: free,
      p: t === null || free === null ? null : studentTwoSided(t, free),
      low,
      high,
    };
  });

  const explained = fit.sequentialSquares.reduce(
    (total, square, place) => (constant && fit.kept[place] === 0 ? total : total + square),
    0,
  );
  const total = explained + fit.residualSquares;
  const varies = total > 0;
  const inverse = uncertainty ? undefined : once(() => fit.inverseCross());
  const test = (matches: (column: DesignColumn) => boolean): FTest => {
    const places = fit.kept.flatMap((column, place) => (matches(columns[column]) ? [place] : []));
    const untested = { value: null, df1: places.length, df2: null, p: null };
    if (places.length === 0 || sd === null) return untested;
    if (inverse) {
      const all = inverse();
      const squares = quadraticForm(
        places.map((a) => places.map((b) => all[a][b])),
        places.map((place) => fit.coefficients[place][0]),
      );
      const value = squares / places.length / sd ** 2;
      return { value, df1: places.length, df2: df, p: fisherUpper(value, places.length, df) };
    }
    const combined = places.flatMap((place) => unit(fit.kept[place]) ?? []);
    const found =
      combined.length < places.length
        ? undefined
        : uncertainty?.joint(
            combined.map(({ along }) => along),
            combined.map(valueOf),
          );
    return found ? { ...found, df1: places.length, p: fisherUpper(found.value, places.length, found.df2) } : untested;
  };
  const df1 = fit.kept.length - (constant ? 1 : 0);
  const plainF = sd === null || df1 === 0 || !varies ? null : explained / df1 / (fit.residualSquares / df);
  return {
    rows,
    confidence,
    terms,
    unestimated: [
      ...oneLevel(drivers),
      ...terms.flatMap((term, index) => {
        if (term.estimate === null) return [explain(index, fit, design, drivers)];
        return errors && sd !== null && term.standardError === null
          ? [{ term: term.label, reason: withoutError(term.label, errors) }]
          : [];
      }),
    ],
    residual: { sd, df },
    rSquared: varies ? (uncertainty?.shift ? 1 - squaresOf(residuals()) / total : explained / total) : null,
    F: uncertainty
      ? test(({ drivers: of }) => of.length > 0)
      : plainF === null
        ? { value: null, df1, df2: null, p: null }
        : { value: plainF, df1, df2: df, p: fisherUpper(plainF, df1, df) },
    get residuals() {
      return residuals();
    },
    spread: uncertainty?.spread,
    spreadIntervals: once(() => uncertainty?.spreadIntervals?.(confidence)),
    fit,
    fitted,
    design,
    question,
    estimate: (settings) => finish(fit.combine(design.weights(settings), constant)),
    difference(from, to) {
      const start = design.weights(from);
      return finish(
        fit.combine(
          design.weights(to).map(([high, low], j) => [high - start[j][0], low - start[j][1]]),
          constant,
        ),
      );
    },
    contrast(parts) {
      const each = parts.map(({ factor, settings }) => ({
        factor: [factor, 0] as const,
        weights: design.weights(settings),
      }));
      return finish(
        fit.combine(
          columns.map((_, j) =>
            each.reduce<Pair>((total, { factor, weights: at }) => add(total, multiply(factor, at[j])), [0, 0]),
          ),
          constant,
        ),
      );
    },
    test,
  };
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

/** Why a term with an estimate has no standard error. */
export function withoutError(label: string, errors: ErrorModel): string {
  return errors.kind === "robust"
    ? `the standard error of ${label}, because one row alone determines it`
    : `the standard error of ${label}, because too few groups of ${errors.by.name} determine it`;
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

function once<T>(make: () => T): () => T {
  let made: { value: T } | undefined;
  return () => (made ??= { value: make() }).value;
}

export function oneLevel(drivers: readonly Driver[]): Unestimated[] {
  return drivers.flatMap((driver) =>
    driver.kind === "category" && driver.levels.length < 2
      ? [
          {
            term: driver.name,
            reason: `${driver.name} has one level only${driver.levels.length ? ` (${driver.levels[0]})` : ""}, so it cannot be compared with another`,
          },
        ]
      : [],
  );
}

/** Why the term of a column has no estimate: it, or a column that depends on it, is a combination of others. */
export function explain(column: number, fit: LeastSquares, design: Design, drivers: readonly Driver[]): Unestimated {
  const { label, drivers: of, values, scale } = design.columns[column];
  const dependent = fit.dependent.find(
    (one) => one.column === column || one.combination.some((part) => part.column === column),
  );
  if (!dependent || dependent.rowsExhausted) {
    return {
      term: label,
      reason: `too few rows: ${fit.rows} ${fit.rows === 1 ? "row" : "rows"} cannot determine ${fit.columns} coefficients`,
    };
  }
  if (dependent.combination.length === 0) {
    return { term: label, reason: of.length > 1 ? `${label} occurs in no row` : `${label} is 0 in every row` };
  }
  const involved = [dependent.column, ...dependent.combination.map((part) => part.column)];
  const others = [...new Set(involved.filter((one) => one !== column && design.columns[one].drivers.length > 0))];
  if (others.length === 0) {
    const isNumber = of.length === 1 && drivers[of[0]].kind === "number";
    return {
      term: label,
      reason: `${label} is the same in every row${isNumber ? ` (${values.high[0] * scale})` : ""}`,
    };
  }
  const names = others.map((one) => design.columns[one].label);
  return {
    term: label,
    reason: `${label} always changes together with ${listOf(names)}: their effects cannot be separated`,
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
