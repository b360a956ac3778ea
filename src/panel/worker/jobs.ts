/**
 * What can be computed beside the page: each job by its name. No page, no React: this
 * runs in a worker.
 *
 * A job is a generator: it takes a question, yields the share that is done (0 to 1) after each step of some
 * milliseconds, and returns the answer. Question, answer and what it throws must survive structured cloning: data only,
 * no functions.
 */
import { drawnBend, type BendBudget } from "../../experiment/measure/bendUncertainty";
import { calibrationSteps } from "../../experiment/calibrate/calibration";
import { bootstrapSteps, permutationSteps } from "../../experiment/trust/drawnChecks";
import { residualEnvelope } from "../../statistics/checks/residualEnvelope";
import { nextAttemptsSteps, nextSteps } from "./nextJob";
import { reachSteps, targetSteps } from "./reachJob";
import type { PropagationOptions } from "../../statistics/measure/propagation";

export const JOBS = {
  calibration: calibrationSteps,
  envelope: residualEnvelope,
  bootstrap: bootstrapSteps,
  permutation: permutationSteps,
  reach: reachSteps,
  target: targetSteps,
  next: nextSteps,
  nextAttempts: nextAttemptsSteps,
  bend: ({ budget, options }: { readonly budget: BendBudget; readonly options: PropagationOptions }) =>
    drawnBend(budget, options),
};

type Jobs = typeof JOBS;
export type JobName = keyof Jobs;
export type JobInput<Name extends JobName> = Parameters<Jobs[Name]>[0];
export type Answer<Name extends JobName> =
  ReturnType<Jobs[Name]> extends Generator<number, infer Result> ? Result : never;
