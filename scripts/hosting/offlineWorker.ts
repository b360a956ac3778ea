/** The service worker of a written folder: src/workbench/offlineWorker.ts with the list of files in it. */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { buildSync } from "esbuild";
import { root } from "../install.mjs";

/** What belongs to the pane: Excel keeps that by its own rules. */
const OF_EXCEL = /^(taskpane\.|functions\.js)/;

/** @param names of the files in the folder @returns the script */
export function offlineWorker(folder: string, names: readonly string[]): string {
  const digest = (content: Buffer | string) => createHash("sha256").update(content);
  const files = Object.fromEntries(
    [...names]
      .filter((name) => !OF_EXCEL.test(name))
      .sort()
      .map((name) => [name, `sha256-${digest(readFileSync(join(folder, name))).digest("base64")}`]),
  );
  const list = JSON.stringify(files);
  const { outputFiles } = buildSync({
    entryPoints: [join(root, "src", "workbench", "offlineWorker.ts")],
    bundle: true,
    write: false,
    minify: true,
    format: "iife",
    target: "es2022",
    define: { FILES: list, VERSION: JSON.stringify(digest(list).digest("hex").slice(0, 16)) },
  });
  const [script] = outputFiles;
  if (script === undefined) throw new Error("The service worker could not be made.");
  return script.text;
}
