/** Rows written as they come: what a reader finds of them, looks and notes included. */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { open } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { readXlsx } from "../../../../src/workbook/file/read/readXlsx";
import { xlsxRows } from "../../../../src/workbook/file/rows/xlsxRows";

it("rows are read back with bold headings, days as days and moments as moments, and the notes beside them", async () => {
  const folder = mkdtempSync(join(tmpdir(), "bendbook-rows-"));
  try {
    const path = join(folder, "rows.xlsx");
    const file = await open(path, "w");
    const rows = await xlsxRows(
      file,
      [
        { heading: "Day", kind: "date" },
        { heading: "Gap (in)", kind: "number" },
        { heading: "Cloth", kind: "text" },
      ],
      "Gathered",
    );
    await rows.write([
      [46030, 0.375, "worn <i>"],
      [46030.75, null, "new"],
    ]);
    await rows.end({
      name: "Notes",
      rows: [
        ["File", "Note"],
        ["a.xlsx", "2 rows"],
      ],
    });
    await file.close();

    const { sheets, styles } = await readXlsx(readFileSync(path));
    const cells = sheets[0]!.rows.map((row) =>
      row!.map((cell) => cell && ([cell.value, styles[cell.style ?? 0] ?? {}] as const)),
    );
    expect(cells[0]!.map((cell) => cell)).toEqual(
      ["Day", "Gap (in)", "Cloth"].map((heading) => [heading, expect.objectContaining({ bold: true })]),
    );
    expect(cells[1]![0]).toEqual([46030, { format: "yyyy-mm-dd" }]);
    expect(cells[2]![0]).toEqual([46030.75, { format: "yyyy-mm-dd hh:mm" }]);
    expect(cells[1]!.slice(1)).toEqual([
      [0.375, {}],
      ["worn <i>", {}],
    ]);
    expect(cells[2]![1]).toBeUndefined();
    expect(sheets[0]!.tables).toMatchObject([{ area: { row: 0, column: 0, rows: 3, columns: 3 } }]);
    expect(sheets[0]!.frozenRows).toBe(1);
    const [heading, line] = sheets[1]!.rows;
    expect(heading!.map((cell) => styles[cell!.style ?? 0]?.bold)).toEqual([true, true]);
    expect(line!.map((cell) => [cell!.value, styles[cell!.style ?? 0]?.bold])).toEqual([
      ["a.xlsx", undefined],
      ["2 rows", undefined],
    ]);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
