/**
 * The analysis in the shipped page: comparing tables, what makes a shot, trust with draws in the worker, what each
 * choice changed.
 */
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { selected } from "./gridTyping";
import { openBench, openFold, openStep, openWhy, paperOf, testBench } from "./workbenchPage";

const bench = testBench();

async function ask(page: Page, kind: string): Promise<void> {
  await page.locator("[data-part=line]").waitFor();
  await openStep(page, "Choose a question");
  await choose(page, "Kind of question", kind);
}

async function choose(page: Page, field: string, option: string | RegExp): Promise<void> {
  await page.getByRole("combobox", { name: field }).click();
  await page.getByRole("option", { name: option }).click();
}

async function open(look: { width: number; dark?: boolean }) {
  const opened = await openBench(bench, { ...look, height: 1000 });
  if (look.width < 500) await opened.page.click("#show-panel");
  return opened;
}

/** Nothing in the panel may stick out at the side, in high contrast neither, and nothing may have gone wrong. */
async function settled(page: Page, errors: readonly string[]): Promise<void> {
  const fits = async () => {
    const [content, room] = await page.evaluate(() => [
      document.querySelector("#panel main")!.scrollWidth,
      document.querySelector("#panel main")!.clientWidth,
    ]);
    expect(content).toBeLessThanOrEqual(room!);
  };
  await fits();
  await page.emulateMedia({ forcedColors: "active" });
  await expect.poll(() => paperOf(page)).toBe("#000000");
  await fits();
  await page.emulateMedia({ forcedColors: "none" });
  expect(errors).toEqual([]);
}

const LOOKS = [{ width: 1400 }, { width: 320, dark: true }];

describe.each(LOOKS)("the analysis at %j", (look) => {
  // One page goes from question to question, as a person does; the first is asked when it opens.
  let page: Page;
  let errors: string[];
  beforeAll(async () => void ({ page, errors } = await open(look)), 120_000);
  afterAll(() => page?.close());

  it("checks the answer, draws it anew in the worker, stops when told, and shows what each choice changed", async () => {
    await page.locator("[data-part=line]").waitFor();
    await openStep(page, "Trust the answer");
    await page.locator("[data-part=checks]").getByText("A shot predicted from all others is off by").waitFor();
    if (look.width > 500) {
      await page.getByRole("region", { name: "Rows that pull hardest" }).getByRole("button").first().click();
      await expect.poll(() => selected(page)).toMatch(/^A(\d+):P\1$/);
    }
    const seed = page.getByRole("textbox", { name: "Seed" });
    await seed.fill("any");
    await page.getByText('The seed is "any": give a whole number').waitFor();
    expect(await page.getByRole("button", { name: /^Check the intervals/ }).isDisabled()).toBe(true);
    await seed.fill("7");
    await choose(page, "What is drawn", "single shots");
    await choose(page, "Draws", "50,000");
    await page.getByRole("button", { name: "Check the intervals by 50,000 draws" }).click();
    await page.getByRole("progressbar", { name: "Drawing rows" }).waitFor();
    await page.getByRole("button", { name: "Cancel" }).click();
    expect(await page.locator("[data-part=bootstrap]").count()).toBe(0);
    await choose(page, "Draws", "1,000");
    await page.getByRole("button", { name: "Check the intervals by 1,000 draws" }).click();
    await page
      .locator("[data-part=bootstrap]")
      .getByText("1,000 draws of 237 single rows with replacement (seed 7)")
      .waitFor();
    await page
      .locator("[data-part=bootstrap]")
      .getByText(/The draws (agree|do not agree)/)
      .waitFor();
    await page.getByRole("button", { name: "Check the p-value by 1,000 exchanges" }).click();
    await page.locator("[data-part=permutation]").getByText(/agree/).waitFor();
    // Cloth never changes within a session: exchanging there tells nothing, and the page says so.
    await choose(page, "What is drawn", "all shots of one Session together");
    await page.getByRole("button", { name: "Check the p-value by 1,000 exchanges" }).click();
    await page.getByText('"Cloth" never changes within one Session').waitFor();
    await openStep(page, "What each choice changed");
    await page
      .locator("[data-part=changed]")
      .getByText(/as asked the rows do not tell the direction/)
      .waitFor();
    await choose(page, "Effect to follow", /humidity/);
    await page.locator("[data-part=changed]").getByText("Ten points more humidity").waitFor();
    await choose(page, "Plot", "Residual quantiles");
    await page.getByText(/sets of normal scatter put through the same fit \(seed 1\)/).waitFor();
    await settled(page, errors);
  });

  it("compares tables, with a margin, a reference and an effect by level", async () => {
    await ask(page, "Which levels differ");
    await openWhy(page);
    const pairs = page.locator("[data-part=pairs] tbody tr");
    await expect.poll(() => pairs.count()).toBe(3);
    const margin = page.getByRole("textbox", { name: /^Counts as the same within/ });
    await margin.fill("narrow");
    await page.getByText('The margin is "narrow": give the largest difference').first().waitFor();
    expect(await margin.inputValue()).toBe("narrow");
    expect(await pairs.count()).toBe(3);
    await margin.fill("1/16");
    await page.locator("[data-part=sentences]").getByText("the same to 0.0625 in").first().waitFor();
    await choose(page, "Plot", "Differences between levels of Table");
    await page.locator("[data-figure=pairs-0] [data-mark=margin]").waitFor();
    await page.locator("[data-figure=pairs-0]").press("ArrowRight");
    await page.getByText(/^North less Window: −?0\.\d+, interval/).waitFor();
    const [svg] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("region", { name: "The answer" }).getByRole("button", { name: "Save as SVG" }).click(),
    ]);
    expect(svg.suggestedFilename()).toBe("differences-between-levels-of-table.svg");
    // The same as words and numbers.
    await page
      .getByRole("region", { name: "The answer" })
      .getByRole("button", { name: "Table of the picture" })
      .click();
    await page.locator("[data-part=picture-table]").getByText("North less Window").waitFor();
    await choose(page, "Compared with", "North");
    await expect.poll(() => pairs.count()).toBe(2);
    await choose(page, "Does an effect differ between them?", "Speed (mph)");
    await expect.poll(() => page.locator("[data-part=slopes] tbody tr").count()).toBe(3);
    await settled(page, errors);
  });

  it("answers what makes a shot, at settings that are typed", async () => {
    await ask(page, "What makes a shot");
    await openStep(page, "Why");
    await openStep(page, "At settings of yours");
    await page
      .locator("[data-part=sentences]")
      .getByText(/\d+ of \d+ shots made/)
      .waitFor();
    const speed = page.getByRole("textbox", { name: "Speed (mph)" });
    await speed.fill("fast");
    await page.getByText('Speed is "fast": give a number in mph').waitFor();
    expect(await speed.inputValue()).toBe("fast");
    await speed.fill("11");
    await page.locator("[data-part=rate-at]").getByText("speed 11 mph").waitFor();
    await speed.fill("30");
    await page.locator("[data-part=rate-at]").getByText("No shot was taken so far out in speed").waitFor();
    await choose(page, "Plot", "Success rate against Speed");
    await page.locator("[data-figure=rate-2]").press("ArrowRight");
    await page.getByText(/^row \d+: Speed \(mph\) [\d.]+, (made|not made)$/).waitFor();
    await choose(page, "Which shots go together", "Shots of one Session together in any way");
    await page.locator("[data-part=sentences]").getByText("one session").first().waitFor();
    await openStep(page, "What each choice changed");
    await openFold(page, "each choice with its rows");
    await page.locator("[data-part=changes]").getByText("Every shot on its own").waitFor();
    await openStep(page, "Keep");
    await page.getByRole("button", { name: "Write results sheet" }).click();
    await page.getByText('Written to the new sheet "Results". No other cell was touched.').waitFor();
    await settled(page, errors);
  });
});

describe("readings taken twice", () => {
  it("are compared under the rows, and set beside each other by who read", async () => {
    const { page, errors } = await open({ width: 320 });
    const rows = Array.from(
      { length: 12 },
      (_, i) =>
        `${6 + (i % 5)},${(0.1 + 0.02 * (i % 5)).toFixed(3)},${(0.1 + 0.02 * (i % 5) + 0.005 * ((i % 3) - 1)).toFixed(3)},${i % 2 ? "Ada" : "Ben"}`,
    );
    await page.setInputFiles("#file", {
      name: "twice.csv",
      mimeType: "text/csv",
      buffer: Buffer.from(["Speed (mph),Gap 1 (in),Gap 2 (in),Reader", ...rows].join("\n")),
    });
    await page.waitForSelector('body[data-ready="twice.csv"]');
    await page.locator("[data-part=line]").waitFor();
    await openStep(page, "Check rows");
    const repeated = page.locator("[data-part=repeated]");
    await repeated.getByText(/^A single reading of gap 1 repeats to 0\.00\d+ in/).waitFor();
    await choose(page, "Set beside each other", "Reader");
    await repeated.getByText(/"Ben" 0\.00\d+ in/).waitFor();
    await settled(page, errors);
    await page.close();
  });
});
