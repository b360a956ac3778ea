/** The uncertainty budget of a bend measured with a ruler. May import: bank/bend.ts, statistics/. */
import { bendOfGap } from "../bank/bend";
import { spread } from "../statistics/spread";
import { combinedUncertainty, uniformUncertainty, type CombinedUncertainty, type Contribution } from "../statistics/uncertainty";

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
}

export interface BendUncertainty extends CombinedUncertainty {
  readonly bend: number;
  readonly contributions: readonly (Contribution & { readonly name: string })[];
}

/**
 * Bend R − mean gap with its combined standard uncertainty (JCGM 100): the mean's own from repeated readings
 * (s/√n, n − 1 degrees of freedom), the ruler d/√12, marks and alignment a/√3, the diameter's tolerance at half its size.
 * @example bendUncertainty({ readings: [0.125], ballDiameter: 2.25, rulerDivision: 0.0625, markError: 0, ballTolerance: 0, alignmentError: 0 }).standard // 0.0180421959
 */
export function bendUncertainty({ readings, ballDiameter, rulerDivision, markError, ballTolerance, alignmentError }: BendBudget): BendUncertainty {
  const repeated = readings.length > 1 ? spread(readings, 0.95) : undefined;
  const gap = repeated ? repeated.mean : readings[0];
  const contributions = [
    ...(repeated ? [{ name: "repeated readings", standard: repeated.standardDeviation / Math.sqrt(repeated.n), df: repeated.n - 1 }] : []),
    { name: "ruler", standard: uniformUncertainty(rulerDivision / 2), df: Infinity },
    { name: "marks", standard: uniformUncertainty(markError), df: Infinity },
    { name: "ball diameter", standard: uniformUncertainty(ballTolerance / 2), df: Infinity },
    { name: "alignment", standard: uniformUncertainty(alignmentError), df: Infinity },
  ];
  return { bend: bendOfGap(gap, ballDiameter), ...combinedUncertainty(contributions), contributions };
}
