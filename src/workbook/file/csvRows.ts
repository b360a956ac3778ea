/** Comma-separated rows in an open file. Node only. May import: csv.ts, rowFile.ts; papaparse. */
import type { FileHandle } from "node:fs/promises";
import Papa from "papaparse";
import { QUOTED, serialText } from "./csv";
import type { RowColumn, RowFile } from "./rowFile";

/** Rows as .csv, as writeCsv has them; notes have no place in it. */
export async function csvRows(file: FileHandle, columns: readonly RowColumn[]): Promise<RowFile> {
  const put = (rows: readonly (readonly unknown[])[]) => file.appendFile(`${Papa.unparse(rows as unknown[][], QUOTED)}\r\n`);
  await file.appendFile("\ufeff");
  await put([columns.map(({ heading }) => heading)]);
  return {
    write: (rows) => put(rows.map((row) => row.map((value, c) => (value === null ? "" : typeof value === "number" && columns[c].kind === "date" ? serialText(value) : typeof value === "boolean" ? String(value).toUpperCase() : value)))),
    end: async () => {},
  };
}
