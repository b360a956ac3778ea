/** Waiting that a person may end. */

/** What the promise gives, or at once what the signal was ended with; what was waited for is then nobody's. */
export function orStopped<T>(wait: Promise<T>, stopped: AbortSignal | undefined): Promise<T> {
  if (!stopped) return wait;
  return new Promise((resolve, reject) => {
    const stop = () => reject(stopped.reason);
    if (stopped.aborted) stop();
    stopped.addEventListener("abort", stop, { once: true });
    wait.then(resolve, reject).finally(() => stopped.removeEventListener("abort", stop));
  });
}

/** The steps, none of which is taken once the signal is ended. */
export function* stepsUntil<Result>(
  steps: Generator<void, Result>,
  stopped: AbortSignal | undefined,
): Generator<void, Result> {
  for (;;) {
    stopped?.throwIfAborted();
    const step = steps.next();
    if (step.done) return step.value;
    yield;
  }
}
