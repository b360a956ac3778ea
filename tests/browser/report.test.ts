/** The Report view in the shipped page: one command, a sheet and a page that stands by itself. */
import { readFileSync } from "node:fs";
import type { Browser, Page } from "playwright-core";
import { expect } from "vitest";
import { journey } from "./journey";
import { printedInk, printedLines } from "./printed";
import { showView } from "./workbenchPage";

journey("Report", "Report", "makes a sheet and a page for printing", async (page, { bench, width }) => {
  // The set-up's target brings a verdict.
  await showView(page, "Set-up");
  await page.getByRole("textbox", { name: "Target (in), value" }).fill("1.0");
  await showView(page, "Report");
  await page.getByRole("textbox", { name: "Title" }).fill("Bend & humidity <b>");
  await page.getByRole("textbox", { name: /^Why it was asked/ }).fill("To see.");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Make the report" }).click(),
  ]);
  await page
    .getByText('The report is on the new sheet "Report" and, with its plots, in the file report.html')
    .waitFor();
  const html = readFileSync((await download.path())!, "utf8");
  // The page asks nobody for anything, and shows itself as it is printed.
  expect(html).not.toMatch(/<(script|link|img)\b|src=/);
  const shown = await bench.browser.newPage({ viewport: { width: 800, height: 900 } });
  await shown.setContent(html);
  expect(await shown.getByRole("heading", { level: 1 }).innerText()).toBe("Bend & humidity <b>");
  expect(await shown.locator("figure svg").count()).toBeGreaterThan(5);
  expect(await shown.locator("section").count()).toBe(12);
  // On paper the answer is one page, and nothing else is on it.
  for (const [across, down] of [
    [174, 261], // A4 less its margins, in mm
    [180, 243], // Letter
  ]) {
    await shown.emulateMedia({ media: "print" });
    await shown.setViewportSize({ width: Math.round((across / 25.4) * 96), height: 900 });
    const ends = await shown.locator(".front").evaluate((front) => front.getBoundingClientRect().bottom + scrollY);
    expect(ends).toBeLessThan((down / 25.4) * 96);
    expect(await shown.locator(".front + section").evaluate((next) => getComputedStyle(next).breakBefore)).toBe("page");
  }
  await shown.emulateMedia({ media: "screen" });
  await shown.setViewportSize({ width: 800, height: 900 });
  // Paper cannot wait: the envelope that the caption speaks of is drawn.
  expect(html).not.toContain("being drawn");
  const quantiles = shown.locator("figure", { hasText: "a simultaneous envelope" });
  expect(await quantiles.locator("svg path[stroke-dasharray='3 3']").count()).toBe(1);
  expect(await shown.locator("section", { has: shown.getByRole("heading", { name: "Target" }) }).innerText()).toMatch(
    /The target of 1\.000 in was (not shown to be|not) (beaten|reached)/,
  );
  expect(html).not.toContain("was truly beaten");
  // A reason stands once, however many rows it holds for.
  const reasons = await shown
    .locator("section", { hasText: "rows read" })
    .locator("tbody td:first-child")
    .allInnerTexts();
  expect(new Set(reasons).size).toBe(reasons.length);
  expect(await shown.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(800);
  // The file is the same from each of the three places.
  if (width === 1400) await isPrintedWell(shown, bench.browser);
  await shown.close();
});

/** What comes out of the printer, read by another reader of its format: as text, and the first sheet as a picture. */
async function isPrintedWell(page: Page, browser: Browser): Promise<void> {
  const headings = await page.locator("h2").allInnerTexts();
  const heads = await page
    .locator("thead tr")
    .evaluateAll((rows) => rows.map((row) => row.textContent!.replace(/\s/g, "")));
  for (const format of ["A4", "Letter"] as const) {
    const pdf = await page.pdf({ format });
    const sheets = await printedLines(pdf);
    expect(sheets.length).toBeGreaterThan(3);
    expect(sheets[0]![0]!.text).toBe("Bend & humidity <b>");
    expect(sheets[0]!.some(({ text }) => text === headings[0])).toBe(true);
    const first = sheets[0]!.map(({ text }) => text).join(" ");
    expect(first).toMatch(
      /go with [\d.]+ in less bend, 95 % interval .* The target of 1\.000 in was not shown to be beaten/,
    );
    expect(sheets[1]![0]!.text).toBe(headings[1]);
    for (const [i, lines] of sheets.entries()) {
      const last = lines.pop()!;
      expect(last.text).toBe(`${i + 1} / ${sheets.length}`);
      // Neither a heading nor the head of a table stands alone at the end of a sheet.
      const end = lines.at(-1)!.text;
      expect([format, i + 1, headings.includes(end) || heads.includes(end.replace(/\s/g, ""))]).toEqual([
        format,
        i + 1,
        false,
      ]);
    }
    const { white, coloured } = await printedInk(browser, pdf, 1);
    expect(Math.min(...white.slice(0, 3))).toBeGreaterThan(17);
    const caption = sheets[0]!.find(({ text }) => text.includes("Dots:"));
    expect(coloured![0]).toBeGreaterThan(0.1);
    expect(coloured![1]).toBeLessThan(caption!.down);
    expect(coloured![1] - coloured![0]).toBeGreaterThan(0.05);
  }
}
