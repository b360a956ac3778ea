/** npm run docs: the pages of docs/ that are made from the sources. A test holds them to what this makes. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { commandsPage } from "./docs/commandsPage";
import { functionsPage } from "./docs/functionsPage";
import { viewsPage } from "./docs/viewsPage";

const root = join(import.meta.dirname, "..");

/** Each page by its name in docs/. */
export const PAGES: Readonly<Record<string, () => string>> = {
  "commands.md": commandsPage,
  "functions.md": functionsPage,
  "views.md": viewsPage,
};

// Tests import this file too; only scripts/run.mjs starts it.
if (/[\\/]run\.mjs$/.test(process.argv[1] ?? "")) {
  for (const [name, page] of Object.entries(PAGES)) writeFileSync(join(root, "docs", name), page());
}
