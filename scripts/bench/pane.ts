/** Opening the pane for Excel in a real browser, to its first answer; Microsoft's script is stood in for. */
import { openPane, standIn } from "../../tests/browser/paneUnderExcel";
import { startBench } from "../../tests/browser/workbenchPage";
import { best, oursAtMost, type Measurement } from "./measure";

export async function paneBench(): Promise<Measurement[]> {
  const bench = await startBench();
  try {
    const script = await standIn();
    const open = async () => {
      const { page } = await openPane(bench.browser, bench.address, script);
      await page.getByText("40 of 40").first().waitFor();
      await page
        .locator('[data-step="answer"]')
        .getByText(/interval/)
        .first()
        .waitFor();
      await page.close();
    };
    const empty = async () => {
      const page = await bench.browser.newPage();
      await page.goto(`${bench.address}icon-32.png`);
      await page.close();
    };
    return [
      {
        name: "open the pane inside Excel to the answer",
        ours: await best(3, open),
        reference: "opening a page with one icon",
        referenceTime: await best(3, empty),
        goal: oursAtMost(1500),
      },
    ];
  } finally {
    await bench.close();
  }
}
