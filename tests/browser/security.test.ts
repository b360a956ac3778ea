/** The browser that the other tests run in keeps its security on, and the page lives under its policy. */
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { afterAll, expect, it } from "vitest";
import { openBench, testBench } from "./workbenchPage";

const bench = testBench();
const servers: Server[] = [];
afterAll(() => {
  for (const server of servers) server.close();
});

/** A server of its own origin that says nothing of whom it lets read. */
async function bare(): Promise<string> {
  const server = createServer((_, response) => response.setHeader("content-type", "text/html").end("<p>here"));
  servers.push(server);
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
}

it("one origin cannot read another", async () => {
  const [one, other] = [await bare(), await bare()];
  const page = await bench.browser.newPage();
  await page.goto(one);
  const read = (address: string) => page.evaluate((url) => fetch(url).then((answer) => answer.text(), String), address);
  expect(await read(one)).toBe("<p>here");
  expect(await read(other)).toMatch(/TypeError/);
  // Nor can it reach the workbook of the page.
  expect(await read(`${bench.address}workbook-name`)).toMatch(/TypeError/);
  await page.close();
});

it("the page evaluates no text, frames nobody and reports nothing while it computes", async () => {
  const { page, errors } = await openBench(bench);
  // Text handed to a timer is evaluated, where that is allowed.
  await page.evaluate(() => setTimeout("document.body.dataset.evaluated = 'yes'"));
  await page.waitForTimeout(300);
  expect(await page.evaluate(() => document.body.dataset.evaluated)).toBeUndefined();
  expect(errors.splice(0).join()).toMatch(/unsafe-eval/);
  await page.locator("[data-part=by]").getByText("of 240 rows used").waitFor();
  expect(errors).toEqual([]);
  const outside = await bench.browser.newPage();
  await outside.goto(await bare());
  await outside.evaluate((url) => {
    document.body.append(Object.assign(document.createElement("iframe"), { src: url }));
  }, bench.address);
  await outside.waitForTimeout(500);
  expect(await outside.frames()[1].evaluate(() => document.querySelector("#grid"))).toBeNull();
  await outside.close();
  await page.close();
});
