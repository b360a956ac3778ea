/** Work in steps: all of it at once, or in turns between which a page looks after its user. */

/** How long a turn is, in ms. */
const TURN_MS = 15;

/** Lets the page do what waits, and goes on in a task of its own. */
export function turn(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve));
}

/** Takes all steps at once; gives what the last one gave. */
export function last<Result>(steps: Generator<unknown, Result>): Result {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

/** Takes steps as long as nobody is kept waiting, then goes on a little later; gives what the last step gave. */
export async function inTurns<Result>(steps: Generator<unknown, Result>): Promise<Result> {
  let end = performance.now() + TURN_MS;
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    if (performance.now() < end) continue;
    await turn();
    end = performance.now() + TURN_MS;
  }
}
