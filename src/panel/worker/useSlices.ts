/**
 * Work of some tenths of a second done on the page in short slices, so that it stays alive; anew when the work changes.
 * What takes longer, or must be asked for, is a job for the worker.
 */
import { useEffect, useState } from "react";
import { messageOf } from "../frame/messageOf";

/** A slice lasts about so long, in ms; one step of the work may take longer. */
const SLICE = 16;

export type Sliced<Result> =
  | { readonly kind: "running"; readonly share: number }
  | { readonly kind: "done"; readonly result: Result }
  | { readonly kind: "failed"; readonly message: string };

/** @param make begins the work; keep the same function (useCallback) as long as the work is the same */
export function useSlices<Result>(make: () => Generator<number, Result>): Sliced<Result> {
  const [state, setState] = useState<{ of: typeof make; now: Sliced<Result> }>();
  useEffect(() => {
    let stopped = false;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const steps = make();
    const slice = () => {
      if (stopped) return;
      try {
        const end = performance.now() + SLICE;
        let share = 0;
        do {
          const { done, value } = steps.next();
          if (done) return setState({ of: make, now: { kind: "done", result: value } });
          share = value;
        } while (performance.now() < end);
        setState({ of: make, now: { kind: "running", share } });
        timer = setTimeout(slice, 0);
      } catch (problem) {
        setState({ of: make, now: { kind: "failed", message: messageOf(problem) } });
      }
    };
    timer = setTimeout(slice, 0);
    return () => {
      stopped = true;
      clearTimeout(timer);
    };
  }, [make]);
  return state?.of === make ? state.now : { kind: "running", share: 0 };
}
