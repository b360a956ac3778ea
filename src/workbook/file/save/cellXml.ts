/**
 * Cells as a sheet's XML holds them.
 */
import { areaAddress, cellAddress } from "../../address";
import { isCellError, type Area, type BookCell, type CellValue } from "../../book";
import { encodeXml } from "../../xmlText";
import { isDynamic, toStorage } from "../package/storageFormula";

/** What cells need from the rest of the workbook that is being written. */
export interface CellSink {
  /** Index of a shared string. */
  string(text: string): number;
  /** The file's number of a look; `style` indexes Book.styles. */
  style(style: number | undefined): number;
  /** Index of the metadata that marks a dynamic array. */
  dynamicMark(): number;
  /** What a number is stored as in a cell of that look, which differs for dates counted from 1904. */
  number(value: number, style: number | undefined): number;
}

/** A whole cell. `prefix` is the sheet's prefix of elements, usually "". */
export function cellXml(row: number, column: number, cell: BookCell, sink: CellSink, prefix: string): string {
  const address = cellAddress(row, column);
  const { formula, spill, array } = cell;
  if (formula === undefined) return element(address, cell, sink, prefix, "", "");
  const stored = encodeXml(toStorage(formula));
  if (!spill && !array && !isDynamic(formula))
    return element(address, cell, sink, prefix, "", `<${prefix}f>${stored}</${prefix}f>`);
  const area: Area = spill ?? { row, column, rows: 1, columns: 1 };
  return element(
    address,
    cell,
    sink,
    prefix,
    array ? "" : ` cm="${sink.dynamicMark()}"`,
    `<${prefix}f t="array" ref="${areaAddress(area)}">${stored}</${prefix}f>`,
  );
}

/**
 * A cell whose text stands in it, for sheets that are written before all their texts are known.
 * @param style the file's number of its look
 */
export function inlineXml(row: number, column: number, text: string, style: number): string {
  return `<c r="${cellAddress(row, column)}"${style ? ` s="${style}"` : ""} t="inlineStr"><is><t xml:space="preserve">${encodeXml(text)}</t></is></c>`;
}

/** A cell whose stored formula stays as it is and whose value is new. `metadata` is the cm attribute to repeat. */
export function cellXmlWithFormula(
  row: number,
  column: number,
  cell: BookCell,
  formulaXml: string,
  metadata: string,
  sink: CellSink,
  prefix: string,
): string {
  return element(cellAddress(row, column), cell, sink, prefix, metadata, formulaXml);
}

function element(
  address: string,
  cell: BookCell,
  sink: CellSink,
  p: string,
  metadata: string,
  formulaXml: string,
): string {
  const style = sink.style(cell.style);
  const [type, text] = storedValue(cell, formulaXml !== "", sink);
  const tag = `<${p}c r="${address}"${style ? ` s="${style}"` : ""}${type ? ` t="${type}"` : ""}${metadata}`;
  if (text === undefined && formulaXml === "") return `${tag}/>`;
  return `${tag}>${formulaXml}${text === undefined ? "" : `<${p}v>${text}</${p}v>`}</${p}c>`;
}

function storedValue(cell: BookCell, computed: boolean, sink: CellSink): [type: string, text: string | undefined] {
  const { value } = cell;
  if (value === null) return ["", undefined];
  if (typeof value === "number") {
    if (!Number.isFinite(value)) return ["e", "#NUM!"];
    return ["", String(sink.number(value, cell.style))];
  }
  if (typeof value === "boolean") return ["b", value ? "1" : "0"];
  if (isCellError(value)) return ["e", KEPT_ERRORS.has(value.error) ? value.error : "#VALUE!"];
  return computed ? ["str", encodeXml(value)] : ["s", String(sink.string(value))];
}

// The format knows these as cell values; younger ones, such as a blocked spill, are recomputed on opening.
const KEPT_ERRORS: ReadonlySet<string> = new Set([
  "#NULL!",
  "#DIV/0!",
  "#VALUE!",
  "#REF!",
  "#NAME?",
  "#NUM!",
  "#N/A",
  "#GETTING_DATA",
]);

/** Whether two values are the same to a reader; what an error said beside its code is not kept in a file. */
export function sameValue(a: CellValue, b: CellValue): boolean {
  if (isCellError(a) || isCellError(b)) return isCellError(a) && isCellError(b) && a.error === b.error;
  return a === b;
}

export function sameArea(a: Area | undefined, b: Area | undefined): boolean {
  if (!a || !b) return a === b;
  return a.row === b.row && a.column === b.column && a.rows === b.rows && a.columns === b.columns;
}

/** Whether the file has nothing to keep for the cell. */
export function isNothing(cell: BookCell | undefined): boolean {
  return !cell || (cell.formula === undefined && cell.value === null && !cell.style);
}
