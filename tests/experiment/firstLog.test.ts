/** The first log and how far its user is with it. */
import { describe, expect, it } from "vitest";
import { firstLog, firstSteps } from "../../src/experiment/firstLog";
import { findTrialLogs } from "../../src/experiment/trialLog";
import { createEngine } from "../../src/workbook/embedded/engine";
import { EmbeddedPort } from "../../src/workbook/embedded/embeddedPort";

describe("a first log", () => {
  it.each([["us", 1 / 4, 0.875, "gap 1/4 in, bend 0.875 in"], ["si", 6, 22.575, "gap 6 mm, bend 22.575 mm"]] as const)("in %s computes bends as gaps are typed, and answers after five shots", async (units, gap, bend, words) => {
    const engine = await createEngine();
    try {
      const port = new EmbeddedPort(engine.live);
      const name = await port.addSheet(firstLog(units));
      const steps = async () => {
        await engine.live.recalculate();
        return firstSteps(findTrialLogs(await port.read(name))[0]);
      };
      expect(await steps()).toMatchObject({ shots: 0, bends: [], next: { row: 1, address: "I2" }, answer: undefined });
      for (let i = 0; i < 5; i++) engine.live.setCell(name, 1 + i, 8, gap + i / 100);
      const found = await steps();
      expect(found.shots).toBe(5);
      expect(found.bends[0]).toBe(`Row 2: ${words}`);
      expect(found.next?.address).toBe("I7");
      expect(found.answer).toMatch(/^Over 5 shots the bend was /);
      expect((await port.read(name)).values[1][10]).toBeCloseTo(bend, 12);
    } finally {
      engine.dispose();
    }
  });
});
