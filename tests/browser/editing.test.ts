/**
 * The grid under a person's hands: cells opened and confirmed, fractions typed, the keyboard handed from part to part.
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Book } from "../../src/workbook/book";
import { saveCopy } from "../../src/workbook/file/save/saveCopy";
import { goTo, selected, typeInto } from "./gridTyping";
import { openBench, savedBook, showView, testBench } from "./workbenchPage";

/** Readings as rulers give them, each under formats that would hide or destroy it. */
const VALUES = [0.375, 13 / 16, 1 / 32, 0.3, 5 / 16, -0.125, 1.125, 2, 1 / 3, 0.1 + 0.2, 1e-7, 12345.678901234567];
const FORMATS = ["# ?/?", "# ??/16", "# ??/??", "0.00", "General", "0%"];

const book: Book = {
  names: [],
  styles: FORMATS.map((format) => ({ format })),
  sheets: [
    {
      name: "Log",
      rows: [
        [{ value: "Gap (in)" }, ...FORMATS.slice(1).map((format) => ({ value: format }))],
        ...VALUES.map((value) => FORMATS.map((_, style) => ({ value, style }))),
      ],
      hiddenRows: [],
      merged: [],
      tables: [],
      validations: [],
      columnWidths: [],
    },
  ],
};

let folder: string;
const bench = testBench(async () => {
  folder = mkdtempSync(join(tmpdir(), "bendbook-editing-"));
  const file = join(folder, "readings.xlsx");
  writeFileSync(file, (await saveCopy(null, book)).bytes);
  return file;
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const where = (page: Page) => page.evaluate(() => document.activeElement?.closest("#bar, #said, #grid, #panel")?.id);

describe("a cell", () => {
  // One page: what is confirmed unchanged is unchanged for what follows.
  let page: Page;
  let errors: string[];
  beforeAll(async () => void ({ page, errors } = await openBench(bench)), 120_000);
  afterAll(() => page?.close());

  it("is drawn when it changes, and at rest the grid asks for no frame but the caret's", async () => {
    const frames = () =>
      page.evaluate(async () => {
        const { requestAnimationFrame: request } = window;
        let asked = 0;
        window.requestAnimationFrame = (drawn) => (asked++, request(drawn));
        await new Promise((resolve) => setTimeout(resolve, 1000));
        window.requestAnimationFrame = request;
        return asked;
      });
    await expect.poll(frames).toBeLessThan(10);
    const sheet = page.locator("#grid canvas").first();
    const [before, after] = [await sheet.screenshot(), (await typeInto(page, "D6", "7"), await sheet.screenshot())];
    expect(after.equals(before)).toBe(false);
    await page.keyboard.press("ControlOrMeta+z");
    expect(errors).toEqual([]);
  });

  it("opened and confirmed unchanged holds what it held, to the last digit and whatever its format", async () => {
    for (let column = 0; column < FORMATS.length; column++) {
      await goTo(page, `${"ABCDEF"[column]}2`);
      // Confirming goes on to the cell below.
      for (let row = 2; row < VALUES.length + 2; row++) {
        await page.keyboard.press("F2");
        await page.keyboard.press("Enter");
      }
      expect(await selected(page)).toBe(`${"ABCDEF"[column]}${VALUES.length + 2}`);
    }
    const { sheets, styles } = await savedBook(page);
    const rows = sheets[0].rows
      .slice(1)
      .map((cells) => cells!.map((cell) => [cell!.value, styles[cell!.style!]?.format ?? "General"]));
    expect(rows).toEqual(VALUES.map((value) => FORMATS.map((format) => [value, format])));
    expect(errors).toEqual([]);
  });

  it("shows what it holds: no other reading, and fractions in lowest terms", async () => {
    await goTo(page, "A2");
    // What is copied is what is shown.
    await page.evaluate(() => {
      navigator.clipboard.write = async ([item]) => {
        document.body.dataset.copied = await (await item.getType("text/plain")).text();
      };
    });
    await page.keyboard.press("Control+A");
    await page.keyboard.press("Control+C");
    await page.waitForSelector("body[data-copied]");
    const shown = (await page.evaluate(() => document.body.dataset.copied!))
      .split("\n")
      .map((line) => line.split("\t").map((text) => text.trim()));
    const columnOf = (format: string) => shown.slice(1).map((line) => line[FORMATS.indexOf(format)]);
    for (const format of ["# ?/?", "# ??/16", "# ??/??"])
      expect(columnOf(format).slice(0, 8)).toEqual([
        "3/8",
        "13/16",
        "1/32",
        format === "# ??/??" ? "3/10" : "0.3",
        "5/16",
        "-1/8",
        "1 1/8",
        "2",
      ]);
  });

  it("that shows fractions takes 5/16 as one; elsewhere it is a day, and the mend stands at the cell at once", async () => {
    for (const [cell, typed] of [
      ["A2", "5/16"],
      ["A3", "-3/8"],
      ["B4", "1 1/32"],
      ["C5", "13/16"],
    ])
      await typeInto(page, cell, typed);
    await typeInto(page, "H2", "5/16");
    const offer = page.locator("#grid [data-part=day], body > * [data-part=day]").first();
    await offer.waitFor();
    // Beside the cell, not somewhere else on the page.
    const [at, grid] = [await offer.boundingBox(), await page.locator("#grid").boundingBox()];
    expect(at!.y).toBeLessThan(grid!.y + 260);
    // The same offer stands where the keyboard reaches it.
    await page
      .locator("#said")
      .getByText(/^H2: 5\/16 became a day/)
      .waitFor();
    await offer.getByRole("button", { name: "Make it 5/16" }).click();
    await offer.waitFor({ state: "detached" });
    await page.locator("#said").getByText(/^H2:/).waitFor({ state: "detached" });
    await typeInto(page, "H3", "3/4");
    for (let i = 0; (await where(page)) !== "said" && i < 4; i++) await page.keyboard.press("F6");
    await page.keyboard.press("Enter");
    await page.locator("#grid [data-part=day]").waitFor({ state: "detached" });
    const { sheets, styles } = await savedBook(page);
    const at2 = (row: number, column: number) => sheets[0].rows[row]![column]!;
    expect([at2(1, 0), at2(2, 0), at2(3, 1), at2(4, 2), at2(1, 7), at2(2, 7)].map(({ value }) => value)).toEqual([
      0.3125, -0.375, 1.03125, 0.8125, 0.3125, 0.75,
    ]);
    expect(styles[at2(1, 7).style!].format).toBe("# ??/??");
  });
});

describe("a page that opens one file after the other", () => {
  let page: Page;
  let errors: string[];
  // Parts of the grid come in another order on a slow machine; the keyboard is in the selected cell all the same.
  beforeAll(async () => void ({ page, errors } = await openBench(bench, { slower: 4 })), 120_000);
  afterAll(() => page?.close());

  describe("the keyboard", () => {
    it("goes round bar, sheet and panel by F6 and back by Shift+F6, from anywhere", async () => {
      expect(await where(page)).toBe("grid");
      const round: (string | undefined)[] = [];
      for (let i = 0; i < 4; i++) {
        await page.keyboard.press("F6");
        round.push(await where(page));
      }
      expect(round).toEqual(["panel", "bar", "grid", "panel"]);
      for (let i = 0; i < 3; i++) {
        await page.keyboard.press("Shift+F6");
        round.push(await where(page));
      }
      expect(round.slice(4)).toEqual(["grid", "bar", "panel"]);
      // Back in the grid, what is typed lands in the selected cell.
      await page.keyboard.press("Shift+F6");
      const cell = await selected(page);
      await page.keyboard.type("7");
      await page.keyboard.press("Enter");
      expect(cell).toBe(`A${VALUES.length + 2}`);
      expect((await savedBook(page)).sheets[0].rows[VALUES.length + 1]![0]!.value).toBe(7);
    });

    it.each([
      ["headings.csv", "Gap (in),Made\n", "A2"],
      ["log.csv", "Speed (mph),Gap (in),Made\n8,0.5,yes\n9,,no\n10,0.25,yes\n", "B5"],
      ["list.csv", "Table,Cloth\nA,worn\n", "A3"],
      // Connections that stay open for each workbook of a page would have used up the browser's six by now.
      ["seven.csv", "Gap (in)\n0.5\n", "A3"],
      ["eight.csv", "Gap (in),Humidity (%)\n,40\n", "A2"],
    ])("begins in %s where the next reading goes and never on a heading", async (name, text, cell) => {
      await page.locator("#file").setInputFiles({ name, mimeType: "text/csv", buffer: Buffer.from(text) });
      await page.waitForSelector(`body[data-ready="${name}"]`);
      await expect.poll(() => selected(page)).toBe(cell);
      await page.keyboard.type("0.75");
      await page.keyboard.press("Enter");
      const { sheets } = await savedBook(page);
      expect(sheets[0].rows[0]!.map((heading) => heading!.value)).toEqual(text.split("\n")[0].split(","));
      expect(sheets[0].rows.flat().map((one) => one?.value)).toContain(0.75);
    });

    it("of a new trial log is in its first gap, beside the first hour", async () => {
      await page.click("#blank");
      await page.waitForSelector('body[data-ready="trial-log.xlsx"]');
      await page.locator("#panel").getByRole("tab", { name: "First hour", selected: true }).waitFor();
      // What is typed goes into the row for one shot, which has the keyboard; a wrong gap is told while it is typed.
      const written = page.locator("[data-part=entered]");
      await page.locator("[data-part=entry] input:focus").waitFor();
      await page.keyboard.type("45");
      await page.locator("[data-part=entry]").getByText("45 in is more than a ball's diameter.").waitFor();
      await page.keyboard.press("Enter");
      await page.keyboard.press("ControlOrMeta+a");
      for (const [i, gap] of ["5/16", "0.25", "3/8", "1/4", "9/32"].entries()) {
        await page.keyboard.type(gap);
        await page.keyboard.press("Enter");
        await written.getByText(`Row ${i + 2}: gap `).waitFor();
      }
      await page.locator("[data-part=first-answer]").getByText("Over 5 shots").waitFor();
      // "Go to" hands the keyboard over, too.
      await page
        .locator("#panel")
        .getByRole("button", { name: /^Go to .*, the next gap/ })
        .click();
      await expect.poll(() => where(page)).toBe("grid");
      await page.keyboard.type("7/16");
      await page.keyboard.press("Enter");
      await page.locator("[data-part=first-answer]").getByText("Over 6 shots").waitFor();
      const { sheets } = await savedBook(page);
      expect(sheets[0].rows[0]![11]!.value).toBe("Gap (in)");
      expect(sheets[0].rows.slice(1, 7).map((cells) => cells![11]!.value)).toEqual([
        0.3125, 0.25, 0.375, 0.25, 0.28125, 0.4375,
      ]);
    });
  });

  describe("a table with rows below it", () => {
    it("says so in every view, and takes them in and leaves them out on one press", async () => {
      const trial = (i: number) =>
        [i + 1, 5 + 0.2 * i, 0.5 + 0.03 * i + ((i * 7) % 5) / 50].map((value) => ({ value }));
      const headings = ["Trial", "Speed (mph)", "Bend (in)"].map((value) => ({ value }));
      const tables = [{ name: "Trials", area: { row: 0, column: 0, rows: 21, columns: 3 } }];
      const rows = [headings, ...Array.from({ length: 30 }, (_, i) => trial(i))];
      const log: Book = { ...book, sheets: [{ ...book.sheets[0], rows, tables }] };
      const buffer = Buffer.from((await saveCopy(null, log)).bytes);
      await page
        .locator("#file")
        .setInputFiles({ name: "appended.xlsx", mimeType: "application/octet-stream", buffer });
      await page.waitForSelector('body[data-ready="appended.xlsx"]');
      const panel = page.locator("#panel");
      await panel
        .getByText("10 rows (22 to 31) below the table Trials are no part of it, so nothing here counts them.")
        .waitFor();
      await panel.locator("[data-part=by]").getByText("20 of 20 rows used").waitFor();
      await panel.getByRole("button", { name: "Take them in" }).click();
      await panel.locator("[data-part=by]").getByText("30 of 30 rows used").waitFor();
      await showView(page, "Plan");
      await panel.getByRole("button", { name: "Leave them out" }).click();
      await showView(page, "Analysis");
      await panel.locator("[data-part=by]").getByText("20 of 20 rows used").waitFor();
      expect(errors).toEqual([]);
    });
  });
});
