/** R as it is installed on the machine; benchmarks take webR where there is none. */
import { spawnSync } from "node:child_process";

/** The number that the code prints last, in an Rscript of its own; undefined where no R is installed. */
export function nativeR(code: string): number | undefined {
  const { status, stdout } = spawnSync("Rscript", ["--vanilla", "-e", code], { encoding: "utf8" });
  if (status !== 0) return undefined;
  const value = Number(stdout.trim().split(/\s+/).at(-1));
  return Number.isFinite(value) ? value : undefined;
}
