/** Look-ups stay right after edits. How the time grows with the rows is measured by `npm run bench`. */
import { describe, expect, it } from "vitest";
import { createEngine } from "../../../../src/workbook/embedded/engine";
import { at, book, sheet } from "../books";

describe("look-ups in a computed column", () => {
  const rows = 300;
  const log = () => {
    const lines: (string | number | null)[][] = Array.from({ length: rows }, (_, i) => [
      i,
      `=A${i + 1}*2+1`,
      null,
      null,
    ]);
    const all = `B1:B${rows}`;
    [
      `=MATCH(41,${all},0)`,
      `=MATCH(9999,${all},0)`,
      `=VLOOKUP(20,A1:B${rows},2,FALSE)`,
      `=XLOOKUP(41,${all},A1:A${rows})`,
      `=COUNTIF(${all},41)`,
      `=MATCH(BANK.BEND(0.125),${all},0)`,
    ].forEach((formula, i) => (lines[i][3] = formula));
    return book([sheet("Log", lines)]);
  };
  const answers = (engine: Awaited<ReturnType<typeof createEngine>>) =>
    Array.from({ length: 6 }, (_, i) => at(engine.live.book(), "Log", i, 3)?.value);

  it("find new values and no longer the old ones", async () => {
    const engine = await createEngine(log());
    const none = { error: "#N/A" };
    expect(answers(engine)).toEqual([21, none, 41, 20, 1, 1]);
    // Row 21 held 41; now row 101 does, and row 5 holds 9999.
    engine.setCell("Log", 20, 0, 7.25);
    engine.setCell("Log", 100, 0, 20);
    engine.setCell("Log", 4, 0, 4999);
    await engine.live.settled();
    expect(answers(engine)).toEqual([101, 5, 41, 20, 1, 1]);
    // Two rows with the same value, then none.
    engine.setCell("Log", 200, 0, 20);
    await engine.live.settled();
    expect(answers(engine)).toEqual([101, 5, 41, 20, 2, 1]);
    engine.setCell("Log", 100, 0, null);
    engine.setCell("Log", 200, 1, null);
    engine.setCell("Log", 0, 1, "text");
    await engine.live.settled();
    // The look-up of 20 finds row 201, where the looked-up cell is now blank.
    expect(answers(engine)).toEqual([none, 5, null, none, 0, 101]);
    engine.dispose();
  });

  it("give the same after a calculation of everything", async () => {
    const engine = await createEngine(log());
    engine.setCell("Log", 20, 0, 7.25);
    engine.setCell("Log", 100, 0, 20);
    await engine.live.settled();
    const before = answers(engine);
    await engine.live.recalculate();
    expect(answers(engine)).toEqual(before);
    engine.dispose();
  });
});
