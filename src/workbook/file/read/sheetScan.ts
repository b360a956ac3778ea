/**
 * Walks over the XML of one sheet and says what stands in each cell and where. Reading a workbook and saving a copy
 * both use it, so what a copy calls unchanged is what the reader saw.
 */
import { columnNumber, parseAddress } from "../../address";
import type { Area, CellValue } from "../../book";
import { decodeCharacters } from "../../xmlText";
import { corrupt } from "../package/fileProblem";
import { fromStorage, movedFormula } from "../package/storageFormula";
import { isTrue, XmlScan } from "../package/xmlScan";

/** What a sheet's cells need from the rest of the workbook. */
export interface CellContext {
  readonly sharedStrings: readonly string[];
  /** By style: whether its format shows a calendar date. */
  readonly isDate: readonly boolean[];
  /** Days to add to a stored date so that it counts from 1900. */
  readonly dateShift: number;
}

/** A cell as the file has it. */
export interface StoredCell {
  readonly row: number;
  readonly column: number;
  /** Where the whole element stands in the sheet's XML. */
  readonly start: number;
  readonly end: number;
  readonly style: number;
  readonly value: CellValue;
  /** As a person types it; undefined when there is none. */
  readonly formula: string | undefined;
  readonly stored: StoredFormula | undefined;
  /** Index into the workbook's cell metadata, which marks dynamic arrays. */
  readonly cellMetadata: string | undefined;
  /** False when the file leaves the address to the cell's place. */
  readonly addressed: boolean;
}

/** How the file keeps a formula. */
export interface StoredFormula {
  readonly kind: "plain" | "shared" | "array" | "table";
  /** Where the f element stands. */
  readonly start: number;
  readonly end: number;
  /** The text, empty on a cell that follows a shared formula. */
  readonly text: string;
  /** The number of the shared formula whose text this cell carries. */
  readonly leads: string | undefined;
  /** The number of the shared formula whose text stands in another cell. */
  readonly follows: string | undefined;
  /** The range an array formula fills. */
  readonly area: Area | undefined;
}

export interface StoredRow {
  readonly row: number;
  /** Where the opening tag stands. */
  readonly start: number;
  readonly tagEnd: number;
  /** False when the file leaves the row's number to its place. */
  readonly addressed: boolean;
  readonly empty: boolean;
  readonly hidden: boolean;
}

export interface SheetVisitor {
  /** A direct child of the worksheet; for sheetData only its opening tag's end is known. */
  section?(name: string, start: number, end: number): void;
  row?(row: StoredRow): void;
  cell(cell: StoredCell): void;
  /** After the last cell of a row; `at` is where its closing tag starts. */
  rowEnd?(row: StoredRow, at: number): void;
  sheetData?(start: number, tagEnd: number, empty: boolean): void;
  /** `at` is where the closing tag of sheetData starts. */
  sheetDataEnd?(at: number): void;
}

/** Rows after which `scanSheet` pauses, so that a page stays alive while a large sheet is read. */
const ROWS_PER_STEP = 5000;

/** Scans the sheet; yields how far it is (a character position) every few thousand rows. */
export function* scanSheet(xml: string, context: CellContext, visitor: SheetVisitor): Generator<number, void> {
  const scan = new XmlScan(xml);
  const root = scan.next() ? scan.name : "";
  if (root !== "worksheet") throw corrupt("a sheet's part holds no sheet");
  while (scan.next() && !scan.closing) {
    const { name, start } = scan;
    if (name === "sheetData") {
      visitor.sheetData?.(start, scan.end, scan.empty);
      if (!scan.empty) yield* scanRows(scan, context, visitor);
    } else {
      scan.skip();
      visitor.section?.(name, start, scan.end);
    }
  }
  if (!scan.closing) throw corrupt("a sheet is cut off");
}

interface Shared {
  readonly text: string;
  readonly row: number;
  readonly column: number;
}

function* scanRows(scan: XmlScan, context: CellContext, visitor: SheetVisitor): Generator<number, void> {
  const shared = new Map<string, Shared>();
  let lastRow = -1;
  for (let count = 1; scan.next(); count++) {
    if (scan.closing) {
      visitor.sheetDataEnd?.(scan.start);
      return;
    }
    const element = scan.name;
    if (element !== "row") {
      scan.skip();
      continue;
    }
    const stated = scan.attribute("r");
    const row = stated === undefined ? lastRow + 1 : Number(stated) - 1;
    if (!(row > lastRow && row < 1_048_576))
      throw corrupt(`a sheet's rows are out of order near row ${stated ?? lastRow + 2}`);
    lastRow = row;
    const storedRow: StoredRow = {
      row,
      start: scan.start,
      tagEnd: scan.end,
      empty: scan.empty,
      addressed: stated !== undefined,
      hidden: isTrue(scan.attribute("hidden")) || scan.attribute("ht") === "0",
    };
    visitor.row?.(storedRow);
    let lastColumn = -1;
    while (!storedRow.empty) {
      if (!scan.next()) throw corrupt("a sheet is cut off inside a row");
      if (scan.closing) break;
      if (scan.name !== "c") {
        scan.skip();
        continue;
      }
      const cell = scanCell(scan, context, shared, row, lastColumn + 1);
      if (cell.column <= lastColumn) throw corrupt(`a sheet's cells are out of order in row ${row + 1}`);
      lastColumn = cell.column;
      visitor.cell(cell);
    }
    visitor.rowEnd?.(storedRow, scan.start);
    if (count % ROWS_PER_STEP === 0) yield scan.end;
  }
  throw corrupt("a sheet is cut off inside its rows");
}

function scanCell(
  scan: XmlScan,
  context: CellContext,
  shared: Map<string, Shared>,
  row: number,
  nextColumn: number,
): StoredCell {
  const { start } = scan;
  const reference = scan.attribute("r");
  const column = reference === undefined ? nextColumn : columnOf(reference);
  const style = Number(scan.attribute("s") ?? 0) || 0;
  const type = scan.attribute("t") ?? "n";
  const cellMetadata = scan.attribute("cm");
  let raw: string | undefined;
  let stored: StoredFormula | undefined;
  let formula: string | undefined;
  if (!scan.empty) {
    for (;;) {
      if (!scan.next()) throw corrupt(`a sheet is cut off inside cell ${reference ?? ""}`);
      if (scan.closing) break;
      if (scan.name === "v") raw = scan.text();
      else if (scan.name === "is") raw = richText(scan);
      else if (scan.name === "f") {
        stored = scanFormula(scan);
        formula = typed(stored, shared, row, column);
      } else scan.skip();
    }
  }
  const value = cellValue(type, raw, context, style);
  return {
    row,
    column,
    start,
    end: scan.end,
    style,
    value,
    formula,
    stored,
    cellMetadata,
    addressed: reference !== undefined,
  };
}

function scanFormula(scan: XmlScan): StoredFormula {
  const { start } = scan;
  const type = scan.attribute("t");
  const ref = scan.attribute("ref");
  const si = scan.attribute("si");
  const text = decodeCharacters(scan.text());
  const kind =
    type === "array"
      ? "array"
      : type === "dataTable"
        ? "table"
        : type === "shared" && si !== undefined
          ? "shared"
          : "plain";
  return {
    kind,
    start,
    end: scan.end,
    text,
    leads: kind === "shared" && text !== "" ? si : undefined,
    follows: kind === "shared" && text === "" ? si : undefined,
    area: kind === "array" && ref !== undefined ? parseAddress(ref) : undefined,
  };
}

function typed(stored: StoredFormula, shared: Map<string, Shared>, row: number, column: number): string | undefined {
  if (stored.kind === "table") return undefined;
  if (stored.text !== "") {
    if (stored.leads !== undefined) shared.set(stored.leads, { text: stored.text, row, column });
    return fromStorage(stored.text);
  }
  const leader = stored.follows === undefined ? undefined : shared.get(stored.follows);
  return leader && fromStorage(movedFormula(leader.text, row - leader.row, column - leader.column));
}

function columnOf(reference: string): number {
  let letters = 0;
  while (reference.charCodeAt(letters) >= 65) letters++;
  const column = columnNumber(reference.slice(0, letters));
  if (!(column >= 0 && column < 16_384)) throw corrupt(`a sheet has a cell with the address "${reference}"`);
  return column;
}

function cellValue(type: string, raw: string | undefined, context: CellContext, style: number): CellValue {
  if (raw === undefined) return null;
  switch (type) {
    case "s":
      return context.sharedStrings[Number(raw)] ?? null;
    case "str":
    case "inlineStr":
      return decodeCharacters(raw);
    case "b":
      return isTrue(raw.trim());
    case "e":
      return { error: raw.trim() || "#VALUE!" };
    case "d":
      return serialOf(raw.trim());
    default: {
      const text = raw.trim();
      if (text === "") return null;
      const number = Number(text);
      if (!Number.isFinite(number)) return { error: "#NUM!" };
      return context.dateShift !== 0 && context.isDate[style] ? number + context.dateShift : number;
    }
  }
}

/** An ISO date, which the strict form of the format may hold, as a serial day; other text stays text. */
function serialOf(text: string): CellValue {
  const time = Date.parse(/[zZ]$|[+-]\d\d:\d\d$/.test(text) || !text.includes("T") ? text : `${text}Z`);
  return Number.isNaN(time) ? text || null : time / 86_400_000 + 25_569;
}

/** The text of rich text: its runs joined, phonetic hints left out. Expects the scan on the enclosing tag. */
export function richText(scan: XmlScan): string {
  if (scan.empty) return "";
  let text = "";
  for (let depth = 1; depth > 0;) {
    if (!scan.next()) throw corrupt("a text is cut off");
    if (scan.closing) depth--;
    else if (scan.name === "t") text += scan.text();
    else if (scan.name === "rPh" || scan.name === "phoneticPr") scan.skip();
    else if (!scan.empty) depth++;
  }
  return text;
}
