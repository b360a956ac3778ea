/** Opens a file, recomputes its BANK formulas and finds the log that a question means. */
import { outsideText } from "../experiment/log/outsideTable";
import { findColumns, findTrialLogs, type TrialLog } from "../experiment/log/trialLog";
import type { Book } from "../workbook/book";
import { sheetColumns } from "../workbook/columnSheet";
import { bankLibrary } from "../functions/library";
import { computeBook } from "../workbook/direct/computeBook";
import { readFileBytes } from "../workbook/file/package/disk";
import { FilePort } from "../workbook/file/filePort";
import { openBook } from "../workbook/file/read/openBook";
import { isParquet, readParquet } from "../workbook/file/read/parquet";
import { callsBank } from "../workbook/file/package/storageFormula";
import { CommandError } from "./usage";

/** The workbook in the file, as stored. */
export async function openFile(path: string): Promise<{ bytes: Uint8Array; book: Book }> {
  const bytes = await readFileBytes(path);
  return { bytes, book: isParquet(bytes) ? await readParquet(bytes, path) : await openBook(bytes, path) };
}

/** The workbook alone: a long file's bytes are let go of before its rows are read. */
async function openedBook(path: string): Promise<Book> {
  return (await openFile(path)).book;
}

/** True when any formula of the workbook calls a BANK function. */
function hasBankFormulas(book: Book): boolean {
  return book.sheets.some(
    (sheet) =>
      !sheetColumns(sheet) &&
      sheet.rows.some((row) => row?.some((cell) => cell?.formula !== undefined && callsBank(cell.formula))),
  );
}

/** The workbook with its BANK formulas computed anew, and what follows from them; itself where it has none. */
export async function recomputed(book: Book): Promise<Book> {
  return hasBankFormulas(book) ? (computeBook(book, bankLibrary, "ours") ?? engineComputed(book)) : book;
}

/** The workbook computed anew, BANK formulas or not. */
export async function computed(book: Book): Promise<Book> {
  return computeBook(book, bankLibrary, "all") ?? engineComputed(book);
}

/** The same by the grid's engine, which is loaded only where a formula needs it. */
async function engineComputed(book: Book): Promise<Book> {
  const { createEngine } = await import("../workbook/embedded/engine");
  const engine = await createEngine(book);
  try {
    return await engine.recalculate();
  } finally {
    engine.dispose();
  }
}

/** Where a log is looked for, and how it is read. */
export interface LogWishes {
  /** The sheet; the first that has the heading when missing. */
  readonly sheet?: string | undefined;
  /** Whether rows and columns around an Excel table are part of the log. */
  readonly takeIn?: boolean | undefined;
}

/**
 * The log that has the heading, of the workbook in the file with its BANK formulas computed anew. Nothing but the log
 * is held afterwards.
 */
export async function readLog(
  path: string,
  wishes: LogWishes,
  heading: string,
  warn: (text: string) => void,
): Promise<TrialLog> {
  return findLog(await recomputed(await openedBook(path)), wishes, heading, warn);
}

/**
 * The log that has the heading. What stands around its table and is not taken in is told.
 * @throws CommandError naming what there is
 */
async function findLog(
  book: Book,
  { sheet, takeIn }: LogWishes,
  heading: string,
  warn: (text: string) => void,
): Promise<TrialLog> {
  const port = new FilePort(book);
  const names = (await port.sheets()).map(({ name }) => name);
  if (sheet !== undefined && !names.includes(sheet)) {
    throw new CommandError(`there is no sheet "${sheet}"; there are: ${names.map((name) => `"${name}"`).join(", ")}.`);
  }
  const logs: TrialLog[] = [];
  for (const name of sheet === undefined ? names : [sheet])
    logs.push(...findTrialLogs(await port.read(name), takeIn ? { takeIn: "all" } : {}));
  const found = logs.find((log) => findColumns(log, heading).length > 0);
  if (found?.outside && !found.outside.takenIn)
    warn(`${outsideText(found.title, found.outside)} and not counted: --take-in takes them in.`);
  if (found) return found;
  const where = sheet === undefined ? "the workbook" : `sheet "${sheet}"`;
  if (logs.length === 0) throw new CommandError(`${where} has no table with headings and rows below them.`);
  throw new CommandError(
    `${where} has no column headed "${heading}"; there are: ${[...new Set(logs.flatMap((log) => log.columns.map((column) => `"${column.heading.text}"`)))].join(", ")}.`,
  );
}
