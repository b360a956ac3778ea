/** The shipped task pane in a real browser: served from dist/, with Microsoft's hosted script stood in for. */
import { readFileSync } from "node:fs";
import type { Server } from "node:http";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { build } from "esbuild";
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { ensurePages } from "../../scripts/build.mjs";
import { readManifest } from "../../scripts/manifest";
import { serve } from "../../scripts/server/serve";
import metadata from "../../src/functions/functions.json";
import { showView } from "./workbenchPage";

const HOSTED = "https://appsforoffice.microsoft.com/";
let browser: Browser;
let server: Server;
let address: string;
let stub: string;
let page: Page | undefined;
let trouble: string[] = [];

beforeAll(async () => {
  ensurePages();
  const { workersBrowser } = await import("./browser");
  ({ server, address } = await serve({ port: 0 }));
  const bundled = await build({
    entryPoints: [fileURLToPath(new URL("excelStub.ts", import.meta.url))],
    bundle: true,
    write: false,
    format: "iife",
    logLevel: "silent",
  });
  stub = bundled.outputFiles[0].text;
  browser = await workersBrowser();
});
afterEach(async () => {
  await page?.close();
  page = undefined;
});
afterAll(async () => {
  server?.closeAllConnections();
  await new Promise((done) => server?.close(done));
});

/** Opens the pane with `hosted` in place of Microsoft's script (undefined: no internet), and `without` some files. */
async function open({
  query = "",
  hosted = (_path: string): string | undefined => stub,
  width = 320,
  without = undefined as RegExp | undefined,
} = {}): Promise<Page> {
  trouble = [];
  const opened = (page = await browser.newPage({ viewport: { width, height: 900 } }));
  opened.on("pageerror", (error) => trouble.push(error.message));
  opened.on("console", (message) => message.type() === "error" && trouble.push(message.text()));
  await opened.route(/^https?:\/\/(?!127\.0\.0\.1)/, (route) => {
    const url = route.request().url();
    const body = url.startsWith(HOSTED) ? hosted(url.slice(HOSTED.length).replace(/\?.*/, "")) : undefined;
    if (!url.startsWith(HOSTED)) trouble.push(`asked for ${url}`);
    return body === undefined ? route.abort() : route.fulfill({ contentType: "text/javascript", body });
  });
  if (without) await opened.route(without, (route) => route.abort());
  await opened.goto(`${address}taskpane.html${query}`);
  return opened;
}

type Stub = {
  ids(): string[];
  call(id: string, ...given: unknown[]): unknown;
  excel: {
    sheets: {
      name: string;
      charts: unknown[];
      cell(row: number, column: number): { value: unknown } | undefined;
    }[];
    selected: unknown;
    type(...cell: unknown[]): Promise<void>;
    parts: unknown[];
  };
};
const inPage = <T>(from: Page, act: (stub: Stub, given: never) => T, given?: unknown) =>
  from.evaluate(
    ([body, argument]) =>
      new Function("stub", "given", `return (${body})(stub, given)`)(
        (window as unknown as { stub: Stub }).stub,
        argument,
      ),
    [act.toString(), given] as const,
  ) as Promise<Awaited<T>>;

describe("the task pane", () => {
  it("serves every address of the manifest", async () => {
    const paths = new Set([...readManifest().matchAll(/https:\/\/localhost:\d+\/([^"]+)"/g)].map(([, path]) => path));
    expect(paths.size).toBeGreaterThanOrEqual(7);
    for (const path of paths) expect((await fetch(address + path)).status, path).toBe(200);
    expect(await (await fetch(`${address}functions.json`)).json()).toEqual(metadata);
  });

  it("associates every function, and they compute", async () => {
    const opened = await open();
    await opened.getByText("Bendbook").first().waitFor();
    expect(await inPage(opened, (stub) => stub.ids())).toEqual(metadata.functions.map(({ id }) => id));
    // Excel hands a null for every argument that is left out.
    const call = (id: string, ...given: unknown[]) => {
      const all = Array.from(
        { length: metadata.functions.find((one) => one.id === id)!.parameters.length },
        (_, i) => given[i] ?? null,
      );
      return inPage(opened, (stub, [id, all]: [string, unknown[]]) => stub.call(id, ...all), [id, all]);
    };
    expect(await call("BEND", [[0.875]])).toEqual([[0.25]]);
    expect(await call("CLEARANCE", [[0.25]], [[1]])).toEqual([[0.125]]);
    expect(await call("OFFSET", [[0.25]], [[0.0625]])).toEqual([[0.8125]]);
    expect(await call("INCHES", [["1⅛"]])).toEqual([[1.125]]);
    expect(await call("FRACTION", [[1.125]])).toEqual([["1 1/8"]]);
    expect(await call("SPREAD", [[1], [2], [3]])).toHaveLength(4);
    // The line 1 + 2x through three points: slope 2 to the last bits of double precision.
    expect(
      ((await call("REGRESS", [[3], [5], [7], [9]], [[1], [2], [3], [4]])) as unknown[][])
        .map((row) => row[1])
        .slice(1, 3),
    ).toEqual([expect.closeTo(1, 12), expect.closeTo(2, 12)]);
    expect(((await call("MAKES", [[3]], [[4]])) as unknown[][])[1][0]).toBe(0.75);
    expect(await call("BEND", [[null]])).toMatchObject({
      code: "#N/A",
      message: expect.stringContaining("gap is blank"),
    });
    expect(trouble).toEqual([]);
  });

  it("knows its functions by a small script, before the rest of the pane has come and where it never comes", async () => {
    const opened = await open({ without: /\/taskpane\.[0-9a-f]+\.js$/ });
    expect(await inPage(opened, (stub) => stub.ids())).toEqual(metadata.functions.map(({ id }) => id));
    expect(await inPage(opened, (stub) => stub.call("BEND", [[0.875]], null, null))).toEqual([[0.25]]);
    const script = Buffer.from(await (await fetch(`${address}functions.js`)).arrayBuffer());
    expect(gzipSync(script, { level: 9 }).length).toBeLessThanOrEqual(120_000);
  });

  it.each(["light", "dark"])("reads the workbook and answers at 320 px, %s", async (theme) => {
    const opened = await open({ query: `?theme=${theme}` });
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
        .map((element) => element.getBoundingClientRect())
        .filter((box) => box.right > innerWidth - 38 && box.top < 34 && box.width > 0);
      return inTheWay.length;
    });
    expect(corner).toBe(0);
    if (process.env["BENDBOOK_PICTURES"])
      await opened.screenshot({ path: `${process.env["BENDBOOK_PICTURES"]}/taskpane-${theme}.png`, fullPage: true });
    expect(trouble).toEqual([]);
  });

  it("leaves colours to the system in a contrast theme, whatever Office says", async () => {
    const opened = await open({ query: "?theme=light" });
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
  });

  it("is usable by keyboard alone and at the 270 px of a Mac", async () => {
    const opened = await open({ width: 270 });
    await opened.getByText("40 of 40").first().waitFor();
    const [wide, room] = await opened.evaluate(() => [
      document.documentElement.scrollWidth,
      document.documentElement.clientWidth,
    ]);
    expect(wide).toBeLessThanOrEqual(room);
    const inFront = () => opened.evaluate(() => document.activeElement?.textContent ?? "");
    const order: string[] = [];
    while (order.length < 12 && !order.at(-1)?.startsWith("Choose rows")) {
      await opened.keyboard.press("Tab");
      order.push(await inFront());
    }
    expect(order.slice(0, 7)).toEqual(["Help", "Preferences", "Prepare", "Shoot", "Learn", "Show", "Analysis"]);
    expect(order.at(-1)).toContain("Choose rows");
    await opened.keyboard.press("Enter");
    await opened.locator('[data-step="rows"]').waitFor();
  });

  it("follows a change in the sheet and keeps the results on a new sheet with charts", async () => {
    const opened = await open();
    await opened.getByText("40 of 40").first().waitFor();
    await inPage(opened, (stub) => stub.excel.type("Bo's log", 41, 2, null));
    await opened.getByText("39 of 40").first().waitFor();
    await opened.getByRole("button", { name: /Keep/ }).first().click();
    await opened.locator('[data-step="keep"]').getByRole("button").first().click();
    await expect.poll(() => inPage(opened, (stub) => stub.excel.sheets.length)).toBe(2);
    await expect.poll(() => inPage(opened, (stub) => stub.excel.sheets[1].charts.length)).toBeGreaterThan(1);
    expect(trouble).toEqual([]);
  });

  it("writes, computes beside the page and takes back in every view, without a word on the console", async () => {
    const opened = await open();
    await opened.getByText("40 of 40").first().waitFor();
    const view = async (name: string) => {
      await showView(opened, name);
    };
    const press = (name: string | RegExp) =>
      opened
        .getByRole("button", { name, exact: typeof name === "string" })
        .first()
        .click();
    const sheets = () => inPage(opened, (stub) => stub.excel.sheets.map(({ name }) => name));
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
    await view("First hour");
    await makes("Make a new log", "Log");

    // Nobody touched any of it: all goes, the latest first, choices between the sheets as well, once the last one has
    // come to rest.
    await opened.waitForTimeout(800);
    while ((await sheets()).length > 1) {
      const undo = opened.getByRole("button", { name: /^Undo / });
      const before = await undo.innerText();
      await undo.click();
      await expect
        .poll(() => opened.getByRole("status").allInnerTexts())
        .toContain(`${before.replace(/^Undo /, "Taken back: ")}.`);
    }
    expect(await sheets()).toEqual(["Bo's log"]);
    const widths = await opened.evaluate(() => [
      document.documentElement.scrollWidth,
      document.documentElement.clientWidth,
    ]);
    expect(widths[0]).toBeLessThanOrEqual(widths[1]);
    expect(trouble).toEqual([]);
  });

  it.each([320, 360])("takes attempts into a log of their own and takes them back, at %i px", async (width) => {
    const opened = await open({ width });
    await opened.getByText("40 of 40").first().waitFor();
    await showView(opened, "Shoot");
    await opened.getByText(`The sheet "Bo's log" is no log of attempts`).waitFor();
    await opened.getByRole("button", { name: "Make a log of attempts" }).click();
    await opened.getByText("0 attempts, session S1; the next goes into row 2 of Attempts").waitFor();
    for (const [i, name] of ["cleared", "hit obstacle", "missed"].entries()) {
      await opened.locator(`[data-outcome="${name}"]`).click();
      await opened.getByText(new RegExp(`^${i + 1} attempts?, session S1; the next goes into row ${i + 3} `)).waitFor();
    }
    const rows = () =>
      inPage(opened, (stub) => {
        const sheet = stub.excel.sheets.find(({ name }) => name === "Attempts")!;
        return [1, 2, 3].map((row) => [0, 2, 8].map((column) => sheet.cell(row, column)?.value ?? ""));
      });
    expect(await rows()).toEqual([
      [1, "S1", "cleared"],
      [2, "S1", "hit obstacle"],
      [3, "S1", "missed"],
    ]);
    await opened.getByRole("button", { name: "Take back the last" }).click();
    await opened.getByText("Taken back: row 4.").waitFor();
    // The number was there before: it is none of the attempt's.
    expect((await rows())[2]).toEqual([3, "", ""]);
    // The presses are no business of the panel's own undo.
    expect(await opened.getByRole("button", { name: /^Undo row/ }).count()).toBe(0);
    const widths = await opened.evaluate(() => [
      document.documentElement.scrollWidth,
      document.documentElement.clientWidth,
    ]);
    expect(widths[0]).toBeLessThanOrEqual(widths[1]!);
    expect(trouble).toEqual([]);
  });

  it("says where it belongs when another Office program opens it", async () => {
    const opened = await open({ query: "?host=Word" });
    await expect
      .poll(() => opened.getByRole("status").innerText())
      .toContain("This page is the Bendbook pane of Excel");
  });

  it("says where it belongs in a plain browser, with Microsoft's script itself", async () => {
    const folder = new URL("../../node_modules/@microsoft/office-js/dist/", import.meta.url);
    const opened = await open({
      hosted: (path) => readFileSync(new URL(path.replace("lib/1/hosted/", ""), folder), "utf8"),
    });
    await expect
      .poll(() => opened.getByRole("status").innerText(), { timeout: 20_000 })
      .toContain("This page is the Bendbook pane of Excel");
  });

  it("says what to do when Microsoft's script cannot be had", async () => {
    const opened = await open({ hosted: () => undefined });
    await expect.poll(() => opened.getByRole("status").innerText()).toContain("could not be loaded");
  });
});
