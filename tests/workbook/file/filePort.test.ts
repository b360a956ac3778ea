import { expect, it } from "vitest";
import { FilePort } from "../../../src/workbook/file/filePort";
import type { BookCell } from "../../../src/workbook/book";
import type { SheetChange } from "../../../src/workbook/port";
import { contractFixture, EMPTY, LOG, portContract } from "../portContract";

portContract("a file in memory", async (fixture) => {
  const port = new FilePort(fixture);
  return {
    port,
    setCell: (sheet, row, column, value) => port.setCell(sheet, row, column, value),
    dispose: async () => {},
  };
});

it("leaves the Book it was given alone", async () => {
  const book = contractFixture();
  const port = new FilePort(book);
  await port.setCell(LOG, 4, 4, 9);
  await port.addSheet({ name: "More", rows: [[{ value: 1, bold: true, format: "0.00" }]] });
  expect(book).toEqual(contractFixture());
  expect(port.book.sheets[0].rows[4]?.[4]).toEqual({ value: 9, style: 0 });
});

it("remembers the selection and tells of its own writes", async () => {
  const port = new FilePort(contractFixture());
  const heard: SheetChange[] = [];
  port.onChange((change) => heard.push(change));
  await port.select(LOG, { row: 4, column: 2, rows: 1, columns: 2 });
  expect(port.selection).toEqual({ sheet: LOG, area: { row: 4, column: 2, rows: 1, columns: 2 } });
  const name = await port.addSheet({ name: "Results", rows: [] });
  await port.setCell(LOG, 4, 4, 9);
  await port.addRow({ sheet: "Shots", headings: ["A"], cells: [{ value: 1 }] });
  await port.addRow({ sheet: "Shots", headings: ["A"], cells: [{ value: 2 }] });
  await port.removeSheet("Shots");
  expect(heard).toEqual([
    { sheet: name },
    { sheet: LOG, area: { row: 4, column: 4, rows: 1, columns: 1 } },
    { sheet: "Shots" },
    { sheet: "Shots", area: { row: 2, column: 0, rows: 1, columns: 1 } },
    { sheet: "Shots" },
  ]);
});

it("names a stray cell that makes the used range senseless, instead of filling the memory", async () => {
  const rows: BookCell[][] = [[{ value: 1 }]];
  rows[1_048_575] = [];
  rows[1_048_575][16_383] = { value: 2 };
  const port = new FilePort({ ...contractFixture(), sheets: [{ ...contractFixture().sheets[1], rows }] });
  await expect(port.read(EMPTY)).rejects.toThrow(/XFD1048576.*column XFD or row 1048576/);
});
