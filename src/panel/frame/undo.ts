/**
 * What the panel wrote, and taking it back, the latest first. A sheet or a row that somebody changed since is left
 * alone.
 */
import { there } from "../../there";
import { isCellError, type CellValue } from "../../workbook/book";
import { portOver } from "../../workbook/portOver";
import type { AddedRow, NewRow, NewSheet, Port, RowCells, SheetData } from "../../workbook/port";

interface Entry {
  /** What is taken back, as in "the sheet "Plan"". */
  readonly what: string;
  /** Takes it back. @throws Error saying why it was not */
  back(): Promise<void>;
}

export interface Undo {
  /** The port to write through. */
  readonly port: Port;
  /** What would be taken back next; undefined when there is nothing. */
  readonly next: string | undefined;
  /**
   * Takes the latest back.
   * @returns what was taken back
   * @throws Error saying why it was not; it is then not offered again
   */
  back(): Promise<string>;
}

const NOTHING = "{}";
const CHOICE = "the last choice in the panel";
/** Choices closer together than this are one, in ms: the letters of a word are. */
const TOGETHER = 1000;

/** Entries kept; older ones cannot be taken back. */
const MOST = 50;

/**
 * @param isChoice whether a change of the settings is one that somebody would take back
 * @param onChange called when `next` changes
 * @param onSettings called with the settings that were taken back to
 */
export function undoOver(
  port: Port,
  isChoice: (before: string | null, after: string) => boolean,
  onChange: () => void,
  onSettings: (text: string) => void,
): Undo {
  const entries: Entry[] = [];
  let settings: string | null | undefined;
  /** When the latest choice was kept; what follows soon after is taken back with it. */
  let chosen = -Infinity;
  const keep = (entry: Entry) => {
    entries.push(entry);
    if (entries.length > MOST) entries.shift();
    onChange();
  };
  /** What was written stands, whether or not it can be remembered for taking back. */
  const remember = async (entry: Promise<Entry>) => {
    const known = await entry.catch(() => undefined);
    if (known) keep(known);
  };
  const wrapped = portOver(port, {
    async addSheet(content: NewSheet) {
      const name = await port.addSheet(content);
      await remember(sheetEntry(port, name));
      return name;
    },
    async addRow(content: NewRow) {
      const added = await port.addRow(content);
      await remember(added.made ? sheetEntry(port, added.sheet) : rowEntry(port, added, content.cells.length));
      return added;
    },
    async changeRows(sheet: string, rows: readonly Omit<RowCells, "sheet">[]) {
      const before = await rowsNow(port, sheet, rows);
      await port.changeRows(sheet, rows);
      await remember(changedEntry(port, sheet, rows, before));
    },
    async fillRow(content: RowCells) {
      const filled = await port.fillRow(content);
      if ("written" in filled && filled.written.length > 0) await remember(cellsEntry(port, content, filled.written));
      return filled;
    },
    async addPicture(picture) {
      const name = await there(port.addPicture?.(picture), "a way to put pictures");
      await remember(sheetEntry(port, name));
      return name;
    },
    async loadSettings() {
      settings = await port.loadSettings();
      return settings;
    },
    async saveSettings(text: string) {
      const before = settings ?? null;
      await port.saveSettings(text);
      settings = text;
      if (!isChoice(before, text)) return;
      const soon = performance.now() - chosen < TOGETHER && entries.at(-1)?.what === CHOICE;
      chosen = performance.now();
      if (soon) return;
      keep({
        what: CHOICE,
        async back() {
          // Settings cannot be taken out of a workbook; empty ones say as much as none.
          settings = before ?? NOTHING;
          await port.saveSettings(settings);
          onSettings(settings);
        },
      });
    },
  });
  return {
    port: wrapped,
    get next() {
      return entries.at(-1)?.what;
    },
    async back() {
      const entry = entries.pop();
      onChange();
      if (!entry) throw new Error("There is nothing to take back.");
      await entry.back();
      return entry.what;
    },
  };
}

async function sheetEntry(port: Port, name: string): Promise<Entry> {
  const written = await port.read(name);
  const what = `the sheet "${name}"`;
  return {
    what,
    async back() {
      if (!(await port.sheets()).some((sheet) => sheet.name === name))
        throw new Error(`The sheet "${name}" is not there any more.`);
      if (!sameContent(written, await port.read(name)))
        throw new Error(
          `The sheet "${name}" was changed since it was written, so it stays. Delete it yourself if you do not want it.`,
        );
      await port.removeSheet(name);
    },
  };
}

async function rowEntry(port: Port, { sheet, row }: AddedRow, columns: number): Promise<Entry> {
  const written = rowOf(await port.read(sheet), row, columns);
  return {
    what: `row ${row + 1} of the sheet "${sheet}"`,
    async back() {
      if (!(await port.sheets()).some(({ name }) => name === sheet))
        throw new Error(`The sheet "${sheet}" is not there any more.`);
      if (rowOf(await port.read(sheet), row, columns) !== written)
        throw new Error(`Row ${row + 1} of the sheet "${sheet}" was changed since it was written, so it stays.`);
      await port.clearCells(sheet, { row, column: 0, rows: 1, columns });
    },
  };
}

type ChangedRows = readonly Omit<RowCells, "sheet">[];

/** What stands now in the cells that rows name. */
async function rowsNow(port: Port, sheet: string, rows: ChangedRows): Promise<CellValue[][]> {
  const { firstRow, firstColumn, values } = await port.read(sheet);
  return rows.map(({ row, cells }) =>
    cells.map(({ column }) => values[row - firstRow]?.[column - firstColumn] ?? null),
  );
}

/** @param before what stood in the cells */
async function changedEntry(port: Port, sheet: string, rows: ChangedRows, before: CellValue[][]): Promise<Entry> {
  const written = JSON.stringify(await rowsNow(port, sheet, rows));
  return {
    what: `the change of the sheet "${sheet}"`,
    async back() {
      if (!(await port.sheets()).some(({ name }) => name === sheet))
        throw new Error(`The sheet "${sheet}" is not there any more.`);
      if (JSON.stringify(await rowsNow(port, sheet, rows)) !== written)
        throw new Error(`The sheet "${sheet}" was changed since it was written, so it stays.`);
      await port.changeRows(
        sheet,
        rows.map(({ row, cells }, r) => ({
          row,
          cells: cells.map(({ column }, c) => {
            const value = before[r]?.[c] ?? null;
            return { column, value: isCellError(value) ? value.error : value };
          }),
        })),
      );
    },
  };
}

/** @param columns those that were written */
async function cellsEntry(port: Port, { sheet, row }: RowCells, columns: readonly number[]): Promise<Entry> {
  const cellsNow = async () => {
    const line: unknown[] = JSON.parse(rowOf(await port.read(sheet), row, Math.max(...columns) + 1));
    return JSON.stringify(columns.map((column) => line[column]));
  };
  const written = await cellsNow();
  return {
    what: `what was written to row ${row + 1} of the sheet "${sheet}"`,
    async back() {
      if (!(await port.sheets()).some(({ name }) => name === sheet))
        throw new Error(`The sheet "${sheet}" is not there any more.`);
      if ((await cellsNow()) !== written)
        throw new Error(`Row ${row + 1} of the sheet "${sheet}" was changed since it was written, so it stays.`);
      for (const column of columns) await port.clearCells(sheet, { row, column, rows: 1, columns: 1 });
    },
  };
}

/** What Excel shows while a function of the add-in is still at work. */
const AT_WORK = new Set(["#BUSY!", "#GETTING_DATA"]);

/** Whether the cells are as they were; one that was still being computed then may hold anything now. */
function sameContent(before: SheetData, now: SheetData): boolean {
  if (
    before.firstRow !== now.firstRow ||
    before.firstColumn !== now.firstColumn ||
    before.values.length !== now.values.length
  )
    return false;
  return before.values.every(
    (row, r) =>
      row.length === now.values[r]?.length &&
      row.every(
        (value, c) =>
          (isCellError(value) && AT_WORK.has(value.error)) ||
          JSON.stringify(value) === JSON.stringify(now.values[r]?.[c]),
      ),
  );
}

function rowOf({ firstRow, firstColumn, values }: SheetData, row: number, columns: number): string {
  return JSON.stringify(
    Array.from({ length: columns }, (_, column) => values[row - firstRow]?.[column - firstColumn] ?? null),
  );
}
