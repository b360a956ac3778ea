/** Opening the demonstration in a real browser, to a computed grid and to the panel's first answer. */
import { openBench, startBench } from "../../tests/browser/workbenchPage";
import { best, oursAtMost, type Measurement } from "./measure";

export async function openingBench(): Promise<Measurement[]> {
  const bench = await startBench();
  try {
    const open = async () => {
      const { page } = await openBench(bench);
      await page.waitForSelector("[data-part=sentences]");
      await page.close();
    };
    const empty = async () => {
      const page = await bench.browser.newPage();
      await page.goto(`${bench.address}icon-32.png`);
      await page.close();
    };
    return [
      {
        name: "open the demonstration to grid and answer",
        ours: await best(3, open),
        reference: "opening a page with one icon",
        referenceTime: await best(3, empty),
        goal: oursAtMost(2000),
      },
    ];
  } finally {
    await bench.close();
  }
}
