/**
 * The types of all rooms but the numeric kernels, where an index into an array may give undefined
 * (noUncheckedIndexedAccess; tsconfig.rooms.json and tsconfig.kernels.json).
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { root } from "../install.mjs";
import { COMPILER } from "./compiler";
import { NOT_YET } from "./notYet.mjs";

/** Prints what is wrong and in how many places that are not mended yet. @returns whether all others are sound */
export function roomTypes(): boolean {
  const compiler = join(root, "node_modules", COMPILER);
  const { stdout, status } = spawnSync(process.execPath, [compiler, "-b", "tsconfig.rooms.json", "--pretty", "false"], {
    cwd: root,
    encoding: "utf8",
  });
  // Lines that begin with a blank go on with the one before them.
  const found = stdout.split(/\r?\n(?!\s)/).filter((line) => line !== "");
  const known = (line: string) => NOT_YET.some((file) => line.startsWith(`${file}(`));
  const wrong = found.filter((line) => !known(line));
  for (const line of wrong) process.stdout.write(`${line}\n`);
  if (found.length > wrong.length) process.stdout.write(`${found.length - wrong.length} indices not checked yet\n`);
  return wrong.length === 0 && (status === 0 || found.length > 0);
}
