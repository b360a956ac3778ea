/**
 * The Layout view in the shipped page: a table, wrong things typed, the shot taken over, drawings as files at their
 * true size, the sheet.
 */
import { readFileSync } from "node:fs";
import { inflateSync } from "node:zlib";
import type { Page } from "playwright-core";
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

journey("Layout", "Layout", "goes from the table to the paper", async (page, { inExcel }) => {
  const places = page.locator("[data-part=places]");
  await places.waitFor();
  const line = page.locator("[data-part=layout-line]");
  await line.getByText("The whole shot goes through.").waitFor();
  // The drawing comes before all that can be set, and shows the approach and the tolerances.
  const drawing = page.locator("[data-drawing=layout]");
  expect(await drawing.locator("[data-part=approach]").count()).toBe(1);
  expect(await drawing.locator("[data-part=tolerance]").count()).toBe(5);
  const [top, field] = [
    await drawing.boundingBox(),
    await page.locator("[data-view=layout]").getByRole("textbox").first().boundingBox(),
  ];
  expect(top!.y + top!.height).toBeLessThan(field!.y);

  // A wrong turn: an arrival in the rail is refused, said by how much, and what works is offered.
  const arrival = page.getByRole("textbox", { name: /^Arrival/ });
  await arrival.fill("46");
  await line.getByText(/does not go into the far side pocket: on its line 2\.\d+ in is missing/).waitFor();
  expect(await page.getByRole("button", { name: /^Save as PDF/ }).isDisabled()).toBe(true);
  await page.getByRole("button", { name: "Take what works" }).click();
  await line.getByText("The whole shot goes through.").waitFor();
  expect(Number(await arrival.inputValue())).toBeCloseTo(50, 3);
  await page.getByText("Steps, from the bare table to the film").click();
  await page.getByText(/^Write into the log: gap 0\.566 in, gate correction 0\.059 in/).waitFor();
  await page.getByRole("radio", { name: /^Off the rail/ }).click();

  const bend = page.getByRole("textbox", { name: /^Wanted bend/ });
  await bend.fill("much");
  await page.getByText(/^Wanted bend of the path, \+ short \(in\): "much" .*\. Give a number from/).waitFor();
  expect(await bend.inputValue()).toBe("much");
  await bend.fill("1/2");
  await page.getByRole("textbox", { name: /^Departure/ }).fill("0");
  await page.getByText("The departure lies in the rail beside").waitFor();
  await page.getByRole("textbox", { name: /^Departure/ }).fill("32");
  await page.getByRole("combobox", { name: "Paper" }).click();
  await page.getByRole("option", { name: "A4" }).click();

  // Where files go from Excel's pane is the matter of its own tests.
  if (!inExcel) await savesPaper(page);

  await page.getByRole("button", { name: "Take over the shot of the Shot view" }).click();
  await page.getByText("Taken over from the Shot view.").waitFor();
  // The default shot bends a little over an inch long.
  expect(Number(await bend.inputValue())).toBeCloseTo(-1.09, 2);
  await page.getByRole("button", { name: "Write the places to a sheet" }).click();
  await page.getByText('Written to the new sheet "Layout". No other cell was touched.').waitFor();
});

/** The PDF and the template as they are saved, to scale and in both systems of units. */
async function savesPaper(page: Page): Promise<void> {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save as PDF, steps and template included" }).click(),
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
    [595, 842],
  ]);
  // The bar that checks the printer is 4 in, 288 points, and stands on the page as a line of that length.
  const lines = [...drawn(pdf).matchAll(/([\d.]+) ([\d.]+) m\s+([\d.]+) ([\d.]+) l/g)].map(([, x1, y1, x2, y2]) =>
    Math.hypot(Number(x2) - Number(x1), Number(y2) - Number(y1)),
  );
  expect(lines.some((length) => Math.abs(length - 288) < 0.01)).toBe(true);

  // 9/8 in less 1/2 in of bend is 5/8 in, on both papers; brackets stand escaped in a PDF.
  expect(drawn(pdf)).toContain(
    "the obstacle's edge 5/8 in \\(15.88 mm\\) from the near mark, toward the far mark, is a set bend of 1/2 in \\(12.7 mm\\).",
  );
  const [svg] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save the template as SVG" }).click(),
  ]);
  const template = readFileSync((await svg.path())!, "utf8");
  expect(template).toContain('width="210mm" height="297mm"');
  expect(template).toContain("5/8 in (15.88 mm) from the near mark");
}
