/** Rows in Parquet, of more than one group, in a second reader and in our own. */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { open } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parquetMetadata, parquetReadObjects } from "hyparquet";
import { afterAll, beforeAll, expect, it } from "vitest";
import { readParquet } from "../../../../src/workbook/file/read/parquet";
import { parquetRows } from "../../../../src/workbook/file/rows/parquetRows";
import type { RowValue } from "../../../../src/workbook/file/rows/rowFile";

let folder = "";
beforeAll(() => void (folder = mkdtempSync(join(tmpdir(), "bendbook-parquet-"))));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function written(batches: readonly (readonly (readonly RowValue[])[])[]): Promise<Uint8Array> {
  const path = join(folder, "rows.parquet");
  const file = await open(path, "w");
  const rows = await parquetRows(file, [
    { heading: "Day", kind: "date" },
    { heading: "Gap (in)", kind: "number" },
    { heading: "Made", kind: "made" },
    { heading: "Cloth", kind: "text" },
  ]);
  for (const batch of batches) await rows.write(batch);
  await rows.end({ name: "Notes", rows: [["a.xlsx", "2 rows"]] });
  await file.close();
  return readFileSync(path);
}

it("a few rows come back as days, numbers, truth values and texts, blanks as blanks, and the notes with them", async () => {
  const bytes = await written([
    [
      [46030, 0.375, true, "worn <i>"],
      [46030.75, null, false, ""],
    ],
    [[null, -1, null, "new"]],
  ]);
  const { buffer } = new Uint8Array(bytes);
  const there = await parquetReadObjects({ file: buffer });
  expect(there).toEqual([
    { Day: new Date("2026-01-08T00:00:00Z"), "Gap (in)": 0.375, Made: true, Cloth: "worn <i>" },
    { Day: new Date("2026-01-08T18:00:00Z"), "Gap (in)": null, Made: false, Cloth: "" },
    { Day: null, "Gap (in)": -1, Made: null, Cloth: "new" },
  ]);
  const { key_value_metadata: notes, num_rows: count } = parquetMetadata(buffer);
  expect(notes).toEqual([{ key: "bendbook notes", value: '[["a.xlsx","2 rows"]]' }]);
  expect(Number(count)).toBe(3);

  const { sheets, styles } = await readParquet(bytes, "halls/rows.parquet");
  expect(sheets[0]?.name).toBe("rows");
  expect(
    sheets[0]?.rows.map((row) => row?.map((cell) => cell && [cell.value, styles[cell.style ?? -1]?.format])),
  ).toEqual([
    ["Day", "Gap (in)", "Made", "Cloth"].map((heading) => [heading, undefined]),
    [
      [46030, "yyyy-mm-dd"],
      [0.375, undefined],
      [true, undefined],
      ["worn <i>", undefined],
    ],
    [[46030.75, "yyyy-mm-dd hh:mm"], undefined, [false, undefined], undefined],
    [undefined, [-1, undefined], undefined, ["new", undefined]],
  ]);
});

it("more rows than a group holds are groups of their own, none lost where they meet", async () => {
  const row = (i: number): RowValue[] => [null, i, i % 2 === 0, null];
  const many = (from: number, to: number) => Array.from({ length: to - from }, (_, i) => row(from + i));
  const bytes = await written([many(0, 49_999), many(49_999, 50_001), many(50_001, 50_003)]);
  const { buffer } = new Uint8Array(bytes);
  expect(parquetMetadata(buffer).row_groups.map(({ num_rows: count }) => Number(count))).toEqual([50_000, 1, 2]);
  const there = await parquetReadObjects({ file: buffer, columns: ["Gap (in)"] });
  expect(there.every((one, i) => one["Gap (in)"] === i)).toBe(true);
  expect(there).toHaveLength(50_003);
});
