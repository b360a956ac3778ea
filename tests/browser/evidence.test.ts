/** The Evidence view in the shipped page: a sheet for claims, claims typed in, what falls and why, the standing. */
import { readFileSync } from "node:fs";
import { expect } from "vitest";
import { typeInto } from "./gridTyping";
import { journey } from "./journey";
import { openFold, showView } from "./workbenchPage";

journey("Evidence", "Evidence", "goes from an empty sheet to a standing", async (page, { width }) => {
  await page.getByRole("button", { name: "Make a sheet for claims" }).click();
  await page.getByText('The new sheet "Claims" has a column for everything that is checked').waitFor();
  await page.getByText('The sheet "Claims" holds no claims yet').waitFor();
  if (width === 1400) {
    await page.locator("#grid").getByText("Claims", { exact: true }).click();
    for (const [cell, text] of [
      ["A2", "First"],
      ["D2", "1.1"],
      ["E2", "0.03"],
      ["F2", "2.25"],
      ["G2", "0.01"],
      ["H2", "no"],
      ["I2", "yes"],
      ["J2", "yes"],
      ["A3", "Second"],
      ["D3", "1.3"],
      ["F3", "2.4"],
    ])
      await typeInto(page, cell, text);
    await page.locator("[data-part=evidence]").getByText("1 of 2 claims stands").waitFor();
    await page.getByText("the marks are 2.4 in apart, a ball is 2.25 in; at most 0.031 in is allowed").waitFor();
    // A long bend has a standing of its own; a bend as wide as a ball and an uncertainty below 0 have none.
    for (const [cell, text] of [
      ["A4", "Long"],
      ["D4", "-1.4"],
      ["E4", "0.03"],
      ["F4", "2.25"],
      ["G4", "0"],
      ["H4", "no"],
      ["I4", "yes"],
      ["J4", "yes"],
      ["A5", "Wide"],
      ["D5", "3"],
      ["E5", "-0.1"],
    ])
      await typeInto(page, cell, text);
    await page.getByText("a bend of 3 in is as wide as a ball (2.25 in) or wider").waitFor();
    await page.getByText("its standard uncertainty is −0.1 in, which must be above 0").waitFor();
    // Claims that stand are intervals, those that fall are hollow, their checks beside them.
    expect(await page.locator("[data-figure=claims] [data-mark=interval]").count()).toBe(4);
    expect(await page.locator("[data-figure=claims] [data-open]").count()).toBe(2);
    await page
      .locator("[data-part=line]")
      .getByText(/^First has the largest short bend that stands: 1\.10/)
      .waitFor();
    await openFold(page, "How this was worked out");
    await openFold(page, "Why?");
    expect(await page.locator("[data-part=standing-short] tbody tr").allInnerTexts()).toEqual([
      expect.stringContaining("First"),
    ]);
    expect(await page.locator("[data-part=standing-long] tbody tr").allInnerTexts()).toEqual([
      expect.stringContaining("Long"),
    ]);
    // Tries and film are told; the page that is published holds the verdict and no script.
    await page.locator("[data-part=verdict]").getByText("First was measured to bend 1.100 in").first().waitFor();
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Publish the standing as a page" }).click(),
    ]);
    expect(download.suggestedFilename()).toBe("standing.html");
    const html = readFileSync((await download.path())!, "utf8");
    expect(html).toContain("number of tries not recorded");
    expect(html).not.toContain("<script");
    // The ball's size stands in the set-up.
    await showView(page, "Set-up");
    await page.getByRole("textbox", { name: /^Ball diameter .*, value$/ }).fill("2.4");
    await page.locator("[data-part=setup-line]").getByText("ball 2.4 in").waitFor();
    await showView(page, "Evidence");
    await page.getByText("the marks are 2.25 in apart, a ball is 2.4 in").first().waitFor();
    await page.getByRole("button", { name: "Write the standing to a sheet" }).click();
    await page.getByText('Written to the new sheet "Standing". The claims were not touched.').waitFor();
  }
});
