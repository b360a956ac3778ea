/** The shipped task pane in a real browser, as Excel opens it: Microsoft's scripts, and a host with a workbook. */
import { gzipSync } from "node:zlib";
import axe from "axe-core";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readManifest } from "../../scripts/manifest";
import metadata from "../../src/functions/functions.json";
import { ExcelFailure } from "../excelHost/failure";
import { LEAST_SETS, type Host } from "../excelHost/host";
import { paneServer, type Pane } from "./excelPane";
import { ballAt, filmedTable, pictureOf } from "./filmedTable";
import { faults } from "./faults";
import { clickFilm, openFilm, roughCorners } from "./filmMarks";
import { showView } from "./workbenchPage";

const server = paneServer();

/** The ids that the page has made known, by Microsoft's own list of them. */
const associated = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const { _association } = CustomFunctions as unknown as { _association: { mappings: Record<string, unknown> } };
    return Object.keys(_association.mappings);
  });

/** Calls a function as Excel does: null for every argument that is left out. */
async function call(host: Host, id: string, ...given: unknown[]) {
  const { parameters } = metadata.functions.find((one) => one.id === id)!;
  return host.functions.call(
    id,
    parameters.map((_, index) => given[index] ?? null),
  );
}

/** What the pane shows first, in the colours that Office says. */
async function answersIn(theme: "light" | "dark", { page: opened, trouble }: Pane): Promise<void> {
  await opened.getByRole("heading", { name: /^Why\?/ }).waitFor();
  const answer = opened.locator("[data-part=answer-picture]");
  await expect.poll(() => answer.innerText()).toMatch(/humidity/i);
  expect(await answer.innerText()).toMatch(/interval/);
  const widths = await opened.evaluate(() => [
    document.documentElement.scrollWidth,
    document.documentElement.clientWidth,
  ]);
  expect(widths[0]).toBeLessThanOrEqual(widths[1]);
  const paper = await opened.evaluate(
    () => getComputedStyle(document.querySelector(".fui-FluentProvider")!).backgroundColor,
  );
  expect(paper).toBe(theme === "light" ? "rgb(255, 255, 255)" : "rgb(41, 41, 41)");
  // Excel lays its own menu, some 40 px square, over the top right corner.
  const corner = await opened.evaluate(() => {
    const inTheWay = [...document.querySelectorAll("button, h1, h2, input, a, select")]
      .map((element) => ({ said: element.textContent, box: element.getBoundingClientRect() }))
      .filter(({ box }) => box.right > innerWidth - 38 && box.top < 34 && box.width > 0);
    return inTheWay.map(({ said }) => said);
  });
  expect(corner).toEqual([]);
  if (process.env["BENDBOOK_PICTURES"])
    await opened.screenshot({ path: `${process.env["BENDBOOK_PICTURES"]}/taskpane-${theme}.png`, fullPage: true });
  expect(trouble).toEqual([]);
}

describe("the task pane", () => {
  it("serves every address of the manifest", async () => {
    const paths = new Set([...readManifest().matchAll(/https:\/\/localhost:\d+\/([^"]+)"/g)].map(([, path]) => path));
    expect(paths.size).toBeGreaterThanOrEqual(7);
    for (const path of paths) expect((await fetch(server.address + path)).status, path).toBe(200);
    expect(await (await fetch(`${server.address}functions.json`)).json()).toEqual(metadata);
  });

  describe("from one thing to the next", () => {
    // One pane, as a person has it.
    let pane: Pane;
    beforeAll(async () => {
      pane = await server.openForAll({ background: "#ffffff" });
      await pane.page.getByText("40 of 40").first().waitFor();
    }, 120_000);
    afterAll(() => server.close(pane));

    it("reads the workbook and answers at 320 px, light", () => answersIn("light", pane));

    it("is usable by keyboard alone and at the 270 px of a Mac, with all that is said about Excel around it", async () => {
      const { page: opened, host } = pane;
      await opened.setViewportSize({ width: 270, height: 900 });
      const sideways = () =>
        opened.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      expect(await sideways()).toBeLessThanOrEqual(0);
      const inFront = () => opened.evaluate(() => document.activeElement?.textContent ?? "");
      const order: string[] = [];
      while (order.length < 40 && !order.at(-1)?.startsWith("Choose rows")) {
        await opened.keyboard.press("Tab");
        order.push(await inFront());
      }
      expect(order.slice(0, 7)).toEqual(["Help", "Preferences", "Prepare", "Shoot", "Learn", "Show", "Analysis"]);
      expect(order.at(-1)).toContain("Choose rows");
      await opened.keyboard.press("Enter");
      await opened.locator('[data-step="rows"]').waitFor();
      // Both notices above the panel, the boxes below it.
      await call(host, "BEND", [[0]]);
      await host.functions.call("BEND", [[[0.875]]]);
      await expect.poll(() => opened.getByRole("note").count()).toBe(2);
      await opened.getByText("drag the edge of this pane: this Excel opens no page for it").waitFor();
      expect(await sideways()).toBeLessThanOrEqual(0);
      // None of it lies over the panel.
      const over = await opened.locator("#panel").evaluate((panel) => panel.scrollHeight - panel.clientHeight);
      expect(over).toBeLessThanOrEqual(1);
      await opened.evaluate(axe.source);
      expect(await faults(opened)).toEqual([]);
      if (process.env["BENDBOOK_PICTURES"])
        await opened.screenshot({ path: `${process.env["BENDBOOK_PICTURES"]}/taskpane-notices.png`, fullPage: true });
      await opened.setViewportSize({ width: 320, height: 900 });
    });

    it("associates every function, and they compute as Excel calls them", async () => {
      const { page, host, trouble } = pane;
      expect(await associated(page)).toEqual(metadata.functions.map(({ id }) => id));
      expect(await call(host, "BEND", [[0.875]])).toEqual({ value: [[0.25]] });
      expect(await call(host, "CLEARANCE", [[0.25]], [[1]])).toEqual({ value: [[0.125]] });
      expect(await call(host, "OFFSET", [[0.25]], [[0.0625]])).toEqual({ value: [[0.8125]] });
      expect(await call(host, "INCHES", [["1⅛"]])).toEqual({ value: [[1.125]] });
      expect(await call(host, "FRACTION", [[1.125]])).toEqual({ value: [["1 1/8"]] });
      expect((await call(host, "SPREAD", [[1], [2], [3]])).value).toHaveLength(4);
      // The line 1 + 2x through three points: slope 2 to the last bits of double precision.
      const line = (await call(host, "REGRESS", [[3], [5], [7], [9]], [[1], [2], [3], [4]])).value as unknown[][];
      expect(line.map((row) => row[1]).slice(1, 3)).toEqual([expect.closeTo(1, 12), expect.closeTo(2, 12)]);
      expect(((await call(host, "MAKES", [[3]], [[4]])).value as unknown[][])[1]![0]).toBe(0.75);
      expect(trouble).toEqual([]);
    });

    it("says errors in words, for the whole answer and for one cell of it", async () => {
      const { host } = pane;
      expect(await call(host, "BEND", [[null]])).toEqual({
        value: { error: "#N/A" },
        message: expect.stringContaining("gap is blank"),
      });
      expect((await call(host, "BEND", [[0.875], ["soon"], [{ error: "#DIV/0!" }]])).value).toEqual([
        [0.25],
        [{ error: "#VALUE!", message: expect.stringContaining('gap is "soon"') }],
        [{ error: "#VALUE!", message: expect.stringContaining("#DIV/0!") }],
      ]);
      // What no script knows, Excel answers for by itself.
      expect((await host.functions.call("NOTHING_OF_OURS", [])).value).toEqual({ error: "#VALUE!" });
    });

    it("leaves colours to the system in a contrast theme, whatever Office says", async () => {
      const { page: opened } = pane;
      const background = () =>
        opened.evaluate(() =>
          getComputedStyle(document.querySelector(".fui-FluentProvider")!)
            .getPropertyValue("--colorNeutralBackground1")
            .trim(),
        );
      await expect.poll(background).toBe("#ffffff");
      await opened.emulateMedia({ forcedColors: "active" });
      await expect.poll(background).toBe("#000000"); // of the theme for high contrast
      await opened.getByText("40 of 40").first().waitFor();
      if (process.env["BENDBOOK_PICTURES"])
        await opened.screenshot({ path: `${process.env["BENDBOOK_PICTURES"]}/taskpane-contrast.png`, fullPage: true });
      await opened.emulateMedia({ forcedColors: "none" });
      await expect.poll(background).toBe("#ffffff");
    });

    it("starts with the workbook once it is asked for, and no more when it is taken back", async () => {
      const { page, host } = pane;
      const box = page.getByRole("checkbox", { name: /^Start Bendbook with this workbook/ });
      await box.waitFor();
      expect([await box.isChecked(), host.workbook.startState]).toEqual([false, "Inactive"]);
      await box.press("Space");
      await expect.poll(() => host.workbook.startState).toBe("Background");
      await box.press("Space");
      await expect.poll(() => host.workbook.startState).toBe("Inactive");
      host.refuse = (step) =>
        step.includes("SetAppRuntimeStartState") ? new ExcelFailure("AccessDenied", "Not here.") : undefined;
      await box.press("Space");
      await page.getByText("Excel did not keep that: Not here.").waitFor();
      expect(await box.isChecked()).toBe(false);
      host.refuse = () => undefined;
    });

    it("follows a change in the sheet and keeps the results on a new sheet with charts", async () => {
      const { page: opened, host, trouble } = pane;
      host.workbook.type("Bo's log", 41, 2, null);
      await opened.getByText("39 of 40").first().waitFor();
      await opened.getByRole("button", { name: /Keep/ }).first().click();
      await opened.locator('[data-step="keep"]').getByRole("button").first().click();
      await expect.poll(() => host.workbook.sheets.length).toBe(2);
      await expect.poll(() => host.workbook.sheets[1]!.charts.length).toBeGreaterThan(1);
      expect(trouble).toEqual([]);
    });
  });

  it("reads the workbook and answers at 320 px, dark", async () =>
    answersIn("dark", await server.open({ background: "#262626" })));

  it("knows its functions by a small script, before the rest of the pane has come and where it never comes", async () => {
    const { page, host } = await server.open({ without: /\/taskpane\.[0-9a-f]+\.js$/ });
    expect(await associated(page)).toEqual(metadata.functions.map(({ id }) => id));
    expect(await call(host, "BEND", [[0.875]])).toEqual({ value: [[0.25]] });
    const script = Buffer.from(await (await fetch(`${server.address}functions.js`)).arrayBuffer());
    expect(gzipSync(script, { level: 9 }).length).toBeLessThanOrEqual(120_000);
    // At once, not after the page has been read.
    const waits = await page
      .locator('script[src="functions.js"]')
      .evaluate((one: HTMLScriptElement) => one.defer || one.async);
    expect(waits).toBe(false);
  });

  it("writes, computes beside the page and takes back in every view, without a word on the console", async () => {
    const { page: opened, host, trouble } = await server.open();
    await opened.getByText("40 of 40").first().waitFor();
    const view = async (name: string) => {
      await showView(opened, name);
    };
    const press = (name: string | RegExp) =>
      opened
        .getByRole("button", { name, exact: typeof name === "string" })
        .first()
        .click();
    const sheets = () => host.workbook.sheets.map(({ name }) => name);
    const made: string[] = [];
    /** What a press writes is a new sheet of that name. */
    const makes = async (button: string | RegExp, ...names: string[]) => {
      await press(button);
      made.push(...names);
      await expect.poll(sheets).toEqual(["Bo's log", ...made]);
    };

    await view("Plan");
    await makes("Write the plan", "Plan", "Plan notes");
    await view("Shot");
    await press(/^Keep the shot/);
    await makes("Send to sheet", "Shots");
    await press("Send to sheet");
    await opened.getByRole("button", { name: 'Undo row 3 of the sheet "Shots"' }).waitFor();
    await press('Undo row 3 of the sheet "Shots"');
    await opened.getByText('Taken back: row 3 of the sheet "Shots".').waitFor();
    await view("Layout");
    await makes("Write the places to a sheet", "Layout");
    await view("Measure");
    await press(/^Check by /);
    await opened.locator("[data-part=drawn]").waitFor();
    await makes("Write the budget to a sheet", "Uncertainty");
    await view("Evidence");
    await makes("Make a sheet for claims", "Claims");
    await view("Next");
    await press("Look for the next shots");
    await opened.locator("[data-part=proposals]").waitFor();
    await makes("Write them as rows to shoot", "Next shots");
    await view("Report");
    await makes("Make the report", "Report");
    await view("Video");
    // A film of the drawn table, shorter and with fewer frames than that of the view's own journey.
    const times = Array.from({ length: 24 }, (_, i) => i / 30);
    await openFilm(opened, await filmedTable(opened, "evening.webm", { times }));
    await roughCorners(opened, 4);
    await opened.getByText("Mark the ball in a frame before the contact.").waitFor();
    await clickFilm(opened, pictureOf(ballAt(0)));
    await press("Follow the ball");
    await opened.getByText(/was followed through \d+ frames/).waitFor({ timeout: 120_000 });
    await press(`Write the row to "Bo's log"`);
    await opened.getByText(/^Written to row 43 of the sheet "Bo's log"\. No other cell was touched\./).waitFor();
    const bend = Number(host.workbook.sheet("Bo's log").cell(42, 0)?.value);
    expect(Math.abs(bend)).toBeGreaterThan(0.1);
    await view("First hour");
    await makes("Make a new log", "Log");
    await view("Set-up");
    await opened.getByRole("combobox", { name: "Table" }).click();
    await opened.getByRole("option", { name: "7 ft" }).click();
    await opened.locator("[data-part=setup-line]").getByText("Table 76 in by 38 in").waitFor();
    made.push("Conditions");
    await expect.poll(sheets).toEqual(["Bo's log", ...made]);

    // Nobody touched any of it: all goes, the latest first, choices between the sheets as well, once the last one has
    // come to rest.
    await opened.waitForTimeout(800);
    while (sheets().length > 1) {
      const undo = opened.getByRole("button", { name: /^Undo / });
      const before = await undo.innerText();
      await undo.click();
      await expect
        .poll(() => opened.getByRole("status").allInnerTexts())
        .toContain(`${before.replace(/^Undo /, "Taken back: ")}.`);
    }
    expect(sheets()).toEqual(["Bo's log"]);
    const widths = await opened.evaluate(() => [
      document.documentElement.scrollWidth,
      document.documentElement.clientWidth,
    ]);
    expect(widths[0]).toBeLessThanOrEqual(widths[1]);
    expect(trouble).toEqual([]);
  });

  it("takes attempts into a log of their own and takes them back, at 320 and 360 px", async () => {
    const { page: opened, host, trouble } = await server.open();
    await opened.getByText("40 of 40").first().waitFor();
    await showView(opened, "Shoot");
    await opened.getByText(`The sheet "Bo's log" is no log of attempts`).waitFor();
    await opened.getByRole("button", { name: "Make a log of attempts" }).click();
    await opened.getByText("0 attempts, session S1; the next goes into row 2 of Attempts").waitFor();
    for (const [i, name] of ["cleared", "hit obstacle", "missed"].entries()) {
      await opened.locator(`[data-outcome="${name}"]`).click();
      await opened.getByText(new RegExp(`^${i + 1} attempts?, session S1; the next goes into row ${i + 3} `)).waitFor();
    }
    const rows = () => {
      const sheet = host.workbook.sheet("Attempts");
      return [1, 2, 3].map((row) => [0, 2, 8].map((column) => sheet.cell(row, column)?.value ?? ""));
    };
    expect(rows()).toEqual([
      [1, "S1", "cleared"],
      [2, "S1", "hit obstacle"],
      [3, "S1", "missed"],
    ]);
    await opened.getByRole("button", { name: "Take back the last" }).click();
    await opened.getByText("Taken back: row 4.").waitFor();
    // The number was there before: it is none of the attempt's.
    expect(rows()[2]).toEqual([3, "", ""]);
    // The presses are no business of the panel's own undo.
    expect(await opened.getByRole("button", { name: /^Undo row/ }).count()).toBe(0);
    for (const width of [360, 320]) {
      await opened.setViewportSize({ width, height: 900 });
      const widths = await opened.evaluate(() => [
        document.documentElement.scrollWidth,
        document.documentElement.clientWidth,
      ]);
      expect(widths[0]).toBeLessThanOrEqual(widths[1]!);
    }
    expect(trouble).toEqual([]);
  });

  it("points out zeros that Excel may mean for blanks: in the table, and in the pane until it is read; not once a blank has come as one", async () => {
    // Data types are no promise: what Microsoft says of them is silent on blanks.
    const { page, host } = await server.open({ sets: { ...LEAST_SETS, CustomFunctionsRuntime: "1.4" } });
    await page.getByText("40 of 40").first().waitFor();
    expect(await call(host, "BEND", [[0]])).toEqual({ value: [[1.125]] });
    const notice = page.getByRole("note");
    await notice.getByText("BANK.BEND was given a 0: if that is a blank").waitFor();
    const withNote = (await call(host, "SPREAD", [[1], [0], [3]])).value as unknown[][];
    expect(withNote.at(-1)![0]).toMatch(/^1 of the cells given is 0: this Excel may hand over a blank as 0/);
    await notice.getByRole("button", { name: "I have read this" }).click();
    expect(await notice.count()).toBe(0);
    // A blank that comes as such shows that this Excel tells them apart, the next time as well.
    await call(host, "SPREAD", [[1], [null], [3]]);
    expect((await call(host, "SPREAD", [[1], [0], [3]])).value).toHaveLength(withNote.length - 1);
    await page.reload();
    await page.getByText("40 of 40").first().waitFor();
    expect((await call(host, "SPREAD", [[1], [0], [3]])).value).toHaveLength(withNote.length - 1);
    expect(await page.getByRole("note").count()).toBe(0);
  });

  it("notices that Excel keeps another list of the functions, goes on where it can, and says how to clear it", async () => {
    const { page, host } = await server.open();
    await page.getByText("40 of 40").first().waitFor();
    // An older list, with fewer arguments, and a newer one.
    expect(await host.functions.call("BEND", [[[0.875]]])).toEqual({ value: [[0.25]] });
    await page.getByRole("note").getByText("arguments given to BANK.BEND: 1; arguments it takes: 3").waitFor();
    await page.getByRole("note").getByText("Trusted Add-in Catalogs").waitFor();
    expect(await host.functions.call("BEND", [[[0.875]], null, null, null])).toEqual({ value: [[0.25]] });
    expect(await host.functions.call("BEND", [[[0.875]], null, null, [[1]]])).toEqual({
      value: { error: "#VALUE!" },
      message: expect.stringContaining("Excel keeps another list of the functions and gave 4"),
    });
    // Excel's own way to read it anew, switched off at an opening that shows nothing wrong.
    const refresh = () =>
      page.evaluate(() => Office.context.document.settings.get("Office.ForceRefreshCustomFunctionsCache") as unknown);
    await page.getByRole("button", { name: "Read the list anew at the next opening" }).press("Enter");
    await page.getByText("Save this workbook, close it and open it again: Excel reads the list anew then.").waitFor();
    expect(await refresh()).toBe(true);
    await page.reload();
    await page.getByText("40 of 40").first().waitFor();
    await expect.poll(refresh).toBe(false);
  });

  it("says where it belongs when another Office program opens it", async () => {
    const { page } = await server.open({ program: "Word" });
    await expect.poll(() => page.getByRole("status").innerText()).toContain("This page is the Bendbook pane of Excel");
  });

  it("says where it belongs in a plain browser", async () => {
    const { page } = await server.open({ excel: false });
    await expect.poll(() => page.getByRole("status").innerText()).toContain("This page is the Bendbook pane of Excel");
  });

  it("says what to do when Microsoft's script cannot be had", async () => {
    const { page } = await server.open({ withoutClient: () => true });
    await expect.poll(() => page.getByRole("status").innerText()).toContain("could not be loaded");
  });
});
