/**
 * Shooting with the shipped page: ten attempts at full width, on a phone and at the least width; taking back; a
 * workbook without a log; a page that is killed half-way; a server that is gone.
 */
import type { Page } from "playwright-core";
import { beforeEach, describe, expect, it, onTestFinished } from "vitest";
import { serve } from "../../scripts/server/serve";
import type { Book, CellValue } from "../../src/workbook/book";
import {
  clearDrafts,
  goOn,
  kill,
  newContext,
  openBench,
  opened,
  savedBook,
  showView,
  testBench,
} from "./workbenchPage";
import { typeInto } from "./gridTyping";

const bench = testBench();
beforeEach(() => clearDrafts(bench));

/** Fingers on a narrow page. */
async function touched(page: Page): Promise<void> {
  await (await page.context().newCDPSession(page)).send("Emulation.setTouchEmulationEnabled", { enabled: true });
}

/** The Shoot view in front, on the demonstration's own log of attempts, in a new session. */
async function atTheTable(page: Page): Promise<void> {
  if (await page.locator("#show-panel").isVisible()) await page.click("#show-panel");
  await showView(page, "Shoot");
  await page.locator("[data-part=other] summary").click();
  await page.getByRole("button", { name: 'Shoot on the sheet "Attempts"' }).click();
  await page.getByRole("button", { name: "New session S9" }).click();
  await page.getByText("0 attempts, session S9; the next goes into row 194 of Attempts").waitFor();
}

const outcome = (page: Page, name: string) => page.locator(`[data-outcome="${name}"]`);
const part = (page: Page, name: string) => page.locator(`[data-part=${name}]`);
const written = (page: Page, count: number) => page.getByText(new RegExp(`^${count} attempts?, session S9;`)).waitFor();

/** The rows of the attempts that were pressed in: trial, session, table, gap, required bend, outcome, film bend. */
function rowsOf(book: Book): CellValue[][] {
  const { rows } = book.sheets.find(({ name }) => name === "Attempts")!;
  return rows.slice(193).flatMap((row) => {
    // The table's formula stays where a row was taken back, and shows nothing.
    const cells = [0, 2, 3, 6, 7, 8, 9].map((column) => row?.[column]?.value ?? null);
    return cells.every((value) => value === null || value === "") ? [] : [cells];
  });
}

const ENDS = ["cleared", "cleared", "hit obstacle", "made", "missed", "hit obstacle", "cleared", "hit obstacle"];

describe.each([1400, 320])("the Shoot view at %i px", (width) => {
  it("is made for thumbs, takes ten attempts, each a row at once, and takes back the last", async () => {
    const { page, errors } = await openBench(bench, { width, height: width < 800 ? 640 : 900 });
    onTestFinished(() => page.close());
    if (width < 800) await touched(page);
    await atTheTable(page);
    await forThumbs(page, width);
    const gaps: string[] = [];
    for (const [i, name] of ENDS.entries()) {
      await page.locator("[data-part=gap][aria-busy=false]").waitFor();
      gaps.push(await part(page, "gap").innerText());
      await outcome(page, name).click();
      await written(page, i + 1);
    }
    // Two presses at once are two attempts, and said to be.
    await outcome(page, "cleared").dblclick();
    await part(page, "said").getByText("Two presses within a second are two attempts.").waitFor();
    await written(page, 10);
    expect(await part(page, "last").locator("li").count()).toBe(10);
    await part(page, "line")
      .getByText(/^(Half of the attempts bend|Every attempt)/)
      .waitFor();
    expect(await part(page, "answer").locator("svg circle").count()).toBeGreaterThanOrEqual(9);
    expect(await part(page, "care").innerText()).toContain("Nobody's face on the shot line");
    await page.getByRole("button", { name: "Take back the last" }).click();
    await part(page, "said").getByText("Taken back: row 203.").waitFor();
    await written(page, 9);

    const rows = rowsOf(await savedBook(page));
    expect(rows.map((row) => row[5])).toEqual([...ENDS, "cleared"]);
    expect(rows.map((row) => row[0])).toEqual(Array.from({ length: 9 }, (_, i) => 193 + i));
    expect(new Set(rows.map((row) => `${row[1]} ${row[2]}`))).toEqual(new Set(["S9 Window"]));
    // Computed inline, by the table's own formula.
    for (const row of rows) expect(row[4]).toBeCloseTo(1.125 - Number(row[3]), 10);
    expect(rows.slice(0, 8).map((row) => `${Number(row[3])} in`)).toEqual(gaps.map(inDecimals));
    const [content, room] = await page.evaluate(() => [
      document.querySelector("#panel main")!.scrollWidth,
      document.querySelector("#panel main")!.clientWidth,
    ]);
    expect(content).toBeLessThanOrEqual(room!);
    if (width === 320) await makesItsLog(page);
    expect(errors).toEqual([]);
  });
});

/** A workbook without a log of attempts, opened in place of the other: says so, and makes one. */
async function makesItsLog(page: Page): Promise<void> {
  await page.locator("#file").setInputFiles({
    name: "bends.csv",
    mimeType: "text/csv",
    buffer: Buffer.from("Bend (in),Cloth\n0.5,new\n0.6,worn\n"),
  });
  await page.waitForSelector('body[data-ready="bends.csv"]');
  await showView(page, "Shoot");
  await part(page, "no-log").getByText('The sheet "bends" is no log of attempts').waitFor();
  await page.getByRole("button", { name: "Make a log of attempts" }).click();
  await page.getByText("0 attempts, session S1; the next goes into row 2 of Attempts").waitFor();
  await outcome(page, "hit obstacle").click();
  await page.getByText("1 attempt, session S1; the next goes into row 3 of Attempts").waitFor();
  const { sheets } = await savedBook(page);
  const row = sheets.find(({ name }) => name === "Attempts")!.rows[1]!.map((cell) => cell?.value ?? null);
  expect([row[0], row[2], row[8]]).toEqual([1, "S1", "hit obstacle"]);
  expect(row[7]).toBeCloseTo(1.125 - Number(row[6]), 10);
}

/** Can be used with one thumb: what is pressed is at least 48 px each way, folded or not, on wider phones as well. */
async function forThumbs(page: Page, width: number): Promise<void> {
  for (const summary of await page.locator("[data-view=shoot] summary").all()) {
    const open = await summary.evaluate((element) => (element.parentElement as HTMLDetailsElement).open);
    if (!open) await summary.click();
  }
  for (const wide of width < 800 ? [360, width] : [width]) {
    await page.setViewportSize({ width: wide, height: width < 800 ? 640 : 900 });
    const sizes = await page.evaluate(() =>
      [
        ...document.querySelectorAll(
          "[data-view=shoot] button:not([role=combobox]), [data-view=shoot] summary, [data-view=shoot] .fui-Radio, [data-view=shoot] .fui-Input",
        ),
      ].map((element) => {
        const { width: across, height } = element.getBoundingClientRect();
        return { what: element.textContent || element.className, across, height };
      }),
    );
    expect(sizes.length).toBeGreaterThan(30);
    // What has no size is hidden.
    expect(sizes.filter(({ across, height }) => across > 0 && (height < 48 || across < 48))).toEqual([]);
    if (width >= 800) continue;
    // The three outcomes stand on the first screen.
    await page.evaluate(() => document.querySelector("#panel > .filling")!.scrollTo(0, 0));
    const box = await outcome(page, "missed").boundingBox();
    expect(box!.y + box!.height).toBeLessThanOrEqual(640);
  }
}

/** "13/32 in" as "0.40625 in". */
function inDecimals(text: string): string {
  const [, sign, whole, top, bottom] = /^(−?)(?:(\d+) ?)??(?:(\d+)\/(\d+))? in$/.exec(text)!;
  const size = Number(whole ?? 0) + (top ? Number(top) / Number(bottom) : 0);
  return `${sign === "−" ? -size : size} in`;
}

describe("shooting", () => {
  it("goes by keyboard alone, with a gap and a film bend of one's own, and what changed", async () => {
    const page = await opened(bench, bench.address);
    await atTheTable(page);
    const open = async (name: string) => {
      await part(page, name).locator("summary").focus();
      await page.keyboard.press("Enter");
    };
    await open("readings");
    const gap = page.getByRole("textbox", { name: "Gap that is set (in)" });
    await gap.focus();
    await page.keyboard.type("2");
    await page.keyboard.press("Enter");
    await page.getByText("2 in is more than a ball's radius").waitFor();
    await gap.fill("3/8");
    await page.keyboard.press("Enter");
    await expect.poll(() => part(page, "gap").innerText()).toBe("3/8 in");
    await open("changed");
    await page.getByRole("textbox", { name: "Humidity (%)" }).fill("damp");
    await page.getByText('Humidity (%) is "damp": column F holds numbers, so give one.').waitFor();
    await outcome(page, "cleared").focus();
    await page.keyboard.press("Enter");
    await part(page, "stopped").getByText("1 press not written yet: Humidity (%) is").waitFor();
    await page.getByRole("textbox", { name: "Humidity (%)" }).fill("63");
    await page.getByRole("button", { name: "Let them go" }).press("Enter");
    await outcome(page, "made").focus();
    await page.keyboard.press("Space");
    await written(page, 1);
    await page.getByRole("radio", { name: "the bend of the last" }).check();
    await page.getByRole("textbox", { name: "Bend that was seen (in)" }).fill("13/16");
    await page.keyboard.press("Enter");
    await part(page, "said").getByText("The bend stands in J194").waitFor();
    const saved = await savedBook(page);
    expect(rowsOf(saved)).toEqual([[193, "S9", "Window", 0.375, 0.75, "made", 0.8125]]);
    expect(saved.sheets.find(({ name }) => name === "Attempts")!.rows[193]![5]!.value).toBe(63);
    // The bend goes with the press; what somebody types besides keeps the row.
    await page.getByRole("button", { name: "Take back the last" }).press("Enter");
    await part(page, "said").getByText("Taken back: row 194.").waitFor();
    expect(rowsOf(await savedBook(page))).toEqual([]);
  });

  it("loses nothing when the page is killed half-way, with its server and without, and can still take back", async () => {
    const { server, address } = await serve({ port: 0, drafts: bench.drafts });
    const context = await newContext(bench, { hasTouch: true });
    const page = await opened(context, address, 360);
    await atTheTable(page);
    for (const [i, name] of ENDS.slice(0, 4).entries()) {
      await outcome(page, name).click();
      await written(page, i + 1);
    }
    // A press that cannot be written yet waits, and waits on in the page that comes after.
    await page.click("#show-grid");
    await page.locator("#grid").getByText("Attempts", { exact: true }).click();
    await typeInto(page, "I198", '=""');
    await page.click("#show-panel");
    await outcome(page, "missed").click();
    await part(page, "stopped").getByText("1 press not written yet: I198 holds something already").waitFor();
    // Kept some tenths of a second after the last press, as what is typed is.
    await page.waitForTimeout(300);
    await kill(page);
    const again = await opened(context, address, 360);
    await goOn(again);
    await again.click("#show-panel");
    await written(again, 4);
    await part(again, "stopped").getByText("1 press not written yet: pressed just before the page closed").waitFor();
    await again.getByRole("button", { name: "Take back the last" }).click();
    await part(again, "said").getByText("Taken back: the press that was not written yet.").waitFor();
    await again.getByRole("button", { name: "Take back the last" }).click();
    await part(again, "said").getByText("Taken back: row 197.").waitFor();
    await written(again, 3);
    // The last is the row that held something already.
    expect(rowsOf(await savedBook(again)).map((row) => row[5])).toEqual([...ENDS.slice(0, 3), ""]);

    // The server goes: the page goes on, the browser keeps the work and gives it back to the server.
    server.closeAllConnections();
    await new Promise((resolve) => server.close(resolve));
    await outcome(again, "missed").click();
    await written(again, 4);
    await again.getByRole("button", { name: "Take back the last" }).click();
    await written(again, 3);
    await outcome(again, ENDS[3]!).click();
    await written(again, 4);
    await again.getByText("Bendbook's server does not answer. The page goes on").waitFor();
    await part(again, "line")
      .getByText(/^(Half of the attempts bend|Every attempt)/)
      .waitFor();
    await again.waitForTimeout(300);
    await kill(again);
    const back = await serve({ port: Number(new URL(address).port), exactPort: true, drafts: bench.drafts });
    const last = await opened(context, back.address, 360);
    await goOn(last);
    await last.click("#show-panel");
    await written(last, 4);
    expect(rowsOf(await savedBook(last)).map((row) => row[5])).toEqual([...ENDS.slice(0, 4), ""]);
    back.server.closeAllConnections();
    back.server.close();
  });
});
