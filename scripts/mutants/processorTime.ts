/** How long the processors have worked for a group of processes. */
import { readdirSync, readFileSync } from "node:fs";

/** Ticks of Linux's clock in a second: the same on all machines that Node runs on. */
const TICKS = 100;

/**
 * Seconds that the processors have worked for the processes of a group and for those that have ended in it. Where the
 * system does not tell (no /proc), the clock's.
 * @param group the number of the process that leads it
 */
export function processorSeconds(group: number): number {
  // A process that ends while the others are looked at would be missed; afterwards its parent has its time.
  return Math.max(seenSeconds(group), seenSeconds(group));
}

function seenSeconds(group: number): number {
  let ticks = 0;
  let isKnown = false;
  for (const name of processes()) {
    const fields = statOf(name);
    if (fields === undefined || Number(fields[2]) !== group) continue;
    isKnown = true;
    // utime, stime and those of children that were waited for: fields 14 to 17, counted from 1 with number and name.
    for (const at of [11, 12, 13, 14]) ticks += Number(fields[at]);
  }
  return isKnown ? ticks / TICKS : performance.now() / 1000;
}

function processes(): string[] {
  try {
    return readdirSync("/proc").filter((name) => /^\d+$/.test(name));
  } catch {
    return [];
  }
}

/** What stands behind the process's name, in which there may be blanks. */
function statOf(name: string): string[] | undefined {
  try {
    const text = readFileSync(`/proc/${name}/stat`, "utf8");
    return text.slice(text.lastIndexOf(")") + 2).split(" ");
  } catch {
    return undefined;
  }
}
