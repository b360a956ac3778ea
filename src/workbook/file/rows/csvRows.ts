/** Comma-separated rows in an open file. Node only. */
import type { FileHandle } from "node:fs/promises";
import Papa from "papaparse";
import { harmless, QUOTED, serialText } from "../read/csv";
import type { RowColumn, RowFile, RowValue } from "./rowFile";

/** Rows as .csv, as writeCsv has them; notes have no place in it. */
export async function csvRows(file: FileHandle, columns: readonly RowColumn[]): Promise<RowFile> {
  const put = (rows: readonly (readonly unknown[])[]) =>
    file.appendFile(`${Papa.unparse(rows as unknown[][], QUOTED)}\r\n`);
  await file.appendFile("\ufeff");
  await put([columns.map(({ heading }) => harmless(heading))]);
  const field = (value: RowValue, c: number) => {
    if (value === null) return "";
    if (typeof value === "number") return columns[c]?.kind === "date" ? serialText(value) : value;
    return typeof value === "boolean" ? String(value).toUpperCase() : harmless(value);
  };
  return {
    write: (rows) => put(rows.map((row) => row.map(field))),
    end: async () => {},
  };
}
