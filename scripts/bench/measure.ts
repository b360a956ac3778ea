/** How benchmarks measure and report. */

export interface Measurement {
  readonly name: string;
  /** Our time, in ms unless a unit is given. */
  readonly ours: number;
  /** What it is compared with, and its time (or whatever is measured). */
  readonly reference: string;
  readonly referenceTime: number;
  readonly unit?: string;
  /** What the ratio ours / reference should be, in words. */
  readonly goal: string;
}

/** The best of several runs, in ms: other work on the machine can only slow a run down. */
export async function best(runs: number, work: () => unknown): Promise<number> {
  let least = Infinity;
  for (let run = 0; run < runs; run++) {
    const began = performance.now();
    await work();
    least = Math.min(least, performance.now() - began);
  }
  return least;
}

/** Normal and uniform numbers of a fixed seed. */
export { seededRandom } from "../samples/random";
