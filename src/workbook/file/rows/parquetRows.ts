/** Rows as Apache Parquet in an open file. Node only. */
import type { FileHandle } from "node:fs/promises";
import { ByteWriter, ParquetWriter } from "hyparquet-writer";
import type { RowColumn, RowFile, RowValue } from "./rowFile";

const ROW_GROUP = 50_000;
/** Day 25569 of a spreadsheet is 1970-01-01. */
const EPOCH = 25_569;
const DAY_MS = 86_400_000;

const PARQUET_TYPES = {
  number: { type: "DOUBLE" },
  date: { type: "INT64", converted_type: "TIMESTAMP_MILLIS" },
  made: { type: "BOOLEAN" },
  text: { type: "BYTE_ARRAY", converted_type: "UTF8" },
} as const;

/** Rows in groups of 50,000; dates are moments in UTC, notes stand in the file's own metadata. */
export async function parquetRows(file: FileHandle, columns: readonly RowColumn[]): Promise<RowFile> {
  const buffer = new ByteWriter();
  const flush = async () => {
    const bytes = new Uint8Array(buffer.buffer.slice(0, buffer.index));
    buffer.index = 0;
    await file.appendFile(bytes);
  };
  const writer = new ParquetWriter({
    writer: buffer,
    createdBy: "bendbook",
    schema: [
      { name: "trials", num_children: columns.length },
      ...columns.map(({ heading, kind }) => ({
        name: heading,
        repetition_type: "OPTIONAL" as const,
        ...PARQUET_TYPES[kind],
      })),
    ],
  });
  let waiting: (readonly RowValue[])[] = [];
  const group = async () => {
    const rows = waiting;
    waiting = [];
    await writer.write({
      rowGroupSize: ROW_GROUP,
      columnData: columns.map(({ heading, kind }, c) => ({
        name: heading,
        data: rows.map((row) =>
          kind === "date" && typeof row[c] === "number" ? new Date(Math.round((row[c] - EPOCH) * DAY_MS)) : row[c],
        ),
      })),
    });
    await flush();
  };
  return {
    async write(rows) {
      waiting.push(...rows);
      if (waiting.length >= ROW_GROUP) await group();
    },
    async end(notes) {
      if (waiting.length > 0) await group();
      writer.kvMetadata = [{ key: "bendbook notes", value: JSON.stringify(notes.rows) }];
      await writer.finish();
      await flush();
    },
  };
}
