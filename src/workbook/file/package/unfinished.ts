/**
 * Files that must not outlive what makes them: parts of copies, rows put aside. A process that is told to stop takes
 * them away; what a process that was killed outright left is taken away by the next one. Node only.
 */
import { readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { isRunning } from "./processes";

const paths = new Set<string>();
let count = 0;
let watching = false;

/** Conventional exit codes of a process that a signal ended: 128 and the signal's number. */
const SIGNALS = { SIGHUP: 129, SIGINT: 130, SIGTERM: 143 } as const;

/** A name for a part beside the file that it will become; short, so that a long name of the file does no harm. */
export function partName(folder: string): string {
  return join(folder, `.bendbook-${process.pid}-${++count}.part`);
}

/** The path goes when the process is told to stop. @returns what to call once it is finished, or taken away */
export function unfinished(path: string): () => void {
  if (!watching) {
    watching = true;
    for (const [signal, code] of Object.entries(SIGNALS)) process.once(signal, () => process.exit(code));
    process.on("exit", clear);
  }
  paths.add(path);
  return () => paths.delete(path);
}

/** Takes away the parts that processes which are gone left in a folder. */
export function sweepParts(folder: string): void {
  for (const name of readdirSync(folder)) {
    const pid = /^\.bendbook-(\d+)-\d+\.part$/.exec(name)?.[1];
    if (pid !== undefined && Number(pid) !== process.pid && !isRunning(Number(pid)))
      rmSync(join(folder, name), { force: true });
  }
}

function clear(): void {
  for (const path of paths) rmSync(path, { recursive: true, force: true });
}
