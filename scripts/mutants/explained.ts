/** Why a fault that no test notices is let live: it changes nothing, or nothing that anybody could say is wrong. */

interface Explained {
  readonly file: string;
  /** Part of the line that the fault stands in. */
  readonly line: string;
  readonly from: string;
  readonly to: string;
  readonly why: string;
}

export const EXPLAINED: readonly Explained[] = [];
