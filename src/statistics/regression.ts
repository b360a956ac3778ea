/**
 * Regression of one response on drivers: estimates, intervals, tests, predictions, influence.
 * May import: design.ts, leastSquares.ts, distributions.ts.
 */
import { buildDesign, type Design, type Driver, type Setting } from "./design";
import { fisherUpper, studentQuantile, studentTwoSided } from "./distributions";
import { exactColumn } from "./doubleDouble";
import { leastSquares, type LeastSquares } from "./leastSquares";

export interface Question {
  readonly response: ArrayLike<number>;
  readonly drivers: readonly Driver[];
  /** Pairs of drivers (indices) whose effects may depend on each other. */
  readonly joint?: readonly (readonly [number, number])[];
  /** False forces the fit through the origin. */
  readonly constant?: boolean;
  /** Confidence of every interval, 0.95 unless said. */
  readonly confidence?: number;
}

/** One coefficient. Parts that the rows cannot give are null. */
export interface Term {
  readonly label: string;
  readonly drivers: readonly number[];
  readonly estimate: number | null;
  readonly standardError: number | null;
  readonly t: number | null;
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
  readonly df2: number;
  readonly p: number | null;
}

/** An estimate with its standard error and interval; null where no spread can be judged. */
export interface Estimate {
  readonly value: number;
  readonly standardError: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

export interface Regression {
  readonly rows: number;
  readonly confidence: number;
  readonly terms: readonly Term[];
  readonly unestimated: readonly Unestimated[];
  readonly residual: { readonly sd: number | null; readonly df: number };
  /** Share of the response's variation that goes with the drivers; null when the response never varies. */
  readonly rSquared: number | null;
  /** All drivers together against none. */
  readonly F: FTest;
  readonly residuals: Float64Array;
  readonly fit: LeastSquares;
  readonly design: Design;
  readonly question: Question;
  /** Fitted mean at settings (one per driver); undefined where the rows do not determine it. */
  estimate(settings: readonly Setting[]): Estimate | undefined;
  /** Difference of the fitted means at two settings, second less first. */
  difference(from: readonly Setting[], to: readonly Setting[]): Estimate | undefined;
}

/**
 * Fits by least squares.
 * @returns estimates in the response's unit per driver's unit
 * @throws RangeError when there is no row, lengths differ, or a value is not finite
 * @example regress({ response: [1, 3, 5, 8], drivers: [{ kind: "number", name: "x", values: [0, 1, 2, 3], degree: 1 }] }).terms[1].estimate // 2.3
 */
export function regress(question: Question): Regression {
  const { response, drivers, joint = [], constant = true, confidence = 0.95 } = question;
  const rows = response.length;
  if (rows === 0) throw new RangeError("no rows to fit");
  for (const { name, values } of [{ name: "response", values: response }, ...drivers]) {
    if (values.length !== rows) throw new RangeError(`${name} has ${values.length} rows where the response has ${rows}`);
    for (let i = 0; i < rows; i++) if (!Number.isFinite(values[i])) throw new RangeError(`${name} is ${values[i]} in row ${i + 1}`);
  }
  const design = buildDesign(rows, drivers, joint, constant);
  const columns = design.columns;
  const fit = leastSquares(columns.map((column) => column.values), exactColumn(response));
  const df = rows - fit.kept.length;
  const sd = df > 0 ? Math.sqrt(fit.residualSquares / df) : null;
  const quantile = df > 0 ? studentQuantile(confidence, df) : null;

  const finish = (combined: { value: number; errorFactor: number } | undefined): Estimate | undefined => {
    if (!combined) return undefined;
    const { value, errorFactor } = combined;
    const standardError = sd === null ? null : errorFactor * sd;
    const half = standardError === null || quantile === null ? null : standardError * quantile;
    return { value, standardError, low: half === null ? null : value - half, high: half === null ? null : value + half };
  };

  const position = new Map(fit.kept.map((column, place) => [column, place]));
  const terms = columns.map(({ label, drivers: of, scale }, index): Term => {
    const missing = { label, drivers: of, estimate: null, standardError: null, t: null, p: null, low: null, high: null };
    if (!position.has(index)) return missing;
    const estimate = finish(fit.combine(columns.map((_, j) => [j === index ? 1 / scale : 0, 0]), constant));
    if (!estimate) return missing;
    const { value, standardError, low, high } = estimate;
    const t = standardError === null ? null : value / standardError;
    return { label, drivers: of, estimate: value, standardError, t, p: t === null ? null : studentTwoSided(t, df), low, high };
  });

  const first = constant ? 1 : 0;
  const explained = fit.sequentialSquares.reduce((total, square, place) => (constant && fit.kept[place] === 0 ? total : total + square), 0);
  const total = explained + fit.residualSquares;
  const varies = total > 0;
  const df1 = fit.kept.length - first;
  const value = sd === null || df1 === 0 || !varies ? null : explained / df1 / (fit.residualSquares / df);
  return {
    rows,
    confidence,
    terms,
    unestimated: [...oneLevel(drivers), ...terms.flatMap((term, index) => (term.estimate === null ? [explain(index, fit, design, drivers)] : []))],
    residual: { sd, df },
    rSquared: varies ? explained / total : null,
    F: { value, df1, df2: df, p: value === null ? null : fisherUpper(value, df1, df) },
    residuals: fit.residuals,
    fit,
    design,
    question,
    estimate: (settings) => finish(fit.combine(design.weights(settings), constant)),
    difference(from, to) {
      const start = design.weights(from);
      return finish(fit.combine(design.weights(to).map(([high, low], j) => [high - start[j][0], low - start[j][1]]), constant));
    },
  };
}

function oneLevel(drivers: readonly Driver[]): Unestimated[] {
  return drivers.flatMap((driver) =>
    driver.kind === "category" && driver.levels.length < 2
      ? [{ term: driver.name, reason: `${driver.name} has one level only${driver.levels.length ? ` (${driver.levels[0]})` : ""}, so it cannot be compared with another` }]
      : [],
  );
}

/** Why the term of a column has no estimate: it, or a column that depends on it, is a combination of others. */
function explain(column: number, fit: LeastSquares, design: Design, drivers: readonly Driver[]): Unestimated {
  const { label, drivers: of, values, scale } = design.columns[column];
  const dependent = fit.dependent.find((one) => one.column === column || one.combination.some((part) => part.column === column));
  if (!dependent || dependent.rowsExhausted) {
    return { term: label, reason: `too few rows: ${fit.rows} rows cannot determine ${fit.columns} coefficients` };
  }
  if (dependent.combination.length === 0) {
    return { term: label, reason: of.length > 1 ? `${label} occurs in no row` : `${label} is 0 in every row` };
  }
  const involved = [dependent.column, ...dependent.combination.map((part) => part.column)];
  const others = [...new Set(involved.filter((one) => one !== column && design.columns[one].drivers.length > 0))];
  if (others.length === 0) {
    const isNumber = of.length === 1 && drivers[of[0]].kind === "number";
    return { term: label, reason: `${label} is the same in every row${isNumber ? ` (${values.high[0] * scale})` : ""}` };
  }
  const names = others.map((one) => design.columns[one].label);
  return { term: label, reason: `${label} always changes together with ${listOf(names)}: their effects cannot be separated` };
}

function listOf(names: readonly string[]): string {
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`;
}
