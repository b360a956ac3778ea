/**
 * npm test: types, lint, form, dead code, build, then every test, the real-browser ones included. Ends with the counts
 * on a line of their own.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { ensureCommandLine, ensurePages } from "./build.mjs";
import { root } from "./install.mjs";
import { roomTypes } from "./lint/roomTypes";

/** Runs a package's program in this Node; ends the process when it fails. */
function run(title: string, program: string, args: string[], goOn = false): number {
  process.stdout.write(`\n— ${title}\n`);
  const { status } = spawnSync(process.execPath, [join(root, "node_modules", program), ...args], {
    cwd: root,
    stdio: ["ignore", "inherit", "inherit"],
  });
  if (status !== 0 && !goOn) {
    process.stdout.write(`\n${title}: failed.\n0 passed, 1 failed\n`);
    process.exit(status ?? 1);
  }
  return status ?? 1;
}

run("types", "typescript/bin/tsc", ["-p", ".", "--noEmit"]);
process.stdout.write("\n— types of the rooms\n");
if (!roomTypes()) {
  process.stdout.write("\ntypes of the rooms: failed.\n0 passed, 1 failed\n");
  process.exit(1);
}
run("lint", "eslint/bin/eslint.js", ["src", "scripts", "tests", "--max-warnings", "0"]);
run("form", "prettier/bin/prettier.cjs", ["--check", "--log-level", "warn", "src", "scripts", "tests"]);
run("dead code", "knip/bin/knip.js", []);
process.stdout.write("\n— build\n");
ensurePages();
await ensureCommandLine();

const report = join(root, ".cache", "tests.json");
mkdirSync(join(root, ".cache"), { recursive: true });
rmSync(report, { force: true });
const status = run(
  "tests",
  "vitest/vitest.mjs",
  ["run", "--reporter=default", "--reporter=json", `--outputFile.json=${report}`],
  true,
);
if (!existsSync(report)) {
  process.stdout.write("\nThe tests did not run to their end.\n0 passed, 1 failed\n");
  process.exit(status || 1);
}
const {
  numPassedTests: passed,
  numFailedTests,
  numPendingTests: skipped,
  testResults,
} = JSON.parse(readFileSync(report, "utf8"));
/** Files that failed before any of their tests ran count as one failure each. */
const broken = testResults.filter(
  (file: { status: string; assertionResults: unknown[] }) =>
    file.status === "failed" && file.assertionResults.length === 0,
).length;
const failed = numFailedTests + broken;
process.stdout.write(`\n${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}\n`);
process.exit(status !== 0 || failed > 0 || passed === 0 ? 1 : 0);
