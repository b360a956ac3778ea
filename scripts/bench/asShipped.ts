/**
 * Runs a script of this folder in a process of its own, bundled as the command line is: the loader that runs TypeScript
 * names each function that is made within another, which takes time that nobody's program takes.
 */
import { execFile } from "node:child_process";
import { join } from "node:path";
import { promisify } from "node:util";
import { build } from "esbuild";
import { COMMAND_LINE } from "../build.mjs";
import { root } from "../install.mjs";

/** @returns what the script prints, which is JSON @param args to it, besides those of the bench itself */
export async function asShipped<Found>(script: string, ...args: readonly string[]): Promise<Found> {
  const bundle = join(root, ".cache", "bench", `${script}.mjs`);
  const entry = join(import.meta.dirname, `${script}.ts`);
  await build({ ...COMMAND_LINE, entryPoints: [entry], outfile: bundle, packages: "external" });
  const { stdout } = await promisify(execFile)(process.execPath, [bundle, ...process.argv.slice(2), ...args]);
  return JSON.parse(stdout) as Found;
}
