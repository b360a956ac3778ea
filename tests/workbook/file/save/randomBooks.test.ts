/** Random workbooks written, opened, edited, saved and reopened, against a second reader; `npm run fuzz` goes on. */
import { describe, expect, it } from "vitest";
import { JOURNEYS, travel } from "../../../../scripts/fuzz/journeys";

/** Journeys with the grid's engine take ten times as long. */
const RUNS = (name: string) => (name === "typedIntoEngine" ? 3 : 25);

describe("random workbooks", () => {
  for (const name of Object.keys(JOURNEYS))
    it(`come through ${name}`, { timeout: 120_000 }, async () => {
      const failures: string[] = [];
      for (let seed = 1; seed <= RUNS(name); seed++)
        await travel(name, seed).catch((problem: unknown) => failures.push(`seed ${seed}: ${String(problem)}`));
      expect(failures).toEqual([]);
    });
});
