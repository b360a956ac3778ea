/** Reads Apache Parquet, as `gather` writes it, into a Book of one sheet. */
import { gunzipSync } from "fflate";
import { parquetMetadata, parquetRead, parquetSchema, type FileMetaData } from "hyparquet";
import { sheetOfRows, type Book, type BookCell, type CellValue } from "../../book";
import { sheetNameOfFile } from "../../sheetName";
import { FileProblem } from "../package/fileProblem";

const MAGIC = [0x50, 0x41, 0x52, 0x31];
const MOST_ROWS = 1_048_575;
/** Serial day of 1970-01-01. */
const EPOCH = 25_569;
const DAY_MS = 86_400_000;
/** Indices of the Book's styles. */
const [DAY, MOMENT] = [0, 1];

/** Whether the bytes are Parquet, by their first four. */
export function isParquet(bytes: Uint8Array): boolean {
  return MAGIC.every((byte, i) => bytes[i] === byte);
}

/**
 * A sheet with the names of the columns in its first row, named after the file. Days and moments become serial days.
 * @throws FileProblem where the file is damaged, packed in a way that is not known here, or too long for a sheet
 * @example const book = await readParquet(bytes, "trials.parquet");
 */
export async function readParquet(bytes: Uint8Array, name: string): Promise<Book> {
  const rows: (BookCell | undefined)[][] = [];
  try {
    const { buffer } = new Uint8Array(bytes);
    const metadata = parquetMetadata(buffer);
    if (Number(metadata.num_rows) > MOST_ROWS) throw tooLong(Number(metadata.num_rows));
    rows.push(headings(metadata).map((value) => ({ value })));
    await parquetRead({
      file: { byteLength: buffer.byteLength, slice: (from, to) => buffer.slice(from, to) },
      metadata,
      compressors: { GZIP: (packed) => gunzipSync(packed) },
      onComplete: (found) => {
        for (const row of found as readonly (readonly unknown[])[]) rows.push(row.map(cellOf));
      },
    });
  } catch (problem) {
    throw (problem instanceof FileProblem ? problem : unreadable(problem)).about(name.replace(/^.*[\\/]/, ""));
  }
  const sheet = sheetOfRows(sheetNameOfFile(name), rows);
  return { sheets: [sheet], styles: [{ format: "yyyy-mm-dd" }, { format: "yyyy-mm-dd hh:mm" }], names: [] };
}

function headings(metadata: FileMetaData): string[] {
  return parquetSchema(metadata).children.map(({ element }) => element.name);
}

function cellOf(value: unknown): BookCell | undefined {
  if (value === null || value === undefined || value === "") return undefined;
  if (value instanceof Date) {
    const serial = value.getTime() / DAY_MS + EPOCH;
    return { value: serial, style: Number.isInteger(serial) ? DAY : MOMENT };
  }
  return { value: plainOf(value) };
}

function plainOf(value: unknown): CellValue {
  if (typeof value === "number" || typeof value === "string" || typeof value === "boolean") return value;
  // A whole number of more than 15 digits is a label; as a number it would lose its end.
  if (typeof value === "bigint") return Number.isSafeInteger(Number(value)) ? Number(value) : String(value);
  return JSON.stringify(value);
}

function tooLong(rows: number): FileProblem {
  return new FileProblem(
    "tooLarge",
    `The file has ${rows.toLocaleString("en")} rows; a sheet holds ${MOST_ROWS.toLocaleString("en")}.`,
    "docs/large-sets.md shows how sums of a larger set are made with SQL and analysed with regress --from-sums.",
  );
}

function unreadable(problem: unknown): FileProblem {
  const why = problem instanceof Error ? problem.message : String(problem);
  return new FileProblem(
    "corrupt",
    `The file cannot be read as Parquet (${why}).`,
    "Write it again, uncompressed or with Snappy or gzip.",
  );
}
