/** A log says the same wherever it stands on its sheet, whatever stands around it, and however its cells are kept. */
import { describe, expect, it } from "vitest";
import { findTrialLogs, trialLogAt, type TrialLog } from "../../../src/experiment/log/trialLog";
import { cellAddress } from "../../../src/workbook/address";
import type { BookTable, CellValue } from "../../../src/workbook/book";
import { columnData, sheetOfColumns } from "../../../src/workbook/columnSheet";
import type { SheetData } from "../../../src/workbook/port";
import { sheetOf } from "../../../scripts/evidence/sheetOf";

const _ = null;
/** A block with a title, a row of units, blank rows; an Excel table beside it with totals and what stands around it. */
const ROWS: CellValue[][] = [
  ["Trials of week 3"],
  [],
  ["No.", "Speed", "Gap", "Cloth", _, _, "Day", "Bend (in)", "Angle"],
  [_, "mph", "in", _, _, _, 1, 0.5, 10],
  [1, 8, "0,5", "new", _, _, 2, 0.75, 12],
  [],
  [2, 9, "0,25", "worn", _, _, 3, 0.5, 11],
  [3, _, _, _, _, _, "all", 1.75, _],
  [4, 10, "1,250", "new", _, _, 4, 0.25, 13],
  [_, _, _, _, _, _, 5, 1, _],
  ["Table", "Weeks"],
  ["North", 3],
  ["South", 4],
];
const TABLE: BookTable = { name: "Bends", area: { row: 2, column: 6, rows: 6, columns: 2 }, totals: true };

/** What a log says, with places counted from where the sheet's own corner was moved to. */
function told({ title, headingRow, rows, blankRows, hiddenRows, columns, outside }: TrialLog, at: [number, number]) {
  const [row, column] = at;
  return {
    title: title.replace(/\d+$/, (digits) => String(Number(digits) - row)),
    headingRow: headingRow - row,
    rows: rows.map((one) => one - row),
    blankRows,
    hiddenRows,
    columns: columns.map(({ column: place, heading, kind, readings }) => [
      place - column,
      heading.name,
      heading.unit,
      kind,
      readings,
    ]),
    outside: outside && {
      rows: outside.rows.map((one) => one - row),
      lastRow: outside.lastRow - row,
      columns: outside.columns.map((one) => [one.column - column, one.heading]),
      areas: outside.areas.map((area) => ({ ...area, row: area.row - row, column: area.column - column })),
    },
  };
}

/** The sheet with its corner at a row and column, from what is read of it: less of the blank before it, or all. */
function moved(row: number, column: number, isReadFromCorner: boolean): SheetData {
  const [up, left] = isReadFromCorner ? [row, column] : [0, 0];
  const blank = (count: number): null[] => Array.from({ length: count }, () => null);
  const values = [
    ...Array.from({ length: row - up }, () => []),
    ...ROWS.map((cells) => [...blank(column - left), ...cells]),
  ];
  const { area } = TABLE;
  return sheetOf(values, {
    firstRow: up,
    firstColumn: left,
    hiddenRows: [4 + row, 9 + row],
    tables: [{ ...TABLE, area: { ...area, row: area.row + row, column: area.column + column } }],
  });
}

const number = (value: number) => ({ kind: "number", value });
const word = (text: string) => ({ kind: "word", text });
const blank = { kind: "blank" };

describe("a sheet with two blocks and a table", () => {
  const logs = (data: SheetData, takeIn: "all" | [] = []) => findTrialLogs(data, { takeIn });
  const origin = logs(moved(0, 0, true)).map((log) => told(log, [0, 0]));

  it("is read as three logs, each with its own rows", () => {
    expect(origin).toEqual([
      {
        title: "headings in row 3",
        headingRow: 2,
        // Row 8 holds nothing but its number.
        rows: [4, 6, 8],
        blankRows: 2,
        hiddenRows: 1,
        columns: [
          [0, "No.", "", "number", [1, 2, 4].map(number)],
          [1, "Speed", "mph", "number", [8, 9, 10].map(number)],
          [2, "Gap", "in", "number", [0.5, 0.25, 1.25].map(number)],
          [3, "Cloth", "", "category", ["new", "worn", "new"].map(word)],
        ],
        outside: undefined,
      },
      {
        title: "Bends",
        headingRow: 2,
        rows: [3, 4, 6],
        blankRows: 1,
        hiddenRows: 1,
        columns: [
          [6, "Day", "", "number", [1, 2, 3].map(number)],
          [7, "Bend", "in", "number", [0.5, 0.75, 0.5].map(number)],
        ],
        outside: {
          rows: [8, 9],
          lastRow: 9,
          columns: [[8, "Angle"]],
          areas: [
            { row: 8, column: 6, rows: 2, columns: 3 },
            { row: 2, column: 8, rows: 6, columns: 1 },
          ],
        },
      },
      {
        title: "headings in row 11",
        headingRow: 10,
        rows: [11, 12],
        blankRows: 0,
        hiddenRows: 0,
        columns: [
          [0, "Table", "", "category", ["North", "South"].map(word)],
          [1, "Weeks", "", "number", [3, 4].map(number)],
        ],
        outside: undefined,
      },
    ]);
  });

  it("takes in what stands around the table, without its row of totals", () => {
    const taken = logs(moved(0, 0, true), "all").find(({ title }) => title === "Bends");
    expect(taken && told(taken, [0, 0])).toMatchObject({
      rows: [3, 4, 6, 8, 9],
      blankRows: 1,
      hiddenRows: 2,
      columns: [
        [6, "Day", "", "number", [1, 2, 3, 4, 5].map(number)],
        [7, "Bend", "in", "number", [0.5, 0.75, 0.5, 0.25, 1].map(number)],
        [8, "Angle", "", "number", [...[10, 12, 11, 13].map(number), blank]],
      ],
    });
  });

  it.each([
    [3, 2, true],
    [3, 2, false],
    [0, 5, true],
    [7, 0, false],
  ])("says the same %i rows down and %i columns right (read from there: %s)", (row, column, isReadFromCorner) => {
    for (const takeIn of ["all", []] as const) {
      const at = [row, column] as [number, number];
      const here = logs(moved(0, 0, true), takeIn as "all" | []).map((log) => told(log, [0, 0]));
      const there = logs(moved(row, column, isReadFromCorner), takeIn as "all" | []);
      expect(there.map((log) => told(log, at))).toEqual(here);
      const first = there.find(({ title }) => title === `headings in row ${row + 3}`);
      expect(first?.readAs).toEqual([
        `Row ${row + 4} holds units and is no trial: Speed in mph, Gap in in.`,
        `Gap: 3 cells are text with a decimal comma, the first ${cellAddress(row + 4, column + 2)} with "0,5"; read as numbers.`,
      ]);
    }
  });

  it("is read from a row that the user names to its end", () => {
    const named = trialLogAt(moved(3, 2, true), 3 + 10);
    expect(named && told(named, [3, 2])).toMatchObject({ title: "headings in row 11", rows: [11, 12], blankRows: 0 });
    // All columns count here, and the table's totals are no trial.
    const whole = trialLogAt(moved(3, 2, true), 3 + 2);
    expect(whole && told(whole, [3, 2])).toMatchObject({ rows: [3, 4, 6, 8, 9, 10, 11, 12], blankRows: 1 });
  });
});

it("cells that are kept by column are read as those that are kept by row", () => {
  const rows: CellValue[][] = [
    ["Speed (mph)", "Gap (in)", "Cloth", "Note"],
    [8, "0,5", "new", _],
    [9, "0,25", "worn", _],
    [_, _, _, _],
    [8, "0,5", "new", "first"],
    [10, 0.75, "new", 4],
  ];
  const columns = [0, 1, 2, 3].map((c) => {
    const different = [null, ...new Set(rows.map((row) => row[c] ?? null).filter((cell) => cell !== null))];
    return { different, places: Uint32Array.from(rows, (row) => different.indexOf(row[c] ?? null)) };
  });
  const sheet = sheetOfColumns("Log", columns);
  const [byColumn, byRow] = [columnData(sheet, columns), sheetOf(rows)].map((data) => findTrialLogs(data));
  expect(byColumn).toEqual(byRow);
  expect(byRow?.[0]).toMatchObject({ rows: [1, 2, 4, 5], blankRows: 1 });
  expect(byRow?.[0]?.columns.map(({ kind }) => kind)).toEqual(["number", "number", "category", "category"]);
});
