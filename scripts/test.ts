/**
 * npm test: build, types, lint, form, dead code, then every test, the real-browser ones included. Ends with the counts
 * on a line of their own.
 */
import { spawn } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { root } from "./install.mjs";
import { COMPILER } from "./lint/compiler";

interface Step {
  readonly title: string;
  /** What this Node runs, and its arguments. */
  readonly args: readonly string[];
}

const program = (title: string, path: string, ...args: string[]): Step => ({
  title,
  args: [join(root, "node_modules", path), ...args],
});
const script = (title: string, ...names: string[]): Step => ({
  title,
  args: [join(root, "scripts", "run.mjs"), ...names],
});

/** Runs a step to its end; what it prints comes in one piece, or at once where it is the only one. */
function run({ title, args }: Step, alone = false): Promise<number> {
  return new Promise((resolve) => {
    const began = performance.now();
    const child = spawn(process.execPath, args, {
      cwd: root,
      stdio: ["ignore", alone ? "inherit" : "pipe", alone ? "inherit" : "pipe"],
    });
    let said = "";
    for (const stream of [child.stdout, child.stderr]) stream?.on("data", (data) => (said += data));
    child.on("close", (status) => {
      const took = ((performance.now() - began) / 1000).toFixed(0);
      process.stdout.write(`\n— ${title}: ${status === 0 ? "fine" : "failed"}, ${took} s\n${said}`);
      resolve(status ?? 1);
    });
  });
}

/** Two at a time, the longest first; the first that fails ends the process once what runs with it has ended. */
async function runAll(steps: readonly Step[]): Promise<void> {
  const waiting = [...steps];
  const failed: string[] = [];
  const lane = async () => {
    for (let step = waiting.shift(); step && failed.length === 0; step = waiting.shift())
      if ((await run(step)) !== 0) failed.push(step.title);
  };
  await Promise.all([lane(), lane()]);
  if (failed.length === 0) return;
  process.stdout.write(`\n${failed.join(", ")}: failed.\n0 passed, ${failed.length} failed\n`);
  process.exit(1);
}

await runAll([
  script("build", "builds"),
  program("lint", "eslint/bin/eslint.js", "src", "scripts", "tests", "--max-warnings", "0"),
  program("types", COMPILER, "-p", ".", "--noEmit"),
  program("types of the rooms", COMPILER, "-b", "tsconfig.rooms.json"),
  program("dead code", "knip/bin/knip.js"),
  program("form", "oxfmt/bin/oxfmt", "--check", "src", "scripts", "tests"),
]);

const report = join(root, ".cache", "tests.json");
mkdirSync(join(root, ".cache"), { recursive: true });
rmSync(report, { force: true });
const status = await run(
  program("tests", "vitest/vitest.mjs", "run", "--reporter=default", "--reporter=json", `--outputFile.json=${report}`),
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
