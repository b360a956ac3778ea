/**
 * Waits for a calculation of the whole workbook that nothing cut short.
 *
 * Univer starts calculations of its own (after functions are registered, after a result was written), and a start stops
 * the calculation that is under way: results are then missing, spills first. So a run that was stopped is asked for
 * again.
 */
import type { Observable } from "rxjs";

/** What is used of Univer's calculation session. */
export interface Session {
  readonly state: SessionState;
  readonly state$: Observable<SessionState>;
}

export interface SessionState {
  readonly id: number;
  readonly completed: boolean;
  readonly stopped: boolean;
  readonly resultApplied: boolean;
}

/** How long a stopped run may rest before it counts as given up, in ms. */
const REST_MS = 300;
/** A run that says nothing for so many turns of the clock has been lost: while it computes, the clock stands still. */
const TURN_MS = 100;
const SILENT_TURNS = 20;
const MOST_ATTEMPTS = 12;

/**
 * Starts a calculation and resolves when one has run to its end, its results stand in the cells and no other is under
 * way.
 * @param start asks for a calculation of everything
 * @param patience in ms, for each attempt
 * @throws Error when the calculation does not end in time or is cut short again and again
 */
export async function wholeCalculation(session: Session, start: () => void, patience: number): Promise<void> {
  for (let attempt = 0; attempt < MOST_ATTEMPTS; attempt++) {
    const before = session.state.id;
    start();
    if (await endedWhole(session, before, patience)) return;
  }
  throw new Error("The calculation was cut short again and again. Open the workbook once more.");
}

function endedWhole(session: Session, before: number, patience: number): Promise<boolean> {
  return new Promise((resolve, reject) => {
    let everStopped = false;
    let silent = 0;
    let rest: ReturnType<typeof setTimeout> | undefined;
    const end = (outcome: boolean | Error) => {
      clearTimeout(late);
      clearTimeout(rest);
      clearInterval(clock);
      watching.unsubscribe();
      if (outcome instanceof Error) reject(outcome);
      else resolve(outcome);
    };
    const late = setTimeout(
      () => end(new Error(`The calculation did not end within ${Math.round(patience / 60000)} minutes.`)),
      patience,
    );
    const clock = setInterval(() => {
      if (++silent >= SILENT_TURNS) end(false);
    }, TURN_MS);
    const look = (state: SessionState) => {
      silent = 0;
      clearTimeout(rest);
      if (state.id <= before) return;
      if (state.stopped) everStopped = true;
      if (!state.completed || !state.resultApplied) return;
      // What was written may have set off another run: the end counts when it still is the end a moment later.
      rest = setTimeout(() => end(!everStopped), state.stopped ? REST_MS : 0);
    };
    const watching = session.state$.subscribe((state) => queueMicrotask(() => look(state)));
  });
}
