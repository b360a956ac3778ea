/**
 * What stands around the cells of a sheet, as XML: rows, columns, panes, merged cells, drop-down lists.
 */
import { areaAddress, cellAddress } from "../../address";
import type { Area, BookSheet, ListValidation } from "../../book";
import { encodeXml } from "../../xmlText";
import { withAttributes } from "../package/packageParts";
import { toStorage } from "../package/storageFormula";
import { XmlScan } from "../package/xmlScan";

/** The order in which the format wants a worksheet's children. */
export const SECTION_ORDER = (
  "sheetPr dimension sheetViews sheetFormatPr cols sheetData sheetCalcPr sheetProtection protectedRanges scenarios autoFilter sortState " +
  "dataConsolidate customSheetViews mergeCells phoneticPr conditionalFormatting dataValidations hyperlinks printOptions pageMargins " +
  "pageSetup headerFooter rowBreaks colBreaks customProperties cellWatches ignoredErrors smartTags drawing legacyDrawing " +
  "legacyDrawingHF drawingHF picture oleObjects controls webPublishItems tableParts extLst"
).split(" ");

/** @param height in points; the reader's own when missing */
export function rowXml(row: number, cells: string, hidden: boolean, p: string, height?: number): string {
  const tall = height === undefined ? "" : ` ht="${height}" customHeight="1"`;
  const tag = `<${p}row r="${row + 1}"${hidden ? ' hidden="1"' : ""}${tall}`;
  return cells === "" ? `${tag}/>` : `${tag}>${cells}</${p}row>`;
}

export function mergeCellsXml(areas: readonly Area[], p: string): string {
  if (areas.length === 0) return "";
  return `<${p}mergeCells count="${areas.length}">${areas.map((area) => `<${p}mergeCell ref="${areaAddress(area)}"/>`).join("")}</${p}mergeCells>`;
}

/** Widths closer than this, in characters, look the same. */
export const SEEN_WIDTH = 0.05;

/** The cols element with some columns' widths changed; ranges of columns are cut where they must be. */
export function withWidths(cols: string, changed: ReadonlyMap<number, number>, p: string): string {
  const columns: { min: number; max: number; tag: string }[] = [];
  const scan = new XmlScan(cols);
  while (scan.next()) {
    if (scan.name === "col" && !scan.closing)
      columns.push({
        min: Number(scan.attribute("min")),
        max: Number(scan.attribute("max")),
        tag: cols.slice(scan.start, scan.end),
      });
  }
  for (const [column, width] of changed) {
    const n = column + 1;
    const at = columns.findIndex(({ min, max }) => min <= n && n <= max);
    const [cut] = at < 0 ? [] : columns.splice(at, 1);
    const { min, max, tag } = cut ?? { min: n, max: n, tag: `<${p}col min="${n}" max="${n}"/>` };
    if (min < n) columns.push({ min, max: n - 1, tag });
    columns.push({
      min: n,
      max: n,
      tag: withAttributes(tag, { width: String(width), customWidth: "1", bestFit: undefined }),
    });
    if (n < max) columns.push({ min: n + 1, max, tag });
  }
  columns.sort((a, b) => a.min - b.min);
  return `<${p}cols>${columns.map(({ min, max, tag }) => withAttributes(tag, { min: String(min), max: String(max) })).join("")}</${p}cols>`;
}

/** The frozen rows and columns of a view; "" when there are none. */
export function paneXml({ frozenRows = 0, frozenColumns = 0 }: BookSheet, p: string): string {
  if (frozenRows === 0 && frozenColumns === 0) return "";
  const pane = frozenRows > 0 && frozenColumns > 0 ? "bottomRight" : frozenRows > 0 ? "bottomLeft" : "topRight";
  const split =
    (frozenColumns > 0 ? ` xSplit="${frozenColumns}"` : "") + (frozenRows > 0 ? ` ySplit="${frozenRows}"` : "");
  return `<${p}pane${split} topLeftCell="${cellAddress(frozenRows, frozenColumns)}" activePane="${pane}" state="frozen"/><${p}selection pane="${pane}"/>`;
}

export function colsXml(widths: readonly (number | undefined)[], p: string): string {
  let text = "";
  for (let c = 0; c < widths.length; c++) {
    if (widths[c]) text += `<${p}col min="${c + 1}" max="${c + 1}" width="${widths[c]}" customWidth="1"/>`;
  }
  return text === "" ? "" : `<${p}cols>${text}</${p}cols>`;
}

/** Equal for lists that do the same. */
export function validationKey({ areas, choices, formula }: ListValidation): string {
  return JSON.stringify([areas.map(areaAddress), choices ?? null, formula ?? null]);
}

export function validationXml({ areas, choices, formula }: ListValidation, p: string): string {
  const source = choices ? `"${choices.join(",").replace(/"/g, '""')}"` : toStorage(formula ?? "");
  return (
    `<${p}dataValidation type="list" allowBlank="1" showInputMessage="1" showErrorMessage="1" sqref="${areas.map(areaAddress).join(" ")}">` +
    `<${p}formula1>${encodeXml(source)}</${p}formula1></${p}dataValidation>`
  );
}
