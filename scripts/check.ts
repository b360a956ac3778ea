/**
 * npm run check: types, lint, form and the quick tests of what changed since the last commit, or of the last commit
 * where nothing did. For while one works; npm test does everything. The tests are those that mirror a changed file, not
 * all that import it: what lies deep is imported by nearly all.
 */
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { root } from "./install.mjs";
import { COMPILER } from "./lint/compiler";

function lines(command: string, args: readonly string[]): string[] {
  const { stdout } = spawnSync(command, args, { cwd: root, encoding: "utf8" });
  return stdout.split("\n").filter((line) => line !== "");
}

/** Runs a package's program in this Node; ends the process when it fails. */
function run(title: string, program: string, args: readonly string[]): void {
  const began = performance.now();
  const { status } = spawnSync(process.execPath, [join(root, "node_modules", program), ...args], {
    cwd: root,
    stdio: ["ignore", "inherit", "inherit"],
  });
  process.stdout.write(
    `— ${title}: ${status === 0 ? "fine" : "failed"}, ${((performance.now() - began) / 1000).toFixed(1)} s\n`,
  );
  if (status !== 0) process.exit(status ?? 1);
}

const since = lines("git", ["status", "--porcelain"]).map((line) => line.slice(3).replace(/^.* -> /, ""));
const changed = (since.length > 0 ? since : lines("git", ["diff", "--name-only", "HEAD~1"])).filter((file) =>
  existsSync(join(root, file)),
);
const code = changed.filter((file) => /^(src|scripts|tests)\/.*\.(tsx?|mjs)$/.test(file));
process.stdout.write(`${changed.length} files changed, ${code.length} of them code.\n`);

/** The test of the file's own name, else those of its room, else of the room above. */
function testsOf(file: string): string | undefined {
  if (/^tests\/(?!browser\/).*\.test\.tsx?$/.test(file)) return file;
  const mirrored = file.replace(/^src\//, "tests/").replace(/^scripts\//, "tests/scripts/");
  if (mirrored === file) return undefined;
  const own = mirrored.replace(/\.(tsx?|mjs)$/, ".test.ts");
  if (existsSync(join(root, own))) return own;
  for (let room = dirname(mirrored); room !== "tests"; room = dirname(room))
    if (existsSync(join(root, room))) return `${room}/`;
  return undefined;
}

run("types", COMPILER, ["-p", ".", "--noEmit", "--incremental", "--tsBuildInfoFile", ".cache/types.tsbuildinfo"]);
run("types of the rooms", COMPILER, ["-b", "tsconfig.rooms.json"]);
if (code.length > 0) {
  run("lint", "eslint/bin/eslint.js", [...code, "--max-warnings", "0"]);
  run("form", "oxfmt/bin/oxfmt", ["--check", ...code]);
  const tests = [...new Set(["tests/structure.test.ts", ...code.flatMap((file) => testsOf(file) ?? [])])];
  run("tests", "vitest/vitest.mjs", [
    "run",
    ...tests,
    "--project",
    "node",
    "--project",
    "panel",
    "--passWithNoTests",
    "--reporter=dot",
  ]);
}
