/** The README's series of the first answer: gaps typed as the ruler reads them, and what the page says to each. */
import { join } from "node:path";
import type { Bench } from "../tests/browser/workbenchPage";

/** As read, in inches; invented. */
const GAPS = ["1/4", "5/16", "3/16"];

export async function firstAnswerPictures({ browser, address }: Bench, folder: string): Promise<void> {
  const page = await browser.newPage({ viewport: { width: 320, height: 480 }, colorScheme: "light" });
  const taken = async (name: string) => {
    await page.waitForTimeout(400); // what moves comes to rest
    await page.screenshot({ path: join(folder, `first-${name}.png`) });
  };
  await page.goto(address);
  await page.locator("#begin-blank:focus").waitFor();
  await taken("begin");
  await page.keyboard.press("Enter");
  await page.locator("[data-part=entry] input:focus").waitFor();
  for (const [i, gap] of GAPS.entries()) {
    await page.keyboard.type(gap);
    if (i === 0) await taken("gap");
    await page.keyboard.press("Enter");
    await page
      .locator("[data-part=entered]")
      .getByText(`Row ${i + 2}: gap ${gap} in`)
      .waitFor();
    if (i === 0) await taken("bend");
  }
  await page
    .getByText(/^Bend [\d.]+ in on average/)
    .first()
    .waitFor();
  await taken("answer");
  await page.close();
}
