/**
 * A second opinion on load and sync, from Office's own mock: it hands out an error text for whatever was not loaded.
 */
import { OfficeMockObject } from "office-addin-mock";
import { expect, it } from "vitest";
import type { ExcelHost } from "../../../src/workbook/excel/excelHost";
import { ExcelPort } from "../../../src/workbook/excel/excelPort";

const place = (row: number, column: number, rows: number, columns: number) => ({
  rowIndex: row,
  columnIndex: column,
  rowCount: rows,
  columnCount: columns,
});

/** A workbook with one sheet whose cells B2:C3 are filled. */
function mocked(): ExcelHost {
  const range = {
    ...place(1, 1, 2, 2),
    values: [
      ["Gap (in)", ""],
      [0.875, "#N/A"],
    ],
    valueTypes: [
      ["String", "Empty"],
      ["Double", "Error"],
    ],
    numberFormat: [
      ["General", "General"],
      ["0.000", "General"],
    ],
  };
  const context = new OfficeMockObject({
    workbook: {
      worksheets: {
        front: { name: "Trials" },
        used: range,
        merged: { address: "Trials!B2:C2" },
        tables: { items: [] },
        getActiveWorksheet() {
          return (this as unknown as { front: object }).front;
        },
        getItem() {
          const { used, merged, tables } = this as unknown as Record<string, object>;
          const worksheet = {
            tables,
            getUsedRangeOrNullObject: () => used,
            getRangeByIndexes: () => ({
              getUsedRangeOrNullObject: () => used,
              getRowProperties: () => ({ value: [{ rowHidden: false }, { rowHidden: false }, { rowHidden: true }] }),
              getMergedAreasOrNullObject: () => merged,
            }),
          };
          return worksheet;
        },
      },
    },
  });
  // The mock knows plain properties only: a path into a collection is the whole collection to it.
  const { tables, used, merged } = context.workbook.worksheets;
  const load = tables.load.bind(tables);
  tables.load = (path: string) => load(path.split("/")[0]);
  // Office.js knows this of every object after a sync, asked for or not.
  used.isNullObject = merged.isNullObject = false;
  return { run: (_options, batch) => batch(context as unknown as Excel.RequestContext) };
}

it("asks for the active sheet's name before it reads it", async () => {
  expect(await new ExcelPort(mocked()).activeSheet()).toBe("Trials");
});

it("loads every property that reading a sheet uses", async () => {
  expect(await new ExcelPort(mocked()).read("Trials")).toEqual({
    sheet: "Trials",
    firstRow: 1,
    firstColumn: 1,
    values: [
      ["Gap (in)", null],
      [0.875, { error: "#N/A" }],
    ],
    formats: [
      ["General", "General"],
      ["0.000", "General"],
    ],
    hiddenRows: [2],
    merged: [{ row: 1, column: 1, rows: 1, columns: 2 }],
    tables: [],
  });
});
