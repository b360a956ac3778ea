/**
 * The Layout view in the shipped page: a table, wrong things typed, the shot taken over, drawings as files at their
 * true size, the sheet.
 */
import { readFileSync } from "node:fs";
import { inflateSync } from "node:zlib";
import { expect } from "vitest";
import { journey } from "./journey";

/** What the pages of a PDF draw, unpacked. */
function drawn(pdf: Buffer): string {
  const text = pdf.toString("latin1");
  return [...text.matchAll(/stream\r?\n([\s\S]*?)\r?\nendstream/g)]
    .map(([, packed]) => {
      try {
        return inflateSync(Buffer.from(packed, "latin1")).toString("latin1");
      } catch {
        return "";
      }
    })
    .join("\n");
}

journey("Layout", "Layout", "goes from the table to the paper", async (page) => {
  const places = page.locator("[data-part=places]");
  await places.getByText("on the nose line of the rail opposite").waitFor();

  const bend = page.getByRole("textbox", { name: /^Wanted bend/ });
  await bend.fill("much");
  await page.getByText(/^Wanted bend, \+ short \(in\): "much" .*\. Give a number from/).waitFor();
  expect(await bend.inputValue()).toBe("much");
  await bend.fill("1/2");
  await page.getByRole("textbox", { name: /^Departure/ }).fill("0");
  await page.getByText("The departure lies in the rail beside").waitFor();
  await page.getByRole("textbox", { name: /^Departure/ }).fill("32");
  await page.getByRole("combobox", { name: "Paper" }).click();
  await page.getByRole("option", { name: "A4" }).click();

  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save as PDF, template included" }).click(),
  ]);
  const pdf = readFileSync((await download.path())!);
  // A4 in points, the drawing lying and the template standing.
  const boxes = [...pdf.toString("latin1").matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)].map(([, w, h]) => [
    Math.round(Number(w)),
    Math.round(Number(h)),
  ]);
  expect(boxes).toEqual([
    [842, 595],
    [595, 842],
  ]);
  // The bar that checks the printer is 4 in, 288 points, and stands on the page as a line of that length.
  const lines = [...drawn(pdf).matchAll(/([\d.]+) ([\d.]+) m\s+([\d.]+) ([\d.]+) l/g)].map(([, x1, y1, x2, y2]) =>
    Math.hypot(Number(x2) - Number(x1), Number(y2) - Number(y1)),
  );
  expect(lines.some((length) => Math.abs(length - 288) < 0.01)).toBe(true);

  // 9/8 in less 1/2 in of bend is 5/8 in, on both papers; brackets stand escaped in a PDF.
  expect(drawn(pdf)).toContain(
    "the obstacle's edge 5/8 in \\(15.88 mm\\) from the near mark, toward the far mark, asks for a bend of 1/2 in \\(12.7 mm\\).",
  );
  const [svg] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save the template as SVG" }).click(),
  ]);
  const template = readFileSync((await svg.path())!, "utf8");
  expect(template).toContain('width="210mm" height="297mm"');
  expect(template).toContain("5/8 in (15.88 mm) from the near mark");

  await page.getByRole("button", { name: "Take over the shot of the Shot view" }).click();
  await page.getByText("Taken over from the Shot view.").waitFor();
  // The default shot bends a little over an inch long.
  expect(Number(await bend.inputValue())).toBeCloseTo(-1.09, 2);
  await page.getByRole("button", { name: "Write the places to a sheet" }).click();
  await page.getByText('Written to the new sheet "Layout". No other cell was touched.').waitFor();
});
