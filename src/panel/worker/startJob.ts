/** Starts a job in a worker of its own, or in pieces on the page where there are no workers. */
import type { JobName, JobInput } from "./jobs";
import type { JobMessage } from "./messages";

const DIED = "the computation broke off: try again, or with fewer rows";

/**
 * @param tell called with progress, and once with the answer or a failure
 * @returns how to stop it; nothing is told after that
 */
export function startJob<Name extends JobName>(
  job: Name,
  question: JobInput<Name>,
  tell: (report: JobMessage<Name>) => void,
): () => void {
  let stopped = false;
  let end = () => {};
  const hear = (report: JobMessage) => {
    if (stopped) return;
    if (report.kind !== "progress") {
      stopped = true;
      end();
    }
    tell(report as JobMessage<Name>);
  };
  const onPage = () => {
    const pause = () => new Promise<void>((resolve) => setTimeout(resolve, 0));
    // The page that has workers never needs it: it comes when it does.
    void import("./carryOut").then(
      ({ carryOut }) => carryOut({ job, question }, hear, pause, () => stopped),
      () => hear({ kind: "failure", message: DIED }),
    );
  };
  if (typeof Worker === "undefined") onPage();
  else {
    const worker = new Worker(/* webpackChunkName: "worker" */ new URL("./worker.ts", import.meta.url));
    end = () => worker.terminate();
    let spoke = false;
    worker.onmessage = ({ data }: MessageEvent<JobMessage>) => {
      spoke = true;
      hear(data);
    };
    worker.onerror = ({ message }) => {
      // A script that cannot be had, because the server is gone, says nothing: then the page does the work.
      if (spoke || message) hear({ kind: "failure", message: message ? `${DIED} (${message})` : DIED });
      else onPage();
    };
    worker.onmessageerror = () => hear({ kind: "failure", message: DIED });
    worker.postMessage({ job, question });
  }
  return () => {
    stopped = true;
    end();
  };
}
