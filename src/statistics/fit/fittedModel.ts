/** A least squares fit with what is known of its scatter: estimates, terms and tests are told from it. */
import { fisherUpper, studentQuantile, studentTwoSided } from "../distributions/distributions";
import type { Uncertainty } from "../errors/errorModel";
import { add, multiply, type Pair } from "../numeric/doubleDouble";
import { inner } from "../numeric/symmetric";
import type { Design, DesignColumn, Setting } from "./designMatrix";
import type { Estimate, FTest, Term } from "./estimates";
import type { Combination, LeastSquares } from "./leastSquares";
import { once } from "./once";

export interface Fitting {
  readonly fit: LeastSquares;
  readonly design: Design;
  /** Whether the first column is the constant. */
  readonly constant: boolean;
  readonly confidence: number;
  /** Rows less coefficients. */
  readonly df: number;
  /** Standard deviation of single rows; null where no row is left to judge it. */
  readonly sd: number | null;
  /** Undefined where rows scatter alike and apart from each other. */
  readonly uncertainty: Uncertainty | undefined;
}

export class FittedModel {
  private readonly inverse = once(() => this.given.fit.inverseCross());

  constructor(private readonly given: Fitting) {}

  /** Fitted mean at settings (one per driver); undefined where the rows do not determine it. */
  estimate(settings: readonly Setting[]): Estimate | undefined {
    return this.told(this.combined(this.given.design.weights(settings)));
  }

  /** Difference of the fitted means at two settings, second less first. */
  difference(from: readonly Setting[], to: readonly Setting[]): Estimate | undefined {
    const start = this.given.design.weights(from);
    const end = this.given.design.weights(to);
    return this.told(this.combined(end.map(([high, low], j) => [high - start[j][0], low - start[j][1]])));
  }

  /** Σ factor · fitted mean at settings. */
  contrast(parts: readonly { readonly factor: number; readonly settings: readonly Setting[] }[]): Estimate | undefined {
    const { design } = this.given;
    const each = parts.map(({ factor, settings }) => ({
      factor: [factor, 0] as const,
      weights: design.weights(settings),
    }));
    const sum = (j: number) =>
      each.reduce<Pair>((total, { factor, weights }) => add(total, multiply(factor, weights[j])), [0, 0]);
    return this.told(this.combined(design.columns.map((_, j) => sum(j))));
  }

  /** The coefficient of a column; without numbers where the rows do not determine it. */
  term(index: number): Term {
    const { fit, design } = this.given;
    const { label, drivers } = design.columns[index];
    const estimate = fit.kept.includes(index) ? this.told(this.coefficient(index)) : undefined;
    if (!estimate) {
      const nothing = { estimate: null, standardError: null, t: null, df: null, p: null, low: null, high: null };
      return { label, drivers, ...nothing };
    }
    const { value, standardError, df, low, high } = estimate;
    // Nothing over nothing tells nothing.
    const t = standardError === null || (standardError === 0 && value === 0) ? null : value / standardError;
    const p = t === null || df === null ? null : studentTwoSided(t, df);
    return { label, drivers, estimate: value, standardError, t, df, p, low, high };
  }

  /** Tests that the coefficients of these columns of the design are all zero, given the others. */
  test(matches: (column: DesignColumn) => boolean): FTest {
    const { fit, design, sd, uncertainty } = this.given;
    const places = fit.kept.flatMap((column, place) => (matches(design.columns[column]) ? [place] : []));
    if (places.length === 0 || sd === null) return { value: null, df1: places.length, df2: null, p: null };
    return uncertainty ? this.testWith(uncertainty, places) : this.plainTest(places, sd);
  }

  private plainTest(places: readonly number[], sd: number): FTest {
    const { fit, df } = this.given;
    const all = this.inverse();
    const squares = quadraticForm(
      places.map((a) => places.map((b) => all[a][b])),
      places.map((place) => fit.coefficients[place][0]),
    );
    const value = squares / places.length / sd ** 2;
    return { value, df1: places.length, df2: df, p: fisherUpper(value, places.length, df) };
  }

  private testWith(uncertainty: Uncertainty, places: readonly number[]): FTest {
    const df1 = places.length;
    const combined = places.flatMap((place) => this.coefficient(this.given.fit.kept[place]) ?? []);
    const found =
      combined.length === df1
        ? uncertainty.joint(
            combined.map(({ along }) => along),
            combined.map((one) => this.valueOf(one)),
          )
        : undefined;
    return found
      ? { ...found, df1, p: fisherUpper(found.value, df1, found.df2) }
      : { value: null, df1, df2: null, p: null };
  }

  private combined(weights: readonly Pair[]): Combination | undefined {
    return this.given.fit.combine(weights, this.given.constant);
  }

  private coefficient(index: number): Combination | undefined {
    return this.combined(this.given.design.columns.map(({ scale }, j) => [j === index ? 1 / scale : 0, 0]));
  }

  private valueOf({ value, along }: Combination): number {
    const shift = this.given.uncertainty?.shift;
    return shift ? value + inner(along, shift) : value;
  }

  /** A combination of coefficients as an estimate; without an interval where its spread cannot be judged. */
  private told(combined: Combination | undefined): Estimate | undefined {
    if (!combined) return undefined;
    const { sd, df, confidence, uncertainty } = this.given;
    const value = this.valueOf(combined);
    const nothing = { value, standardError: null, df: null, low: null, high: null };
    if (sd === null) return nothing;
    const variance = uncertainty?.variance(combined.along);
    if (uncertainty && variance === undefined) return nothing;
    const standardError = variance === undefined ? combined.errorFactor * sd : Math.sqrt(variance);
    const free = uncertainty ? uncertainty.df(combined.along) : df;
    const half = standardError * studentQuantile(confidence, free);
    return { value, standardError, df: free, low: value - half, high: value + half };
  }
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
