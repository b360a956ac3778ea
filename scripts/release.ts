/**
 * npm run release [-- --out DIR] [--origin https://hall.example/bendbook]: from a clean clone of what is committed, the
 * static site, the folder for administrators, the command line as a package, checksums, notices and the changelog; each
 * is tried from an empty folder.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { root } from "./install.mjs";

/** An address that leads nowhere: an administrator writes the folder anew, or puts the own one into the manifest. */
const NO_ORIGIN = "https://bendbook.example";

function run(command: string, args: readonly string[], cwd: string): void {
  const { status } = spawnSync(command, args, { cwd, stdio: ["ignore", 2, 2] });
  if (status !== 0) throw new Error(`${command} ${args.join(" ")} ended with ${status}.`);
}

function release(): void {
  const { values } = parseArgs({ options: { out: { type: "string" }, origin: { type: "string" } } });
  const out = resolve(process.env["INIT_CWD"] ?? process.cwd(), values.out ?? "build/release");
  if (existsSync(out) && readdirSync(out).length > 0)
    throw new Error(`${out} is not empty: give another folder with --out, or empty it.`);
  const changed = spawnSync("git", ["status", "--porcelain"], { cwd: root, encoding: "utf8" }).stdout;
  if (changed !== "") process.stderr.write(`These changes are not committed and no part of the release:\n${changed}`);
  const clone = mkdtempSync(join(tmpdir(), "bendbook-clone-"));
  try {
    run("git", ["clone", "--quiet", "--no-hardlinks", root, clone], root);
    // The same packages need not be installed twice; run.mjs installs where they differ.
    const lock = (folder: string) => readFileSync(join(folder, "package-lock.json"), "utf8");
    if (lock(clone) === lock(root)) symlinkSync(join(root, "node_modules"), join(clone, "node_modules"), "junction");
    mkdirSync(out, { recursive: true });
    const origin = values.origin?.replace(/\/+$/, "") ?? NO_ORIGIN;
    run(process.execPath, [join(clone, "scripts", "run.mjs"), "releaseHere", out, origin], clone);
  } finally {
    rmSync(clone, { recursive: true, force: true });
  }
  process.stdout.write(`${readdirSync(out).sort().join("\n")}\nThe release is in ${out}.\n`);
}

try {
  release();
} catch (problem) {
  process.stderr.write(`${problem instanceof Error ? problem.message : String(problem)}\n`);
  process.exitCode = 1;
}
