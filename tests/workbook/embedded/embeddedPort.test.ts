/** The embedded port over the engine in Node keeps the contract that every host keeps. */
import { createEngine } from "../../../src/workbook/embedded/engine";
import { EmbeddedPort } from "../../../src/workbook/embedded/embeddedPort";
import { portContract } from "../portContract";

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
