/**
 * The built pages and the manifest as a folder that any web server of static files can give out: the pane and the
 * functions for Excel, and the page with the embedded spreadsheet.
 */
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "../install.mjs";
import { readManifest, withOrigin, withVersion } from "../manifest";

/** Lists what was written, so that the next time these files and no others are replaced. */
const LIST = "bendbook-files.txt";
/** Of the built files, what no web server is to give out. */
const KEPT_BACK = /^(\.|cli|manifest\.xml$)/;

export interface Site {
  readonly origin: string;
  /** Absolute path. */
  readonly folder: string;
  readonly version: string;
}

/**
 * Writes the folder, or writes it anew. @returns names of the files, sorted
 * @throws Error when the folder holds files that were not written here
 */
export function writeSite({ origin, folder, version }: Site): string[] {
  const before = existsSync(folder) ? readdirSync(folder) : [];
  const ours = before.includes(LIST) ? readFileSync(join(folder, LIST), "utf8").split("\n") : [];
  const others = before.filter((name) => name !== LIST && !ours.includes(name));
  if (others.length > 0)
    throw new Error(
      `--out is "${folder}", which holds ${others.length === 1 ? `"${others[0]}"` : `"${others[0]}" and ${others.length - 1} more`} that Bendbook did not write: give a new or an empty folder.`,
    );
  for (const name of [...ours, LIST]) if (name !== "") rmSync(join(folder, name), { force: true });
  mkdirSync(folder, { recursive: true });
  const dist = join(root, "dist");
  const built = readdirSync(dist).filter((name) => !KEPT_BACK.test(name));
  for (const name of built) cpSync(join(dist, name), join(folder, name));
  // A folder's address opens the page with the embedded spreadsheet.
  cpSync(join(dist, "workbench.html"), join(folder, "index.html"));
  writeFileSync(join(folder, "manifest.xml"), withOrigin(withVersion(readManifest(), version), origin));
  const files = [...built, "index.html", "manifest.xml"].sort();
  writeFileSync(join(folder, LIST), files.join("\n"));
  return files;
}
