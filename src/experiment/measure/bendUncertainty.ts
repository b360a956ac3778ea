/** The uncertainty budget of a bend measured with a ruler. */
import { bendOfGap } from "../../bank/bend";
import { propagate, type Input, type Propagated, type PropagationOptions } from "../../statistics/measure/propagation";
import { roundingOfMean, scatterBehind } from "../../statistics/measure/rounding";
import { spread, type SpreadEstimate } from "../../statistics/measure/spread";
import {
  carefullyCombined,
  uniformUncertainty,
  type CombinedUncertainty,
  type Contribution,
} from "../../statistics/measure/uncertainty";
import { there } from "../../there";

/** How single readings of one layout scatter, as earlier ones read more than once by the same ruler showed it. */
export interface KnownScatter {
  /** Standard deviation in the budget's unit, what the ruler's rounding adds included. */
  readonly standard: number;
  /** Degrees of freedom behind it; Infinity where it is taken as known. */
  readonly df: number;
}

/** All in one length unit. Half-widths are of errors that may lie anywhere within them alike. */
export interface BendBudget {
  /** Gap readings of one layout; repeated readings give a type A contribution. */
  readonly readings: readonly number[];
  readonly ballDiameter: number;
  /** Smallest division of the ruler: a reading is anywhere within half of it, alike. */
  readonly rulerDivision: number;
  /** Half-width of where the near mark may stand. */
  readonly markError: number;
  /** Half-width of the ball's diameter. */
  readonly ballTolerance: number;
  /** Half-width of how far the sighted line may be off. */
  readonly alignmentError: number;
  /** Half-width of the radius of an obstacle that is not quite round; 0 when left out. */
  readonly roundness?: number;
  /** Half-width of what parallax does to a reading, as parallaxError gives it; 0 when left out. */
  readonly parallax?: number;
  /** What the departure gate takes off R − gap, and the half-width of that; 0 when left out. */
  readonly correction?: number;
  readonly correctionError?: number;
  /** Known from earlier readings; the readings themselves tell it where it is left out. */
  readonly scatter?: KnownScatter;
}

export interface BudgetLine extends Contribution {
  readonly name: string;
  /** Its own distribution, about 0. */
  readonly input: Input;
  /** What one unit of it does to the bend. */
  readonly sensitivity: number;
}

export interface BendUncertainty extends CombinedUncertainty {
  /** Of the path: the set bend less what the departure gate takes off. */
  readonly bend: number;
  /** R − mean gap. */
  readonly setBend: number;
  readonly contributions: readonly BudgetLine[];
  /**
   * False of a single reading whose scatter nobody knows: the uncertainty is then a lower bound, and nothing can be
   * claimed.
   */
  readonly scatterKnown: boolean;
}

/**
 * Set bend R − mean gap, less what the departure gate takes off, with its combined standard uncertainty (JCGM 100): the
 * readings' own scatter σ/√n, what rounding by the ruler leaves of d/√12 in their mean, marks, alignment, roundness,
 * parallax and the gate a/√3, the diameter's tolerance at half its size. Readings that show less scatter than rounding
 * by itself makes are taken to show d²/12, since rounding hides what is below; a scatter known from earlier readings is
 * pooled with theirs by degrees of freedom.
 * @example bendUncertainty({ readings: [0.125], ballDiameter: 2.25, rulerDivision: 0.0625, markError: 0, ballTolerance: 0, alignmentError: 0 }).standard // 0.0180421959
 */
export function bendUncertainty({
  readings,
  ballDiameter,
  rulerDivision,
  markError,
  ballTolerance,
  alignmentError,
  roundness = 0,
  parallax = 0,
  correction = 0,
  correctionError = 0,
  scatter,
}: BendBudget): BendUncertainty {
  const repeated = readings.length > 1 ? spread(readings, 0.95) : undefined;
  const gap = repeated ? repeated.mean : (readings[0] ?? NaN);
  const shown = shownScatter(repeated, rulerDivision, scatter);
  const contributions = [
    ...readingLines(shown, rulerDivision, readings.length),
    uniformLine("marks", markError, 1),
    uniformLine("ball diameter", ballTolerance, 0.5),
    uniformLine("alignment", alignmentError, 1),
    uniformLine("obstacle's roundness", roundness, 1),
    uniformLine("parallax", parallax, 1),
    ...(correction === 0 && correctionError === 0 ? [] : [uniformLine("departure gate", correctionError, 1)]),
  ];
  const setBend = bendOfGap(gap, ballDiameter);
  return {
    bend: setBend - correction,
    setBend,
    ...carefullyCombined(contributions),
    contributions,
    scatterKnown: shown !== undefined,
  };
}

/** What is known of the scatter before rounding. */
interface Shown {
  readonly scatter: number;
  readonly df: number;
  /** The scatter by which readings are taken to share their rounding: the less, the more they share. */
  readonly sharing: number;
}

function shownScatter(
  repeated: Pick<SpreadEstimate, "n" | "standardDeviation"> | undefined,
  division: number,
  known: KnownScatter | undefined,
): Shown | undefined {
  const own = repeated && { variance: repeated.standardDeviation ** 2, df: repeated.n - 1 };
  if (known) {
    const pooled =
      own && Number.isFinite(known.df)
        ? {
            variance: (known.df * known.standard ** 2 + own.df * own.variance) / (known.df + own.df),
            df: known.df + own.df,
          }
        : { variance: known.standard ** 2, df: known.df };
    const scatter = scatterBehind(pooled.variance, division);
    return { scatter, df: pooled.df, sharing: scatter };
  }
  return (
    own && {
      scatter: scatterBehind(Math.max(own.variance, division ** 2 / 12), division),
      df: own.df,
      sharing: scatterBehind(own.variance, division),
    }
  );
}

/** What the readings' scatter and rounding do to the mean of n. */
function readingLines(shown: Shown | undefined, division: number, n: number): BudgetLine[] {
  if (!shown) return [uniformLine("ruler", division / 2, 1)];
  const scale = shown.scatter / Math.sqrt(n);
  const { df } = shown;
  const input: Input = Number.isFinite(df)
    ? { kind: "t", mean: 0, scale, df }
    : { kind: "normal", mean: 0, standard: scale };
  return [
    { name: n > 1 ? "repeated readings" : "scatter of readings", standard: scale, df, sensitivity: 1, input },
    uniformLine("ruler", Math.sqrt(3 * roundingOfMean(shown.sharing, division, n)), 1),
  ];
}

function uniformLine(name: string, halfWidth: number, sensitivity: number): BudgetLine {
  return {
    name,
    standard: sensitivity * uniformUncertainty(halfWidth),
    df: Infinity,
    sensitivity,
    input: { kind: "uniform", low: -halfWidth, high: halfWidth },
  };
}

/**
 * The same budget if the gap were read so many times with the scatter that is known or shown; undefined where none is.
 */
export function withReadings(budget: BendBudget, n: number): CombinedUncertainty | undefined {
  const { readings, rulerDivision, scatter } = budget;
  const shown = shownScatter(readings.length > 1 ? spread(readings, 0.95) : undefined, rulerDivision, scatter);
  if (!shown) return undefined;
  const rest = bendUncertainty(budget).contributions.slice(2);
  // Few degrees of freedom now are no more later, but n readings then bring n − 1 of their own.
  const df = n > 1 && !scatter ? n - 1 : shown.df;
  return carefullyCombined([...readingLines({ ...shown, df }, rulerDivision, n), ...rest]);
}

/** The bend's distribution by drawing every line of the budget (JCGM 101), in steps. */
export function drawnBend(budget: BendBudget, options: PropagationOptions): Generator<number, Propagated> {
  const { bend, contributions } = bendUncertainty(budget);
  return propagate(
    contributions.map(({ input }) => input),
    (values) =>
      values.reduce((sum, value, k) => sum + there(contributions[k], "a contribution").sensitivity * value, bend),
    options,
  );
}

/**
 * What a camera off the plumb line does to a reading of something above the ruler: by similar triangles, height ×
 * offset / (camera's height − height).
 * @param height of what is read above the ruler's plane
 * @param offset of the camera, sideways from straight above
 * @example parallaxError(1, 10, 51) === 0.2
 */
export function parallaxError(height: number, offset: number, cameraHeight: number): number {
  return (height * offset) / (cameraHeight - height);
}
