/**
 * The bootstrap as a user of the panel meets it: the shipped worker in a real browser, from its start to its answer.
 */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { startBench } from "../../tests/browser/workbenchPage";
import { bootstrapSteps, type BootstrapOrder } from "../../src/experiment/trust/drawnChecks";
import type { Order, JobMessage } from "../../src/panel/worker/messages";
import { fiveHundredRows } from "./fiveHundredRows";
import { best, ratioAtMost, type Measurement } from "./measure";

const RUNS = 5;
/** Two engines may differ in the last digits of a logarithm. */
const DIGITS = 10;

export async function workerBootstrapBench(): Promise<Measurement[]> {
  const question: BootstrapOrder = { question: fiveHundredRows(), draws: 10_000, seed: 1 };
  let ends: readonly (string | undefined)[] = [];
  const here = await best(3, () => {
    const steps = bootstrapSteps(question);
    for (;;) {
      const { done, value } = steps.next();
      if (!done) continue;
      ends = value.terms.map(({ low }) => low?.toPrecision(DIGITS));
      return;
    }
  });

  const bench = await startBench();
  try {
    const script = readdirSync(join(import.meta.dirname, "../../dist")).find((name) => /^worker\..*js$/.test(name));
    if (script === undefined) throw new Error("dist holds no worker's script");
    const page = await bench.browser.newPage();
    // Any page of the same origin will do; this one has nothing else to compute.
    await page.goto(`${bench.address}icon-32.png`);
    const order: Order<"bootstrap"> = { job: "bootstrap", question };
    const run = (at: { address: string; order: Order<"bootstrap"> }) =>
      new Promise<{ time: number; ends: readonly (number | null)[] }>((resolve, reject) => {
        const began = performance.now();
        const worker = new Worker(at.address);
        worker.onerror = ({ message }) => reject(new Error(message));
        worker.onmessage = ({ data }: MessageEvent<JobMessage<"bootstrap">>) => {
          if (data.kind === "failure") reject(new Error(data.message));
          if (data.kind !== "answer") return;
          worker.terminate();
          resolve({ time: performance.now() - began, ends: data.answer.terms.map(({ low }) => low) });
        };
        worker.postMessage(at.order);
      });
    let least = Infinity;
    for (let i = 0; i < RUNS; i++) {
      const answer = await page.evaluate(run, { address: bench.address + script, order });
      if (answer.ends.some((end, term) => end?.toPrecision(DIGITS) !== ends[term]))
        throw new Error("the worker's answer is another one");
      least = Math.min(least, answer.time);
    }
    return [
      {
        name: "the same bootstrap in the browser's worker, from its start to its answer",
        ours: least,
        reference: "the same steps in Node",
        referenceTime: here,
        goal: ratioAtMost(1.2),
      },
    ];
  } finally {
    await bench.close();
  }
}
