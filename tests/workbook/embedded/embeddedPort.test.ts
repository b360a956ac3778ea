/** The embedded port over the engine in Node keeps the contract that every host keeps. */
import { createRequire } from "node:module";
import { expect, it } from "vitest";
import { createEngine } from "../../../src/workbook/embedded/engine";
import { EmbeddedPort } from "../../../src/workbook/embedded/embeddedPort";
import { contractFixture, portContract } from "../portContract";

portContract("embedded grid", async (fixture) => {
  const engine = await createEngine(fixture);
  return {
    port: new EmbeddedPort(engine.live),
    setCell: async (sheet, row, column, value) => {
      engine.setCell(sheet, row, column, value);
      await engine.live.settled();
    },
    dispose: async () => engine.dispose(),
  };
});

it("undoes a row that was added as one act", async () => {
  const engine = await createEngine(contractFixture());
  const port = new EmbeddedPort(engine.live);
  const row = (value: number) => ({ sheet: "Shots", headings: ["A", "B"], cells: [{ value }, { value: "=1+1" }] });
  await port.addRow(row(1));
  await port.addRow(row(2));
  // Undo acts on the workbook in focus; on a page that is the one clicked last.
  const { IUniverInstanceService } = createRequire(import.meta.url)("@univerjs/core");
  (engine.live.injector.get(IUniverInstanceService) as { focusUnit(id: string): void }).focusUnit(engine.live.id);
  await engine.live.api.undo();
  expect((await port.read("Shots")).values).toEqual([
    ["A", "B"],
    [1, "=1+1"],
  ]);
  engine.dispose();
});

it("fills cells of a row as one act that can be undone, and lets formulas go on below rows that agree", async () => {
  const gaps = [0.5, 0.25, 0.125].map((value, i) => [
    { value },
    { value: null, formula: `1.125-A${i + 2}` },
    undefined,
  ]);
  const book = contractFixture();
  const rows = [[{ value: "Gap (in)" }, { value: "Bend (in)" }, { value: "Outcome" }], ...gaps];
  const engine = await createEngine({ ...book, sheets: [{ ...book.sheets[1]!, name: "Log", rows }] });
  const port = new EmbeddedPort(engine.live);
  const before = (await port.read("Log")).values;
  const cells = [
    { column: 0, value: 0.375, format: "# ??/??" },
    { column: 2, value: "cleared" },
  ];
  await port.fillRow({ sheet: "Log", row: 4, cells });
  await engine.live.settled();
  expect((await port.read("Log")).values[4]).toEqual([0.375, 0.75, "cleared"]);
  const { IUniverInstanceService } = createRequire(import.meta.url)("@univerjs/core");
  (engine.live.injector.get(IUniverInstanceService) as { focusUnit(id: string): void }).focusUnit(engine.live.id);
  // The formula went on as an act of its own, as where somebody types.
  await engine.live.api.undo();
  await engine.live.api.undo();
  await engine.live.settled();
  expect((await port.read("Log")).values).toEqual(before);
  engine.dispose();
});
