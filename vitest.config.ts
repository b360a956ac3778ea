/** One runner for everything: quick tests in Node, pages in a real browser. */
import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    // Files of all kinds side by side: a browser waits more than it computes.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    projects: [
      {
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
