/**
 * The whole journey in the shipped page: open, compute, check rows, analyse, click a point, keep, save a copy, reopen
 * it.
 */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readFileBytes } from "../../src/workbook/file/package/disk";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { selected, typeInto } from "./gridTyping";
import { openBench, openStep, openWhy, paperOf, testBench, tick } from "./workbenchPage";

const bench = testBench();
const folder = mkdtempSync(join(tmpdir(), "bendbook-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What the answer rests on. */
const restsOn = (page: Page) => page.locator("[data-part=by]").innerText();
const sentences = (page: Page) => page.locator("[data-part=sentences]").innerText();

async function saveCopyOf(page: Page, name: string): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent("download"), page.click("#save")]);
  expect(download.suggestedFilename()).toBe(name);
  const path = join(folder, name);
  await download.saveAs(path);
  return path;
}

/** The panel needs no sideways scrolling at 320 px, in any colours. */
async function fitsNarrow(page: Page): Promise<void> {
  await page.setViewportSize({ width: 320, height: 800 });
  await page.click("#show-panel");
  await page.locator("[data-part=line]").waitFor();
  for (const title of ["Choose rows", "Check rows", "Choose a question", "Keep"]) await openStep(page, title);
  const looks = [
    [{ colorScheme: "light", forcedColors: "none" }, "#ffffff"],
    [{ colorScheme: "dark", forcedColors: "none" }, "#292929"],
    [{ colorScheme: "light", forcedColors: "active" }, "#000000"],
  ] as const;
  for (const [look, paper] of looks) {
    await page.emulateMedia(look);
    await expect.poll(() => paperOf(page)).toBe(paper);
    const panel = page.locator("#panel");
    expect(await panel.evaluate((element) => element.scrollWidth - element.clientWidth)).toBe(0);
  }
}

describe("the demonstration", () => {
  it("goes from opening to a reopened copy", async () => {
    const { page, errors } = await openBench(bench);

    // Read the answer: bend against cloth, humidity, speed and spin was asked without a click.
    await page
      .locator("[data-part=line]")
      .getByText(/95 % interval/)
      .waitFor();
    await openWhy(page);
    expect(await sentences(page)).toMatch(
      /ten points more humidity go with 0\.\d+ in less bend, 95 % interval 0\.\d+ to 0\.\d+/,
    );
    expect(await page.locator("[data-part=coefficients] tbody tr").count()).toBe(5);

    // Check rows: every row left out is listed with its cell; a click selects it.
    await openStep(page, "Check rows");
    const leftOut = page.getByRole("region", { name: "Left out" }).getByRole("button");
    expect(await leftOut.count()).toBe(3);
    const first = await leftOut.first().innerText();
    expect(first).toMatch(/^G18: Speed \(mph\) is blank$/);
    await leftOut.first().click();
    await expect.poll(() => selected(page)).toBe("G18");

    // Choose a question: take the table in as well, let spin curve.
    await openStep(page, "Choose a question");
    await tick(page.getByRole("checkbox", { name: "Table", exact: true }), true);
    await expect.poll(() => page.locator("[data-part=coefficients] tbody tr").count()).toBe(7);
    await page.getByRole("combobox", { name: "Line of Spin" }).click();
    await page.getByRole("option", { name: /one bow/ }).click();
    await expect.poll(() => sentences(page)).toContain("along the curve of spin");

    // Look: click a point and see its row selected.
    const plot = page.locator("[data-figure]");
    await page.getByRole("combobox", { name: "Plot" }).click();
    await page.getByRole("option", { name: "Bend against Cloth" }).click();
    await plot.scrollIntoViewIfNeeded();
    const circle = plot.locator("circle").nth(100);
    const box = (await circle.boundingBox())!;
    await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
    await expect.poll(() => selected(page)).toMatch(/^A(\d+):P\1$/);

    // Save the plot.
    const [svg] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save as SVG" }).click(),
    ]);
    expect(svg.suggestedFilename()).toBe("bend-against-cloth.svg");
    const [png] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save as PNG" }).click(),
    ]);
    expect(
      readFileSync(await png.path())
        .subarray(1, 4)
        .toString(),
    ).toBe("PNG");

    // Keep: a results sheet of its own.
    await openStep(page, "Keep");
    await page.getByRole("button", { name: "Write results sheet" }).click();
    await page.getByText('Written to the new sheet "Results". No other cell was touched.').waitFor();

    // Save a copy, in the form Excel itself uses.
    const path = await saveCopyOf(page, "demonstration copy.xlsx");
    const book = await readXlsx(await readFileBytes(path));
    expect(book.sheets.map(({ name }) => name)).toEqual([
      "Trials",
      "Answers",
      "Conditions",
      "Guide",
      "Attempts",
      "Results",
    ]);
    expect(book.sheets[0].rows[1]?.[13]?.formula).toContain("BANK.BEND(");
    expect(JSON.parse(book.settings!).choice.drivers.map((driver: { heading: string }) => driver.heading)).toContain(
      "Table",
    );
    expect(errors).toEqual([]);

    // Reopen the copy: the question is still the one that was asked.
    await page.setInputFiles("#file", path);
    await page.waitForSelector('body[data-ready="demonstration copy.xlsx"]');
    await openWhy(page);
    await expect.poll(() => sentences(page).catch(() => "")).toContain("along the curve of spin");
    await fitsNarrow(page);
    expect(errors).toEqual([]);
    await page.close();
  });

  it("answers anew when a cell changes and keeps what was chosen", async () => {
    const { page } = await openBench(bench);
    await page.locator("[data-part=line]").waitFor();
    expect(await restsOn(page)).toContain("237 of 240 rows used");
    await openStep(page, "Choose a question");
    await tick(page.getByRole("checkbox", { name: "Spin", exact: true }), false);
    // G18 was never filled in: type a speed there.
    await typeInto(page, "G18", "9.5");
    await expect.poll(() => restsOn(page)).toContain("238 of 240 rows used");
    expect(await page.getByRole("checkbox", { name: "Spin", exact: true }).isChecked()).toBe(false);
    await page.close();
  });
});

describe("what a user can do wrong", () => {
  // One page meets one thing after the other, as a person's page does.
  let page: Page;
  beforeAll(async () => void ({ page } = await openBench(bench)), 120_000);
  afterAll(() => page?.close());

  it("the plot answers to the keyboard alone", async () => {
    const plot = page.locator("[data-figure]");
    await plot.focus();
    // The first driver's interval opens its line, whose points are rows.
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await page.locator("[data-figure=driver-0]").waitFor();
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Enter");
    await expect.poll(() => selected(page)).toBe("A3:P3");
  });

  it("a file that is no workbook leaves the open one alone and says why", async () => {
    await page.setInputFiles("#file", { name: "shots.xlsx", mimeType: "", buffer: Buffer.from("this is no workbook") });
    await page.locator("#said .trouble").waitFor();
    expect(await page.locator("#said .trouble").innerText()).toContain("shots.xlsx");
    expect(await page.title()).toContain("demonstration.xlsx");
    expect(await page.locator("[data-part=line]").count()).toBe(1);
  });

  it("asks before changes that are in no copy are left behind", async () => {
    await openStep(page, "Keep");
    await page.getByRole("button", { name: "Write results sheet" }).click();
    await page.getByText("Written to the new sheet").waitFor();
    await page.click("#blank");
    await page.getByRole("button", { name: "Stay here" }).click();
    expect(await page.title()).toContain("demonstration.xlsx");
    await page.click("#blank");
    await page.getByRole("button", { name: "Open without saving" }).click();
    await page.waitForSelector('body[data-ready="trial-log.xlsx"]');
    // Once another workbook is open, nothing is said of the one that could not be.
    expect(await page.locator("#said .trouble").count()).toBe(0);
    await page
      .locator("#panel")
      .getByText('There is a log on the sheet "Trials": 16 columns, 0 rows filled.')
      .waitFor();
  });

  it("opens a file that is dropped on the page", async () => {
    const log = "Speed (mph),Bend (in)\n8,0.5\n9,0.61\n10,0.7\n11,0.83\n";
    await page.evaluate((text) => {
      const data = new DataTransfer();
      data.items.add(new File([text], "dropped.csv"));
      document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    }, log);
    await page.waitForSelector('body[data-ready="dropped.csv"]');
    await expect.poll(() => restsOn(page).catch(() => "")).toContain("4 of 4 rows used");
    await saveCopyOf(page, "dropped copy.xlsx");
  });

  it("text from a sheet is shown, never run", async () => {
    await page.setInputFiles("#file", join(import.meta.dirname, "../../sample-workbooks/messy-log.xlsx"));
    await page.waitForSelector('body[data-ready="messy-log.xlsx"]');
    await page.locator("[data-part=line]").waitFor();
    await openWhy(page);
    expect(await sentences(page)).toContain("<b>Bend</b>");
    expect(await page.locator("#panel b, #panel img").count()).toBe(0);
    await openStep(page, "Check rows");
    const listed = await page.getByRole("region", { name: /Left out|worth a look/ }).allInnerTexts();
    expect(listed.join("\n")).toMatch(
      /turned into a date[\s\S]*humidity lies between 0 and 100[\s\S]*larger than a ball/,
    );
  });
});
