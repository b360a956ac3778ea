/** One runner for everything: quick tests in Node, pages in a real browser. */
import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";
import { impactInOnePiece } from "./scripts/impactInOnePiece.mjs";

/** What takes more than some seconds of processor time, the longest first; files of the browser before all others. */
const LONGEST = [
  "browser/video",
  "browser/killed",
  "browser/shoot",
  "browser/drafts",
  "browser/access",
  "browser/analysis",
  "browser/editing",
  "browser/typed",
  "browser/journey",
  "browser/shot",
  "browser/offline",
  "browser/report",
  "browser/taskpane",
  "browser/",
  "scripts/withTypes",
  "workbook/file/large",
  "statistics/errors/coverage",
  "experiment/shot/shot",
  "cli/cli",
  "outside/upAndDown",
  "experiment/calibrate/",
  "workbook/columns/differential",
  "workbook/embedded/mended/wholeCalculation",
  "cli/",
  "outside/",
];

/** No worker is left with a long file at the end, on a clean checkout either, where nothing was measured yet. */
class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => {
      const found = LONGEST.findIndex((name) => moduleId.replaceAll("\\", "/").includes(`/tests/${name}`));
      return found < 0 ? LONGEST.length : found;
    };
    return (await super.sort(files)).sort((one, other) => rank(one) - rank(other));
  }
}

export default defineConfig({
  plugins: [impactInOnePiece()],
  test: {
    // Files of all kinds side by side, more than there are cores on a small machine: a browser waits a good part of its
    // time.
    maxWorkers: Math.max(3, availableParallelism()),
    sequence: { sequencer: LongestFirst },
    projects: [
      {
        extends: true,
        test: {
          name: "node",
          // The files of a worker share its modules: reading them anew took a third of the time. So a test leaves the
          // process as it found it.
          isolate: false,
          expect: { poll: { timeout: 20_000, interval: 50 } },
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/browser/**", "tests/panel/**"],
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: { name: "panel", include: ["tests/panel/**/*.test.{ts,tsx}"], environment: "jsdom", testTimeout: 60_000 },
      },
      {
        test: {
          name: "browser",
          // The files of a worker share its modules, and with them its browser.
          isolate: false,
          // What is waited for may come late on a busy machine; what never comes still fails.
          expect: { poll: { timeout: 20_000, interval: 50 } },
          include: ["tests/browser/**/*.test.ts"],
          // On a busy machine a press can meet a page that is still moving. A second try is named in the output, never
          // silent.
          retry: process.env["CI"] ? 1 : 0,
          testTimeout: 120_000,
          hookTimeout: 240_000,
        },
      },
    ],
  },
});
