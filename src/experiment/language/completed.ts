/** Work in steps, done in one go. */

/** @example completed((function* () { yield 1; return 2; })()) === 2 */
export function completed<Result>(steps: Generator<unknown, Result>): Result {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}
