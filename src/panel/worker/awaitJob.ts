/** A job's answer as a promise, for what needs nothing but the end. */
import type { Answer, JobName, JobInput } from "./jobs";
import { startJob } from "./startJob";

/** @throws Error with what the job failed by */
export function awaitJob<Name extends JobName>(job: Name, question: JobInput<Name>): Promise<Answer<Name>> {
  return new Promise((resolve, reject) => {
    startJob(job, question, (report) => {
      if (report.kind === "answer") resolve(report.answer);
      else if (report.kind === "failure") reject(new Error(report.message));
    });
  });
}
