/** What a claim is: something that the program says of its own answers, and the simulation that holds it to account. */
import type { Random } from "../../src/statistics/numeric/drawer";

/** What is simulated, and what is counted in it. */
export interface NumberClaim {
  /** What is claimed, in one or two sentences for a reader of docs/evidence.md. */
  readonly claim: string;
  /** How the rows are made, what is varied and what is counted. */
  readonly how: string;
  readonly seed: number;
  /** Replicates of each cell, enough that the goal can be told from the nearest number that misses it. */
  readonly replicates: number;
  readonly cells: readonly Cell[];
}

export interface Cell {
  /** What sets it apart, such as "3 sessions, ratio 0.6". */
  readonly cell: string;
  readonly measures: readonly Measure[];
  /**
   * One replicate: an outcome for each measure, in their order. A yes or no is counted as a share, a number is
   * averaged, undefined stands for "no answer given" and is counted apart.
   */
  once(random: Random): readonly (boolean | number | undefined)[];
}

export interface Measure {
  readonly measure: string;
  /** What the share or the mean should be; without one it is told and not judged. */
  readonly goal?: { readonly least?: number; readonly most?: number };
}
