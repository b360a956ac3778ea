/**
 * Builds dist/ when its sources changed since the last build. Plain JavaScript: the command line needs it without a
 * loader.
 */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join, sep } from "node:path";
import { root } from "./install.mjs";

/** Every file below a folder, sorted. */
function filesBelow(folder) {
  return readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name))
    .sort();
}

/** What each target is made from: below src/, all but the rooms that it has no part of. */
const TARGETS = {
  pages: {
    without: ["cli"],
    also: ["sample-workbooks"],
    files: [
      "webpack.config.js",
      "tsconfig.json",
      "manifest.xml",
      "scripts/build.mjs",
      "scripts/docs/functionTexts.mjs",
      "scripts/functionsHelp.mjs",
      "scripts/knownGenerators.cjs",
      "scripts/noDebug.cjs",
      "scripts/noLocalAddress.cjs",
      "scripts/notices.mjs",
      "scripts/plainFormat.cjs",
      "scripts/rememberedNumfmt.mjs",
    ],
  },
  cli: {
    without: ["panel", "workbench", "taskpane", "assets"],
    also: [],
    files: ["tsconfig.json", "scripts/build.mjs"],
  },
};

/** A digest of everything that a target's build reads. A change elsewhere does not build it anew. */
function sourceDigest(target) {
  const { without, also, files } = TARGETS[target];
  const digest = createHash("sha256");
  const { version, dependencies, devDependencies } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
  digest.update(JSON.stringify({ version, dependencies, devDependencies }));
  const apart = without.map((room) => join(root, "src", room) + sep);
  const sources = filesBelow("src").filter((file) => !apart.some((room) => file.startsWith(room)));
  const single = ["package-lock.json", ...files].map((name) => join(root, name)).filter((file) => existsSync(file));
  for (const file of [...single, ...sources, ...also.flatMap(filesBelow)])
    digest.update(file.slice(root.length)).update(readFileSync(file));
  return digest.digest("hex");
}

function isFresh(stamp, digest) {
  const file = join(root, "dist", stamp);
  return existsSync(file) && readFileSync(file, "utf8") === digest;
}

/** Whether a process of this number still runs. */
function runs(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

/** Does the work while no other process does it; one that died half-way holds nobody up. */
function alone(work) {
  const held = join(root, ".cache", "building");
  mkdirSync(join(root, ".cache"), { recursive: true });
  for (;;)
    try {
      writeFileSync(held, String(process.pid), { flag: "wx" });
      break;
    } catch (problem) {
      if (problem.code !== "EEXIST") throw problem;
      if (existsSync(held) && !runs(Number(readFileSync(held, "utf8")))) rmSync(held, { force: true });
      else Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 500);
    }
  try {
    work();
  } finally {
    rmSync(held, { force: true });
  }
}

/** Builds the pages with webpack unless dist/ is up to date. */
export function ensurePages() {
  if (!isFresh(".pages", sourceDigest("pages"))) alone(buildPages);
}

function buildPages() {
  const digest = sourceDigest("pages");
  if (isFresh(".pages", digest)) return;
  process.stderr.write("Building the pages (about a minute, after each change) …\n");
  const { status } = spawnSync(
    process.execPath,
    [
      join(root, "node_modules", "webpack-cli", "bin", "cli.js"),
      "--mode",
      "production",
      ...(process.stderr.isTTY ? ["--progress"] : []),
    ],
    {
      cwd: root,
      stdio: ["ignore", 2, 2],
    },
  );
  if (status !== 0) throw new Error("The pages could not be built; the lines above say why.");
  writeFileSync(join(root, "dist", ".pages"), digest);
}

/** How the command line is bundled, here and for a release; where it goes and what stays outside is said beside. */
export const COMMAND_LINE = {
  entryPoints: [join(root, "src", "cli", "start.ts")],
  bundle: true,
  platform: /** @type {const} */ ("node"),
  format: /** @type {const} */ ("esm"),
  target: "node20",
  // A third of the start is reading the program. Names are not kept: naming each function that is made within another
  // took a fifth of the time of a long log.
  minify: true,
  banner: {
    js: 'import { createRequire as requireOf } from "node:module"; const require = requireOf(import.meta.url);',
  },
  logLevel: /** @type {const} */ ("warning"),
};

/**
 * Bundles the command line into dist/cli.mjs unless it is up to date. Two at once do no harm: the file is moved into
 * place.
 */
export async function ensureCommandLine() {
  const digest = sourceDigest("cli");
  const target = join(root, "dist", "cli.mjs");
  if (existsSync(target) && isFresh(".cli", digest)) return target;
  const { build } = await import("esbuild");
  mkdirSync(join(root, "dist"), { recursive: true });
  const draft = join(root, "dist", `cli-${process.pid}.mjs`);
  await build({
    ...COMMAND_LINE,
    outfile: draft,
    external: ["@univerjs/*"], // loaded at run time, and only where they are needed
  });
  renameSync(draft, target);
  writeFileSync(join(root, "dist", ".cli"), digest);
  return target;
}
