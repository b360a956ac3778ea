/** A log with every kind of bad cell that a long week can make, all invented. */
import type { Book, CellValue } from "../../src/workbook/book";
import { looks, makeBook, type Draft } from "./book";
import { guideSheet } from "./log";

const DATE = (value: number): Draft => ({ value, look: "dayMonth" });
const SHARE = (value: number): Draft => ({ value, look: "percent" });
const ERROR = (error: string): CellValue => ({ error });

export function messyLog(): Book {
  const headings = [
    "No.",
    "Table",
    "Cloth",
    "Humidity (%)",
    "Speed (mph)",
    "Spin",
    'Gap "as read" (in)',
    "<b>Bend</b> (in)",
    "Remarks",
  ];
  const rows: Draft[][] = [
    [1, "North", "worn", 41, 8.5, 0.2, 0.625, null, "a sound row"],
    [2, "North", "worn", 42, "8.5 ", 0.25, "9/16", null, "speed and gap as text: both are understood"],
    [3, "North", "worn", "45 %", 9.1, 0.1, "1⅛", null, "percent and fraction as text"],
    [4, "Bar", "worn", SHARE(0.47), 7.7, 0.3, 0.5, null, "percent by number format"],
    [5, "Bar", "worn", 46, 8.8, 0.3, DATE(46027), null, "5/16 that became a date"],
    [6, "Bar", "new", 44, null, 0.2, 0.4375, null, "no speed"],
    [7, "Bar", "new", 450, 9.4, 0.2, 0.375, null, "humidity out of range"],
    [8, "Bar", "new", 47, 9.9, ERROR("#DIV/0!"), 0.5, null, "an error cell"],
    [9, "North", "New ", 43, 10.2, 0.4, 0.3125, null, "a space and a capital in the cloth"],
    [10, "North", "new", "about 45", 10.4, 0.1, 0.375, null, "words where a number goes"],
    [11, "North", "new", 44, 11, 0.4, 2.5, null, "a gap larger than a ball"],
    [12, "North", "new", 44, 9.7, 0.5, 0.25, null, "the next row repeats this one"],
    [12, "North", "new", 44, 9.7, 0.5, 0.25, null, "the next row repeats this one"],
    [13, "Bar", null, 58, 8.1, 0.2, 0.5625, null, "no cloth"],
    [14, "Bar", "worn", 60, 8.4, 0.3, null, null, "no gap"],
    [],
    [15, "Bar", "worn", 61, 8.9, 0.15, 0.6875, null, "after a blank row; this row is hidden"],
    [
      16,
      "North",
      "new",
      59,
      9.2,
      0.35,
      0.4375,
      null,
      'markup in a remark is only text: <img src=x onerror="alert(1)">',
    ],
    [17, "North", "new", 57, "9,8", 0.45, 0.375, null, "a comma that may mean two things"],
    [18, "Bar", "new", 62, 10.1, 0.5, "-1/16", null, "the edge past the mark"],
    [19, "Bar", "worn", 63, 7.9, 0.05, 0.75, null, "a sound row"],
    [20, "North", "worn", 60, 8.2, 0.1, 0.6875, null, "a sound row"],
    [21, "North", "new", 61, 9, 0.25, 0.5, null, "a sound row"],
    [22, "Bar", "new", 45, 9.5, 0.3, 0.375, null, "a sound row"],
  ];
  const first = 4;
  const body = rows.map((row, index) => {
    const at = index + first;
    return row.length === 0
      ? []
      : row.map((cell, c): Draft =>
          c === 7 ? { value: `=IF(G${at}="","",BANK.BEND(G${at}))`, look: "decimal3" } : cell,
        );
  });
  return makeBook(
    [
      {
        name: "Week 3's log",
        rows: [looks("title", ["Week 3, both tables"]), [], looks("heading", headings), ...body],
        widths: [6, 10, 10, 17, 16, 9, 23, 21, 60],
        frozenRows: 3,
        hiddenRows: [first - 1 + 16],
        merged: [{ row: 0, column: 0, rows: 1, columns: 6 }],
      },
      guideSheet([
        "This log is invented and spoilt on purpose: its remarks say what is wrong with each row. Open the panel to see each one named.",
      ]),
    ],
    "A log with faults to find, invented",
  );
}
