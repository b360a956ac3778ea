/** One runner for everything: quick tests in Node, pages in a real browser. */
import { availableParallelism } from "node:os";
import { buildSync } from "esbuild";
import { defineConfig, type Plugin } from "vitest/config";

/**
 * The cushion's impact in one piece, as it ships: its loop calls over files some thousand times for a shot, and the way in
 * which the runner imports would make each call several times as slow.
 */
const impactInOnePiece: Plugin = {
  name: "impact-in-one-piece",
  enforce: "pre",
  load(id) {
    if (!/[\\/]src[\\/]bank[\\/]impact[\\/]noseImpulse\.ts$/.test(id)) return null;
    const { outputFiles } = buildSync({
      entryPoints: [id],
      bundle: true,
      write: false,
      format: "esm",
      target: "node20",
    });
    return outputFiles[0]?.text;
  },
};

export default defineConfig({
  plugins: [impactInOnePiece],
  test: {
    // Files of all kinds side by side, more than there are cores on a small machine: a browser waits a good part of its
    // time. Files of the browser begin first, the longest before the others.
    maxWorkers: Math.max(3, availableParallelism()),
    projects: [
      {
        extends: true,
        test: {
          name: "node",
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
          // On a busy machine a press can meet a page that is still moving. A second try is named in the output, never silent.
          retry: process.env["CI"] ? 1 : 0,
          testTimeout: 120_000,
          hookTimeout: 240_000,
        },
      },
    ],
  },
});
