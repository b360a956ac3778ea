/** Opening the pane in a real browser, to its first answer: Microsoft's scripts, and a host with the demonstration. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { startBench } from "../../tests/browser/workbenchPage";
import { Host, LEAST_SETS } from "../../tests/excelHost/host";
import { connectPage, serveClient } from "../../tests/excelHost/inPage";
import { HostWorkbook } from "../../tests/excelHost/workbook";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { root } from "../install.mjs";
import { best, oursAtMost, type Measurement } from "./measure";

export async function paneBench(): Promise<Measurement[]> {
  const book = await readXlsx(readFileSync(join(root, "sample-workbooks", "demonstration.xlsx")));
  const bench = await startBench();
  try {
    const open = async () => {
      const page = await bench.browser.newPage({ viewport: { width: 320, height: 900 } });
      // The runner of scripts names functions by a helper of its own, which the page does not have.
      await page.addInitScript("globalThis.__name = (named) => named");
      await serveClient(page, []);
      await connectPage(page, new Host(HostWorkbook.of(book), LEAST_SETS));
      await page.goto(`${bench.address}taskpane.html`);
      await page.locator("[data-part=by]").getByText("of 240 rows used").waitFor();
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
