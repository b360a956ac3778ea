/**
 * Finds a browser for tests and starts it: an installed Chrome, Edge or Chromium, otherwise the Chromium that comes in
 * the npm package @sparticuz/chromium. Nothing is downloaded.
 */
import { existsSync } from "node:fs";
import { join } from "node:path";
import sparticuz from "@sparticuz/chromium";
import { chromium, type Browser } from "playwright-core";

const FLAGS = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  // Pages of a context share a process, and with it what is compiled; pages that are killed have contexts of their own.
  "--process-per-site",
  "--disable-component-update",
  "--disable-sync",
];

const PLACES: Readonly<Partial<Record<NodeJS.Platform, readonly string[]>>> = {
  linux: ["google-chrome", "google-chrome-stable", "microsoft-edge", "chromium", "chromium-browser"].flatMap((name) =>
    ["/usr/bin", "/usr/local/bin", "/snap/bin"].map((folder) => join(folder, name)),
  ),
  darwin: ["Google Chrome", "Microsoft Edge", "Chromium"].map(
    (name) => `/Applications/${name}.app/Contents/MacOS/${name}`,
  ),
  win32: [process.env["PROGRAMFILES"], process.env["PROGRAMFILES(X86)"], process.env["LOCALAPPDATA"]].flatMap(
    (folder) =>
      folder
        ? [join(folder, "Google/Chrome/Application/chrome.exe"), join(folder, "Microsoft/Edge/Application/msedge.exe")]
        : [],
  ),
};

/** Path of an installed browser; BENDBOOK_BROWSER names one that stands elsewhere. */
function installedBrowser(): string | undefined {
  return [process.env["BENDBOOK_BROWSER"], ...(PLACES[process.platform] ?? [])].find(
    (path) => path !== undefined && existsSync(path),
  );
}

/** Starts a browser without a window. The caller closes it. */
export async function startBrowser(): Promise<Browser> {
  const installed = installedBrowser();
  if (installed) return chromium.launch({ executablePath: installed, args: FLAGS });
  if (process.platform !== "linux" || process.arch !== "x64") {
    throw new Error("No Chrome, Edge or Chromium was found. Install one, or set BENDBOOK_BROWSER to the path of one.");
  }
  // The package's own flags take the browser's security away, and with it every fault that security would show.
  return chromium.launch({ executablePath: await sparticuz.executablePath(), args: FLAGS });
}

let workers: Promise<Browser> | undefined;

/** The one browser of a test worker, which its files share, for starting one costs seconds. It ends with the worker. */
export async function workersBrowser(): Promise<Browser> {
  if (workers && !(await workers).isConnected()) workers = undefined;
  return (workers ??= startBrowser());
}
