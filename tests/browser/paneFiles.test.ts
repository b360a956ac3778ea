/** What leaves the pane inside Excel, and the policy that it lives under. */
import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { paneServer, type Pane } from "./excelPane";
import { HELP } from "../../src/panel/frame/help";
import { VIEWS } from "../../src/panel/frame/settings";
import { opened, underExcel } from "./paneUnderExcel";
import { showView } from "./workbenchPage";

const server = paneServer();

const sheets = ({ host }: Pane) => host.workbook.sheets.map(({ name }) => name);
const savePdf = (page: Page) => page.getByRole("button", { name: "Save as PDF, steps and template included" }).click();
const notice = (page: Page) => page.locator("[data-part=file]");

describe("a file that the pane makes inside Excel", () => {
  it.each(["PC", "Mac"] as const)(
    "on a %s is opened in the user's browser by what served the pane",
    async (platform) => {
      const { page, trouble } = await server.open(underExcel({ platform, browses: true }));
      await page.getByText("40 of 40").first().waitFor();
      await showView(page, "Layout");
      await savePdf(page);
      await notice(page).getByText('"layout.pdf" is open in your browser: save it or print it there.').waitFor();
      const [at] = await opened(page);
      expect(at).toMatch(new RegExp(`^${server.address}files/[0-9a-f]{32}/layout\\.pdf$`));
      const answer = await fetch(at!);
      expect([answer.status, answer.headers.get("content-type")]).toEqual([200, "application/pdf"]);
      expect((await answer.text()).slice(0, 5)).toBe("%PDF-");
      // The report is for the browser's own print dialog.
      await showView(page, "Report");
      await page.getByRole("button", { name: "Make the report" }).click();
      await page.getByRole("button", { name: "Print it" }).click();
      await expect.poll(() => opened(page)).toHaveLength(3);
      const report = await fetch((await opened(page))[2]!);
      expect(report.headers.get("content-security-policy")).toContain("default-src 'none'");
      expect(await report.text()).toContain("<h1");
      expect(trouble).toEqual([]);
    },
  );

  it("goes to sheets or the clipboard where the web server only has files, and the pane says so", async () => {
    const pane = await server.open(underExcel({ platform: "Mac", browses: true }));
    const { page, trouble } = pane;
    await page.route(/\/files\//, (route) => route.fulfill({ status: 405, body: "no" }));
    await page.getByText("40 of 40").first().waitFor();
    await showView(page, "Layout");
    await savePdf(page);
    await notice(page).getByText("Excel saves no").waitFor();
    expect(await opened(page)).toEqual([]);
    await page.getByRole("button", { name: "Put the pages on sheets" }).click();
    await notice(page).getByText("print from Excel, at 100 %").waitFor();
    expect(sheets(pane).filter((name) => name.startsWith("Layout")).length).toBeGreaterThan(2);
    await page.getByRole("button", { name: "Save the drawing as SVG" }).click();
    await page.getByRole("button", { name: "Copy its text" }).click();
    await notice(page)
      .getByText('is on the clipboard: paste it into a text editor and save it as "layout.svg"')
      .waitFor();
    await notice(page).getByRole("button", { name: "Close" }).click();
    expect(await notice(page).count()).toBe(0);
    // The browser itself notes the refusal of the server.
    expect(trouble.filter((text) => !/405/.test(text))).toEqual([]);
  });

  it("in Excel on the web is a download of the browser", async () => {
    const { page, trouble } = await server.open(underExcel({ platform: "OfficeOnline" }));
    await page.getByText("40 of 40").first().waitFor();
    await showView(page, "Layout");
    const [download] = await Promise.all([page.waitForEvent("download"), savePdf(page)]);
    expect(
      readFileSync((await download.path())!)
        .subarray(0, 5)
        .toString(),
    ).toBe("%PDF-");
    await notice(page).getByText(`"layout.pdf" went to the browser's downloads.`).waitFor();
    expect(trouble).toEqual([]);
  });
});

/** The panel on a page as large as the screen, under the same policy, and back in the pane. */
async function onItsOwnPage({ page, host }: Pane): Promise<void> {
  const [own] = await Promise.all([
    page.waitForEvent("popup"),
    page.getByRole("button", { name: "Open the panel on a page of its own" }).press("Enter"),
  ]);
  await page.getByText("The panel is on a page of its own and works on this workbook from there.").waitFor();
  expect(await page.getByRole("tab").count()).toBe(0);
  await own.getByText("40 of 40").first().waitFor();
  host.workbook.type("Bo's log", 41, 2, null);
  await own.getByText("39 of 40").first().waitFor();
  await showView(own, "Layout");
  await own.getByRole("button", { name: "Write the places to a sheet" }).click();
  await expect.poll(() => host.workbook.sheets.map(({ name }) => name)).toEqual(["Bo's log", "Layout"]);
  await page.getByRole("button", { name: "Bring it back here" }).click();
  await page.getByRole("tab", { name: "Layout", selected: true }).waitFor();
  expect(own.isClosed()).toBe(true);
}

it("the pane's policy lets nothing be evaluated from text, and no view makes it report", async () => {
  const policy = (await fetch(`${server.address}taskpane.html`)).headers.get("content-security-policy") ?? "";
  expect(policy).toMatch(/script-src 'self' https:\/\/appsforoffice\.microsoft\.com(;|$)/);
  expect(policy).not.toMatch(/unsafe-eval|script-src[^;]*unsafe-inline/);
  const pane = await server.open(underExcel({ platform: "OfficeOnline", dialogs: true }));
  const { page, trouble } = pane;
  await page.getByText("40 of 40").first().waitFor();
  for (const name of VIEWS) {
    await showView(page, HELP[name].name);
    await page.locator("[role=progressbar]").first().waitFor({ state: "detached" });
  }
  await showView(page, "Layout");
  await Promise.all([page.waitForEvent("download"), savePdf(page)]);
  await showView(page, "Shot");
  await showView(page, "Analysis");
  for (const title of [
    /^Choose rows/,
    /^Check rows/,
    /^Choose a question/,
    /^Trust the answer/,
    /^What each choice/,
    /^Keep/,
  ]) {
    await page.getByRole("button", { name: title }).press("Enter");
    await page.getByRole("button", { name: title }).and(page.locator("[aria-expanded=true]")).waitFor();
  }
  await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Save as PNG" }).first().click()]);
  await onItsOwnPage(pane);
  expect(trouble).toEqual([]);
  // The count is no empty one.
  await page.evaluate(() => void setTimeout("document.title = 'evaluated'"));
  await expect.poll(() => trouble.filter((text) => text.startsWith("policy: script-src")).length).toBe(1);
});
