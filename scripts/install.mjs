/**
 * Makes node_modules fit package-lock.json; the only script that may not use a package. Plain JavaScript, since it runs
 * before anything is installed.
 */
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** True when every package that the lock file asks for, optional ones aside, is there in its version. */
function isInstalled() {
  const installed = join(root, "node_modules", ".package-lock.json");
  if (!existsSync(installed)) return false;
  const wanted = JSON.parse(readFileSync(join(root, "package-lock.json"), "utf8")).packages;
  const there = JSON.parse(readFileSync(installed, "utf8")).packages;
  return Object.entries(wanted).every(
    ([path, entry]) =>
      path === "" || entry.optional || entry.devOptional || entry.peer || there[path]?.version === entry.version,
  );
}

/** Installs when something is missing or stale; progress goes to standard error. Ends the process when it cannot. */
export function ensureInstalled() {
  if (Number(process.versions.node.split(".")[0]) < 20) {
    process.stderr.write(`Bendbook needs Node 20 or newer; this is ${process.versions.node}.\n`);
    process.exit(1);
  }
  if (isInstalled()) return;
  process.stderr.write("Installing packages (a minute or two, once) …\n");
  const npm = process.platform === "win32" ? "npm.cmd" : "npm";
  const { status } = spawnSync(npm, ["ci", "--include=dev", "--no-audit", "--no-fund", "--loglevel=error"], {
    cwd: root,
    stdio: ["ignore", 2, 2],
    shell: process.platform === "win32",
  });
  if (status !== 0) {
    process.stderr.write(
      "The packages could not be installed; the lines above say why. Check the network and run the command again.\n",
    );
    process.exit(status || 1);
  }
}
