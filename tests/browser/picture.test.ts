/** A computed shot's drawing as a picture in the grid, and in the saved copy as another library reads it. */
import { readFileSync } from "node:fs";
import ExcelJS from "exceljs";
import { describe, expect, it } from "vitest";
import { openBench, openStep, showView, testBench } from "./workbenchPage";

const bench = testBench();

describe("a picture on a sheet", () => {
  it("stands in the grid, is in the copy, and is taken back by Undo", async () => {
    const { page, errors } = await openBench(bench);
    await showView(page, "Shot");
    await openStep(page, "Keep the shot");
    const put = () => page.getByRole("button", { name: "Put the drawing on a sheet" }).click();
    await put();
    await page.getByText('The drawing is on the new sheet "Shot drawing".').waitFor();
    await put();
    await page.getByText('The drawing is on the new sheet "Shot drawing 2".').waitFor();
    await page.getByRole("button", { name: 'Undo the sheet "Shot drawing 2"' }).click();
    await page.getByText('Taken back: the sheet "Shot drawing 2".').waitFor();

    const [download] = await Promise.all([page.waitForEvent("download"), page.click("#save")]);
    const copy = readFileSync((await download.path())!);
    const workbook = new ExcelJS.Workbook();
    await workbook.xlsx.load(copy as unknown as ArrayBuffer);
    const sheet = workbook.getWorksheet("Shot drawing")!;
    expect(sheet.getCell("A1").text).toContain("The table from above");
    const [image] = sheet.getImages();
    expect(image.range.tl.nativeRow).toBe(1);
    const { buffer, extension } = workbook.getImage(Number(image.imageId));
    expect(extension).toBe("png");
    expect([...new Uint8Array(buffer as ArrayBuffer).subarray(1, 4)]).toEqual(
      [..."PNG"].map((letter) => letter.charCodeAt(0)),
    );
    expect(workbook.getWorksheet("Shot drawing 2")).toBeUndefined();
    expect(errors).toEqual([]);
    await page.close();
  });
});
