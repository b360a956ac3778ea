/** Carries out a job step by step. */
import { JOBS, type Answer, type JobName } from "./jobs";
import type { Order, JobMessage } from "./messages";
import { messageOf } from "../frame/messageOf";

/** Progress is told at most this often, in ms. */
const TELL = 50;

/**
 * @param pause awaited whenever progress is told, so that a page that has no worker stays alive; a worker needs none
 * @param stopped asked after each step
 */
export async function carryOut(
  order: Order,
  tell: (report: JobMessage) => void,
  pause?: () => Promise<void>,
  stopped: () => boolean = () => false,
): Promise<void> {
  try {
    const job = JOBS[order.job] as (question: unknown) => Generator<number, Answer<JobName>>;
    const steps = job(order.question);
    let told = performance.now();
    for (;;) {
      const { done, value } = steps.next();
      if (stopped()) return;
      if (done) return tell({ kind: "answer", answer: value });
      if (performance.now() - told < TELL) continue;
      tell({ kind: "progress", share: value });
      await pause?.();
      told = performance.now();
    }
  } catch (problem) {
    tell({ kind: "failure", message: messageOf(problem) });
  }
}
