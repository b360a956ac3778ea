/** A job as a component sees it. */
import { useCallback, useEffect, useRef, useState } from "react";
import type { Answer, JobName, JobInput } from "./jobs";
import { startJob } from "./startJob";

type JobState<Name extends JobName> =
  | { readonly kind: "idle" }
  /** `share` of 1 that is done. */
  | { readonly kind: "running"; readonly share: number }
  | { readonly kind: "done"; readonly answer: Answer<Name> }
  | { readonly kind: "failed"; readonly message: string };

export interface Job<Name extends JobName> {
  readonly state: JobState<Name>;
  /** Ends the one that runs, if any, and starts anew. */
  start(question: JobInput<Name>): void;
  cancel(): void;
}

/** Ends the job when the component goes. */
export function useJob<Name extends JobName>(name: Name): Job<Name> {
  const [state, setState] = useState<JobState<Name>>({ kind: "idle" });
  const stop = useRef<() => void>();
  const start = useCallback(
    (question: JobInput<Name>) => {
      stop.current?.();
      setState({ kind: "running", share: 0 });
      stop.current = startJob(name, question, (report) =>
        setState(
          report.kind === "progress"
            ? { kind: "running", share: report.share }
            : report.kind === "answer"
              ? { kind: "done", answer: report.answer }
              : { kind: "failed", message: report.message },
        ),
      );
    },
    [name],
  );
  const cancel = useCallback(() => {
    stop.current?.();
    setState({ kind: "idle" });
  }, []);
  useEffect(() => () => stop.current?.(), []);
  return { state, start, cancel };
}
