/** How benchmarks measure and report. */
import { existsSync, readFileSync } from "node:fs";

/** What is wanted of a measurement, in numbers that a program can judge. */
export interface Goal {
  readonly atMost: number;
  /** Of the ratio ours / reference, or of our own value in its unit. */
  readonly of: "ratio" | "ours";
}

export interface Measurement {
  /** What is measured. It stays the same from run to run: a new value takes the old one's place by it. */
  readonly name: string;
  /** Our time, in ms unless a unit is given. */
  readonly ours: number;
  /** What it is compared with, and its time (or whatever is measured). */
  readonly reference: string;
  readonly referenceTime: number;
  readonly unit?: string;
  readonly goal: Goal;
  /** Where the goal may be missed: what is known of why. A missed goal without it says that nobody knows yet. */
  readonly why?: string;
}

/** The ratio is to be this or less. */
export const ratioAtMost = (atMost: number): Goal => ({ atMost, of: "ratio" });
/** Our own value is to be this or less, in the measurement's unit. */
export const oursAtMost = (atMost: number): Goal => ({ atMost, of: "ours" });

/** Asked for with --quick: every benchmark runs on a tenth of its rows, to see that it runs; nothing is kept. */
export const QUICK = process.argv.includes("--quick");

/** A size of data, or a tenth of it. */
export function sized(count: number): number {
  return QUICK ? Math.ceil(count / 10) : count;
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

/** Where Linux tells how long a thread has had a processor, in ns: the first of its numbers. */
const THREAD = "/proc/thread-self/schedstat";

/**
 * Processor time that the work takes of this thread, in ms: what else runs on the machine is not in it, nor are V8's
 * own threads, which nobody waits for. Where the system tells none of a thread, that of the process.
 */
export function processorTime(work: () => unknown): number {
  const now = existsSync(THREAD)
    ? () => Number(readFileSync(THREAD, "utf8").split(" ")[0]) / 1e6
    : () => (process.cpuUsage().user + process.cpuUsage().system) / 1000;
  const began = now();
  work();
  return now() - began;
}

/** The least of several runs. */
export function leastProcessorTime(runs: number, work: () => unknown): number {
  return Math.min(...Array.from({ length: runs }, () => processorTime(work)));
}

/** Normal and uniform numbers of a fixed seed. */
export { seededRandom } from "../samples/random";
