/**
 * The built pages and the manifest as a folder that any web server of static files can give out: the pane and the
 * functions for Excel, and the page with the embedded spreadsheet, which works without a connection once it was open.
 */
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "../install.mjs";
import { readManifest, withOrigin, withVersion } from "../manifest";
import { offlineWorker } from "./offlineWorker";

/** Lists what was written, so that the next time these files and no others are replaced. */
const LIST = "bendbook-files.txt";
/** Of the built files, what no web server is to give out, and the page that stands as index.html. */
const KEPT_BACK = /^(\.|cli|manifest\.xml$|workbench\.html$)/;
/** What may hold addresses of this machine, such as that of a function's help, until it is given an origin. */
const ADDRESSED = /\.(json|js|html)$/;
/** The service worker's file; index.html names it. */
const WORKER = "offline.js";

export interface Site {
  readonly origin: string;
  /** Absolute path. */
  readonly folder: string;
  readonly version: string;
  /** Folder of the built pages; dist/ when missing. */
  readonly pages?: string;
}

/**
 * Writes the folder, or writes it anew. @returns names of the files, sorted
 * @throws Error when the folder holds files that were not written here
 */
export function writeSite({ origin, folder, version, pages = join(root, "dist") }: Site): string[] {
  makeRoom(folder);
  const text = (name: string) => readFileSync(join(pages, name), "utf8");
  const write = (name: string, content: string) => writeFileSync(join(folder, name), content);
  const built = readdirSync(pages).filter((name) => !KEPT_BACK.test(name));
  for (const name of built)
    if (ADDRESSED.test(name)) write(name, withOrigin(text(name), origin));
    else cpSync(join(pages, name), join(folder, name));
  // A folder's address opens the page with the embedded spreadsheet.
  write(
    "index.html",
    withOrigin(text("workbench.html"), origin).replace(
      "</head>",
      `<meta name="bendbook-offline" content="${WORKER}" /></head>`,
    ),
  );
  write("manifest.xml", withOrigin(withVersion(readManifest(), version), origin));
  write(WORKER, offlineWorker(folder, [...built, "index.html"]));
  const files = [...built, "index.html", "manifest.xml", WORKER].sort();
  write(LIST, files.join("\n"));
  return files;
}

/** Takes away what was written before. @throws Error when the folder holds files that were not written here */
function makeRoom(folder: string): void {
  const before = existsSync(folder) ? readdirSync(folder) : [];
  const ours = before.includes(LIST) ? readFileSync(join(folder, LIST), "utf8").split("\n") : [];
  const others = before.filter((name) => name !== LIST && !ours.includes(name));
  if (others.length > 0)
    throw new Error(
      `--out is "${folder}", which holds ${others.length === 1 ? `"${others[0]}"` : `"${others[0]}" and ${others.length - 1} more`} that Bendbook did not write: give a new or an empty folder.`,
    );
  for (const name of [...ours, LIST]) if (name !== "") rmSync(join(folder, name), { force: true });
  mkdirSync(folder, { recursive: true });
}
