/**
 * Whether this Excel hands a blank over as one: learned from the first blank that comes, and kept for its version, so
 * that zeros are pointed out no longer than needed.
 */
import type { BlankMemory } from "../hosts/excel/customFunctions";

const KEY = "bendbook.blanks";

export function blankMemory(): BlankMemory {
  let seen = false;
  return {
    seen: () => (seen ||= wasKept()),
    saw() {
      if (!seen) keep();
      seen = true;
    },
  };
}

/** Excel's version; undefined before Office is ready. */
function version(): string | undefined {
  try {
    return Office.context.diagnostics.version;
  } catch {
    return undefined;
  }
}

function wasKept(): boolean {
  const here = version();
  try {
    return here !== undefined && localStorage.getItem(KEY) === here;
  } catch {
    return false;
  }
}

function keep(): void {
  const here = version();
  try {
    if (here !== undefined) localStorage.setItem(KEY, here);
  } catch {
    // It is learned again the next time.
  }
}
