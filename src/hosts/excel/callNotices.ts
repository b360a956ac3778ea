/**
 * What calls of the functions tell about this Excel, for the pane to say: a list of functions that is not ours, and
 * blanks that may have become zeros. It stands between the script of the functions and that of the pane.
 */

/** A call with another number of arguments than the function takes: Excel keeps an older or a newer functions.json. */
interface Outdated {
  readonly name: string;
  readonly given: number;
  readonly takes: number;
}

export interface CallNotices {
  readonly outdated?: Outdated;
  /** Name of the first function that was given a 0 where this Excel may mean a blank. */
  readonly zeros?: string;
}

let noticed: CallNotices = {};
const listeners = new Set<(notices: CallNotices) => void>();

/** Remembers what was met first. */
export function notice(one: CallNotices): void {
  const isNew = (one.outdated && !noticed.outdated) || (one.zeros && !noticed.zeros);
  if (!isNew) return;
  noticed = { ...one, ...noticed };
  for (const listener of listeners) listener(noticed);
}

/** Tells of what was met and what is met from now on. */
export function onNotice(listener: (notices: CallNotices) => void): void {
  listeners.add(listener);
  listener(noticed);
}
