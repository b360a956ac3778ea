/**
 * New parts of a workbook: an empty package, a sheet from nothing, a table.
 */
import { areaAddress } from "../../address";
import type { BookCell, BookSheet, BookTable, CellStyle } from "../../book";
import { encodeAttribute, encodeXml, escapeCharacters } from "../../xmlText";
import { cellXml, isNothing, type CellSink } from "./cellXml";
import { XML_HEAD } from "../package/packageParts";
import { FIT_TO_PAGE, pageSetupXml, rowHeight } from "./printSetup";
import { colsXml, mergeCellsXml, paneXml, rowXml, validationXml } from "./sheetSections";
import { isDynamic, toStorage } from "../package/storageFormula";
import { Archive } from "../package/zip";

const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml.";

/** A workbook without sheets; its first style is the plain look. */
export function emptyPackage(title?: string): Archive {
  const archive = new Archive();
  archive.put(
    "[Content_Types].xml",
    `${XML_HEAD}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
      `<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>` +
      `<Override PartName="/xl/workbook.xml" ContentType="${KIND}sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="${KIND}styles+xml"/>` +
      `<Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/></Types>`,
  );
  const relations = (entries: string) =>
    `${XML_HEAD}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">${entries}</Relationships>`;
  archive.put(
    "_rels/.rels",
    relations(
      `<Relationship Id="rId1" Type="${OFFICE}/officeDocument" Target="xl/workbook.xml"/>` +
        `<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties" Target="docProps/core.xml"/>`,
    ),
  );
  archive.put("docProps/core.xml", coreXml(title));
  archive.put(
    "xl/workbook.xml",
    `${XML_HEAD}<workbook xmlns="${MAIN}" xmlns:r="${OFFICE}"><bookViews><workbookView/></bookViews><sheets></sheets></workbook>`,
  );
  archive.put(
    "xl/_rels/workbook.xml.rels",
    relations(`<Relationship Id="rId1" Type="${OFFICE}/styles" Target="styles.xml"/>`),
  );
  archive.put("xl/styles.xml", EMPTY_STYLES);
  return archive;
}

/** What a document says of itself (ISO/IEC 29500-2, core properties). No time, so that equal books are equal files. */
function coreXml(title: string | undefined): string {
  return (
    `${XML_HEAD}<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/">` +
    `${title === undefined ? "" : `<dc:title>${encodeXml(title)}</dc:title>`}<dc:creator>Bendbook</dc:creator></cp:coreProperties>`
  );
}

/** A style part with the plain look alone; the second fill is one the format reserves. */
export const EMPTY_STYLES =
  `${XML_HEAD}<styleSheet xmlns="${MAIN}"><fonts count="1"><font><sz val="11"/><name val="Calibri"/><family val="2"/></font></fonts>` +
  `<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>` +
  `<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>` +
  `<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
  `<cellXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/></cellXfs>` +
  `<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles><dxfs count="0"/></styleSheet>`;

export const EMPTY_STRINGS = `${XML_HEAD}<sst xmlns="${MAIN}"></sst>`;

/** A whole sheet; tables and a drawing are parts of their own and are related by the ids given. */
export function newSheetXml(
  sheet: BookSheet,
  sink: CellSink,
  styles: readonly CellStyle[],
  tableIds: readonly string[],
  drawingId?: string,
): string {
  const hidden = new Set(sheet.hiddenRows);
  const rows: string[] = [];
  const last = sheet.hiddenRows.reduce((a, b) => Math.max(a, b + 1), sheet.rows.length);
  for (let r = 0; r < last; r++) {
    let cells = "";
    sheet.rows[r]?.forEach((cell, c) => {
      if (cell && !isNothing(cell)) cells += cellXml(r, c, cell, sink, "");
    });
    if (cells !== "" || hidden.has(r))
      rows.push(rowXml(r, cells, hidden.has(r), "", rowHeight(sheet.rows[r] ?? [], sheet, styles)));
  }
  const validations = sheet.validations.map((validation) => validationXml(validation, "")).join("");
  return (
    `${XML_HEAD}<worksheet xmlns="${MAIN}" xmlns:r="${OFFICE}">${FIT_TO_PAGE}<sheetViews><sheetView workbookViewId="0">${paneXml(sheet, "")}</sheetView></sheetViews>` +
    `<sheetFormatPr defaultRowHeight="15"/>${colsXml(sheet.columnWidths, "")}<sheetData>${rows.join("")}</sheetData>${mergeCellsXml(sheet.merged, "")}` +
    (validations === ""
      ? ""
      : `<dataValidations count="${sheet.validations.length}">${validations}</dataValidations>`) +
    pageSetupXml(sheet) +
    (drawingId === undefined ? "" : `<drawing r:id="${drawingId}"/>`) +
    (tableIds.length === 0
      ? ""
      : `<tableParts count="${tableIds.length}">${tableIds.map((id) => `<tablePart r:id="${id}"/>`).join("")}</tableParts>`) +
    `</worksheet>`
  );
}

/** A table part. `id` must differ from every other table's; `totals` are the cells of its row of totals. */
export function newTableXml(
  id: number,
  { name, area, columns: hidden, calculated }: BookTable,
  columns: readonly string[],
  totals?: readonly (BookCell | undefined)[],
): string {
  const ref = areaAddress(area);
  const filtered = areaAddress(totals ? { ...area, rows: area.rows - 1 } : area);
  return (
    `${XML_HEAD}<table xmlns="${MAIN}" id="${id}" name="${encodeAttribute(name)}" displayName="${encodeAttribute(name)}" ref="${ref}"` +
    `${hidden ? ' headerRowCount="0"' : ""}${totals ? ' totalsRowCount="1"' : ' totalsRowShown="0"'}>` +
    (hidden ? "" : `<autoFilter ref="${filtered}"/>`) +
    `<tableColumns count="${columns.length}">` +
    columns
      .map(
        (column, i) =>
          `<tableColumn id="${i + 1}" name="${encodeAttribute(headerAttribute(column))}"${columnXml(calculated?.[i], totals?.[i])}`,
      )
      .join("") +
    `</tableColumns><tableStyleInfo name="TableStyleLight1" showFirstColumn="0" showLastColumn="0" showRowStripes="1" showColumnStripes="0"/></table>`
  );
}

/**
 * How a column's definition ends: the formula of its rows, and what its row of totals holds, kept a second time there.
 */
function columnXml(calculated: string | undefined, total: BookCell | undefined): string {
  const formulas =
    (calculated === undefined
      ? ""
      : `<calculatedColumnFormula${isDynamic(calculated) ? ' array="1"' : ""}>${encodeXml(toStorage(calculated))}</calculatedColumnFormula>`) +
    (total?.formula === undefined ? "" : `<totalsRowFormula>${encodeXml(toStorage(total.formula))}</totalsRowFormula>`);
  const attribute =
    total?.formula !== undefined
      ? ' totalsRowFunction="custom"'
      : typeof total?.value === "string"
        ? ` totalsRowLabel="${encodeAttribute(headerAttribute(total.value))}"`
        : "";
  return formulas === "" ? `${attribute}/>` : `${attribute}>${formulas}</tableColumn>`;
}

/** A header as a table's column is named: what an attribute cannot hold is escaped as in cells. */
export function headerAttribute(header: string): string {
  return escapeCharacters(header).replace(
    /[\t\n\r]/g,
    (character) => `_x${character.charCodeAt(0).toString(16).padStart(4, "0")}_`,
  );
}

export const TABLE_CONTENT = `${KIND}table+xml`;
export const SHEET_CONTENT = `${KIND}worksheet+xml`;
export const STRINGS_CONTENT = `${KIND}sharedStrings+xml`;
export const STYLES_CONTENT = `${KIND}styles+xml`;
