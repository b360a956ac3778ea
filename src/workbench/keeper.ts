/**
 * Does some work soon after each change, never twice at once and never so often that it fills the time.
 */

/**
 * Edits are kept at once, each on its own, so the whole may wait. Rest between two runs: at least this many ms, and so
 * many times as long as a run took.
 */
const KEEP_AFTER = 1000;
const SHARE = 4;
/** The first begins so many ms after a change, not amid the keystroke that made it. */
const BEGIN_AFTER = 200;

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

export interface Keeper {
  /** Something changed: the work is due. */
  note(): void;
  /** Nothing is done any more. */
  stop(): void;
}

/** @param work is told of failures by throwing; `onFailure` hears the first of a row of them */
export function keeper(work: () => Promise<void>, onFailure: (problem: unknown) => void): Keeper {
  let due = false;
  let stopped = false;
  let failed = false;
  let running: Promise<void> | undefined;
  const run = async () => {
    await pause(BEGIN_AFTER);
    while (due && !stopped) {
      due = false;
      const began = performance.now();
      try {
        await work();
        failed = false;
      } catch (problem) {
        if (!failed) onFailure(problem);
        failed = true;
      }
      const took = performance.now() - began;
      await pause(Math.max(KEEP_AFTER, SHARE * took));
    }
    running = undefined;
  };
  return {
    note() {
      due = true;
      if (!stopped) running ??= run();
    },
    stop() {
      stopped = true;
    },
  };
}
