/** The uncertainty budget of a bend measured with a ruler. */
import { bendOfGap } from "../../bank/bend";
import { propagate, type Input, type Propagated, type PropagationOptions } from "../../statistics/measure/propagation";
import { spread } from "../../statistics/measure/spread";
import {
  combinedUncertainty,
  uniformUncertainty,
  type CombinedUncertainty,
  type Contribution,
} from "../../statistics/measure/uncertainty";

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
}

export interface BudgetLine extends Contribution {
  readonly name: string;
  /** Its own distribution, about 0. */
  readonly input: Input;
  /** What one unit of it does to the bend. */
  readonly sensitivity: number;
}

export interface BendUncertainty extends CombinedUncertainty {
  readonly bend: number;
  readonly contributions: readonly BudgetLine[];
}

/**
 * Bend R − mean gap with its combined standard uncertainty (JCGM 100): the mean's own from repeated readings
 * (s/√n, n − 1 degrees of freedom), the ruler d/√12, marks, alignment, roundness and parallax a/√3, the diameter's tolerance at half its size.
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
}: BendBudget): BendUncertainty {
  const repeated = readings.length > 1 ? spread(readings, 0.95) : undefined;
  const gap = repeated ? repeated.mean : readings[0];
  const contributions = [
    ...(repeated ? [repeatedLine(repeated.standardDeviation, repeated.n)] : []),
    uniformLine("ruler", rulerDivision / 2, 1),
    uniformLine("marks", markError, 1),
    uniformLine("ball diameter", ballTolerance, 0.5),
    uniformLine("alignment", alignmentError, 1),
    uniformLine("obstacle's roundness", roundness, 1),
    uniformLine("parallax", parallax, 1),
  ];
  return { bend: bendOfGap(gap, ballDiameter), ...combinedUncertainty(contributions), contributions };
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

function repeatedLine(deviation: number, n: number): BudgetLine {
  const scale = deviation / Math.sqrt(n);
  return {
    name: "repeated readings",
    standard: scale,
    df: n - 1,
    sensitivity: 1,
    input: { kind: "t", mean: 0, scale, df: n - 1 },
  };
}

/** The same budget if the gap were read so many times with the scatter that the readings show; undefined for a single reading, which shows none. */
export function withReadings(budget: BendBudget, n: number): CombinedUncertainty | undefined {
  if (budget.readings.length < 2) return undefined;
  const { standardDeviation } = spread(budget.readings, 0.95);
  const [, ...rest] = bendUncertainty(budget).contributions;
  return n > 1
    ? combinedUncertainty([repeatedLine(standardDeviation, n), ...rest])
    : combinedUncertainty([{ standard: standardDeviation, df: budget.readings.length - 1 }, ...rest]);
}

/** The bend's distribution by drawing every line of the budget (JCGM 101), in steps. */
export function drawnBend(budget: BendBudget, options: PropagationOptions): Generator<number, Propagated> {
  const { bend, contributions } = bendUncertainty(budget);
  return propagate(
    contributions.map(({ input }) => input),
    (values) => values.reduce((sum, value, k) => sum + contributions[k].sensitivity * value, bend),
    options,
  );
}

/**
 * What a camera off the plumb line does to a reading of something above the ruler: by similar triangles, height × offset /
 * (camera's height − height).
 * @param height of what is read above the ruler's plane
 * @param offset of the camera, sideways from straight above
 * @example parallaxError(1, 10, 51) === 0.2
 */
export function parallaxError(height: number, offset: number, cameraHeight: number): number {
  return (height * offset) / (cameraHeight - height);
}
