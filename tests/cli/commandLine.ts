/** Runs the command line as people do: a process of its own, in a folder. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";

export interface Outcome {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

const program = join(import.meta.dirname, "../../bin/bendbook.js");

/** @param folder where the command is called; asked for anew each time */
export function commandLine(folder: () => string): (...args: string[]) => Outcome {
  return (...args) => {
    const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...args], {
      encoding: "utf8",
      cwd: folder(),
    });
    return { status, out: stdout, err: stderr };
  };
}
