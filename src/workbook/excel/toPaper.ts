/** Print set-up, and headings that stay in sight, for a sheet that was just written, as a saved copy has them. */
import type { Area } from "../book";
import { FOOT, MARGINS, turned } from "../paper";
import type { NewSheet } from "../port";
import { inExcel, type ExcelHost } from "./excelHost";
import { rangeOf } from "./readSheet";

export type PaperSetUp = (worksheet: Excel.Worksheet) => void;

/**
 * Sets up the sheet in a round trip of its own. An Excel that refuses, such as one without any printer, prints as it
 * would have: the sheet is written all the same.
 */
export async function toPaper(excel: ExcelHost, sheet: string, setUp: PaperSetUp): Promise<void> {
  try {
    await inExcel(excel, async (context) => {
      setUp(context.workbook.worksheets.getItem(sheet));
      await context.sync();
    });
  } catch {
    // Said above.
  }
}

/** Headings on every page or, where no rows are to come below and nothing stands beside the cells, the area. */
export function cellsOnPaper({ rows, columnWidths = [], headingRows = 0, charts = [] }: NewSheet): PaperSetUp {
  const columns = Math.max(0, ...rows.map((row) => row.length));
  const area: Area = { row: 0, column: 0, rows: headingRows || rows.length, columns };
  return (worksheet) => {
    const { pageLayout } = worksheet;
    pageLayout.orientation = turned(columns, columnWidths) === "landscape" ? "Landscape" : "Portrait";
    pageLayout.zoom = { horizontalFitToPages: 1 };
    pageLayout.setPrintMargins("Inches", MARGINS);
    const { defaultForAllPages: foot } = pageLayout.headersFooters;
    foot.leftFooter = FOOT.left;
    foot.rightFooter = FOOT.right;
    if (area.rows === 0 || columns === 0) return;
    if (headingRows > 0) {
      worksheet.freezePanes.freezeRows(headingRows);
      pageLayout.setPrintTitleRows(rangeOf(worksheet, area));
    } else if (charts.length === 0) pageLayout.setPrintArea(rangeOf(worksheet, area));
  };
}

/** A picture in its true size, which has margins of its own. */
export function pictureOnPaper(worksheet: Excel.Worksheet): void {
  const { pageLayout } = worksheet;
  pageLayout.zoom = { scale: 100 };
  pageLayout.setPrintMargins("Inches", { left: 0, right: 0, top: 0, bottom: 0, header: 0, footer: 0 });
}
