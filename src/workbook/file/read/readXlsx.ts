/**
 * Reads an .xlsx package into a Book.
 */
import { parseAddress } from "../../address";
import type { Area, Book, BookCell, BookSheet, BookTable, CellStyle, ListValidation } from "../../book";
import { settingsFromXml } from "../../settingsXml";
import { decodeCharacters } from "../../xmlText";
import { corrupt } from "../package/fileProblem";
import { openPackage } from "../package/openPackage";
import { relationsOf, workbookPart, type Relation } from "../package/packageParts";
import { richText, scanSheet, type CellContext } from "./sheetScan";
import { callsBank, fromStorage } from "../package/storageFormula";
import { readStyles, readThemeColors, showsDate } from "../package/styleSheet";
import { isTrue, XmlScan } from "../package/xmlScan";
import type { Archive } from "../package/zip";

/**
 * Reads a workbook. `onProgress` hears the share done, 0 to 1; between its calls the page gets to draw.
 * Throws FileProblem, whose message says what is wrong with the file and how to mend it.
 *
 * @example const book = await readXlsx(new Uint8Array(await file.arrayBuffer()));
 */
export async function readXlsx(bytes: Uint8Array, onProgress?: (share: number) => void): Promise<Book> {
  const archive = openPackage(bytes);
  const workbook = readWorkbook(archive);
  const sheets: BookSheet[] = [];
  const total = workbook.sheets.length;
  for (const [i, entry] of workbook.sheets.entries()) {
    const xml = archive.text(entry.part);
    const reading = readSheet(archive, entry, xml, workbook.context);
    for (;;) {
      const step = reading.next();
      onProgress?.((i + (step.done ? 1 : step.value / xml.length)) / total);
      if (onProgress) await new Promise((resume) => setTimeout(resume, 0));
      if (!step.done) continue;
      sheets.push(step.value);
      break;
    }
  }
  const settings = settingsPart(archive)?.text;
  const from1904 = workbook.context.dateShift === 0 ? {} : { datesFrom1904: true as const };
  return {
    sheets,
    styles: workbook.styles,
    names: workbook.names,
    ...from1904,
    ...(settings === undefined ? {} : { settings }),
  };
}

export interface SheetEntry {
  readonly name: string;
  readonly hidden: boolean;
  readonly part: string;
}

export interface WorkbookData {
  readonly part: string;
  readonly relations: readonly Relation[];
  /** Sheets with cells, in order; sheets that are one chart are left out. */
  readonly sheets: readonly SheetEntry[];
  readonly names: Book["names"];
  readonly styles: readonly CellStyle[];
  readonly context: CellContext;
}

/** What all sheets share. */
export function readWorkbook(archive: Archive): WorkbookData {
  const part = workbookPart(archive);
  const relations = relationsOf(archive, part);
  const partOf = (kind: string) =>
    relations.find((relation) => relation.kind === kind && relation.part !== undefined && archive.has(relation.part))
      ?.part;
  const sheets: SheetEntry[] = [];
  const names: { name: string; reference: string; sheet?: string }[] = [];
  const listed: string[] = [];
  let from1904 = false;
  const scan = new XmlScan(archive.text(part));
  while (scan.next()) {
    if (scan.closing) continue;
    if (scan.name === "workbookPr") from1904 = isTrue(scan.attribute("date1904"));
    else if (scan.name === "sheet") {
      const id = [...scan.attributes()].find(([name]) => name.endsWith(":id"))?.[1];
      const relation = relations.find((candidate) => candidate.id === id);
      const name = scan.attribute("name") ?? "";
      listed.push(decodeCharacters(name));
      if (relation?.kind !== "worksheet") continue;
      if (relation.part === undefined || !archive.has(relation.part)) throw corrupt(`its sheet "${name}" is missing`);
      const state = scan.attribute("state");
      sheets.push({
        name: decodeCharacters(name),
        hidden: state === "hidden" || state === "veryHidden",
        part: relation.part,
      });
    } else if (scan.name === "definedName") {
      const name = scan.attribute("name") ?? "";
      const shown = !isTrue(scan.attribute("hidden")) && !name.startsWith("_xlnm.");
      const place = scan.attribute("localSheetId");
      const sheet = place === undefined ? undefined : listed[Number(place)];
      const reference = scan.text();
      const known = names.some((other) => other.name.toLowerCase() === name.toLowerCase() && other.sheet === sheet);
      if (shown && !known && (place === undefined) === (sheet === undefined))
        names.push({ name, reference: fromStorage(reference), ...(sheet === undefined ? {} : { sheet }) });
    }
  }
  if (sheets.length === 0) throw corrupt("it has no sheet with cells");
  const theme = partOf("theme");
  const stylePart = partOf("styles");
  const styles = stylePart
    ? readStyles(archive.text(stylePart), theme ? readThemeColors(archive.text(theme)) : [])
    : [];
  const stringPart = partOf("sharedStrings");
  return {
    part,
    relations,
    sheets,
    names,
    styles,
    context: {
      sharedStrings: stringPart ? readSharedStrings(archive.text(stringPart)) : [],
      isDate: styles.map((style) => showsDate(style.format)),
      dateShift: from1904 ? 1462 : 0,
    },
  };
}

function readSharedStrings(xml: string): string[] {
  const strings: string[] = [];
  const scan = new XmlScan(xml);
  while (scan.next()) if (scan.name === "si" && !scan.closing) strings.push(decodeCharacters(richText(scan)));
  return strings;
}

function* readSheet(
  archive: Archive,
  entry: SheetEntry,
  xml: string,
  context: CellContext,
): Generator<number, BookSheet> {
  const rows: (BookCell | undefined)[][] = [];
  const hiddenRows: number[] = [];
  const spills: Area[] = [];
  const sections: { name: string; xml: string }[] = [];
  yield* scanSheet(xml, context, {
    section: (name, start, end) => {
      if (READ_SECTIONS.has(name)) sections.push({ name, xml: xml.slice(start, end) });
    },
    row: ({ row, hidden }) => {
      if (hidden) hiddenRows.push(row);
    },
    cell: ({ row, column, style, value, formula, stored, cellMetadata }) => {
      const area = stored?.area;
      const spill = area && area.rows * area.columns > 1 ? area : undefined;
      if (spill) spills.push(spill);
      const array =
        stored?.kind === "array" && cellMetadata === undefined && formula !== undefined && !callsBank(formula);
      (rows[row] ??= [])[column] = bookCell(value, formula, spill, array, style);
    },
  });
  markSpilled(rows, spills);
  return {
    name: entry.name,
    ...(entry.hidden ? { hidden: true } : {}),
    rows,
    hiddenRows,
    ...readSections(sections),
    tables: readTables(archive, entry.part).map(({ table }) => table),
  };
}

function bookCell(
  value: BookCell["value"],
  formula: string | undefined,
  spill: Area | undefined,
  array: boolean,
  style: number,
): BookCell {
  if (formula === undefined) return style === 0 ? { value } : { value, style };
  return {
    value,
    formula,
    ...(spill ? { spill } : {}),
    ...(array ? { array } : {}),
    ...(style === 0 ? {} : { style }),
  };
}

function markSpilled(rows: (BookCell | undefined)[][], spills: readonly Area[]): void {
  for (const area of spills) {
    for (let r = area.row; r < Math.min(area.row + area.rows, rows.length); r++) {
      const cells = rows[r];
      if (!cells) continue;
      for (let c = area.column; c < Math.min(area.column + area.columns, cells.length); c++) {
        const cell = cells[c];
        if (cell && cell.formula === undefined) cells[c] = { ...cell, spilled: true };
      }
    }
  }
}

const READ_SECTIONS = new Set(["sheetViews", "cols", "mergeCells", "dataValidations", "extLst"]);

export interface SheetSections {
  readonly merged: readonly Area[];
  readonly validations: readonly ListValidation[];
  readonly columnWidths: readonly (number | undefined)[];
  readonly frozenRows?: number;
  readonly frozenColumns?: number;
}

/** What stands around the cells. */
export function readSections(sections: readonly { readonly name: string; readonly xml: string }[]): SheetSections {
  const merged: Area[] = [];
  const validations: ListValidation[] = [];
  const columnWidths: (number | undefined)[] = [];
  const frozen: { frozenRows?: number; frozenColumns?: number } = {};
  for (const { xml } of sections) {
    const scan = new XmlScan(xml);
    while (scan.next()) {
      if (scan.closing) continue;
      if (scan.name === "mergeCell") {
        const area = parseAddress(scan.attribute("ref") ?? "");
        if (area) merged.push(area);
      } else if (scan.name === "col") {
        const width = Number(scan.attribute("width"));
        const last = Math.min(Number(scan.attribute("max")), WIDEST);
        for (let c = Number(scan.attribute("min")) - 1; width > 0 && c < last; c++) columnWidths[c] = width;
      } else if (scan.name === "pane" && /^frozen/.test(scan.attribute("state") ?? "")) {
        const rows = Number(scan.attribute("ySplit") ?? 0);
        const columns = Number(scan.attribute("xSplit") ?? 0);
        if (rows > 0) frozen.frozenRows = rows;
        if (columns > 0) frozen.frozenColumns = columns;
      } else if (scan.name === "dataValidation" && !scan.empty) {
        const validation = readValidation(scan);
        if (validation) validations.push(validation);
      }
    }
  }
  return { merged, validations, columnWidths, ...frozen };
}

/** A width that runs to the last column of the sheet says nothing about columns nobody uses. */
const WIDEST = 1024;

/** Expects the scan on the tag of a validation; undefined unless it is a list. */
export function readValidation(scan: XmlScan): ListValidation | undefined {
  const list = scan.attribute("type") === "list";
  let places = scan.attribute("sqref") ?? "";
  let source = "";
  while (scan.next() && !(scan.closing && scan.name === "dataValidation")) {
    if (scan.closing) continue;
    if (scan.name === "formula1") source = scan.text();
    else if (scan.name === "sqref") places = scan.text();
  }
  const areas = places.split(/\s+/).flatMap((place) => parseAddress(place) ?? []);
  if (!list || areas.length === 0 || source === "") return undefined;
  const literal = /^"((?:[^"]|"")*)"$/.exec(source.trim())?.[1];
  if (literal !== undefined)
    return {
      areas,
      choices: literal
        .replace(/""/g, '"')
        .split(",")
        .map((choice) => choice.trim()),
    };
  return { areas, formula: fromStorage(source.trim()) };
}

export interface TablePart {
  readonly part: string;
  readonly table: BookTable;
  readonly columns: readonly string[];
  readonly hasHeader: boolean;
}

/** The tables of a sheet. */
export function readTables(archive: Archive, sheetPart: string): TablePart[] {
  return relationsOf(archive, sheetPart).flatMap(({ kind, part }) => {
    if (kind !== "table" || part === undefined || !archive.has(part)) return [];
    const scan = new XmlScan(archive.text(part));
    const columns: string[] = [];
    const calculated: (string | undefined)[] = [];
    let name = "";
    let area: Area | undefined;
    let hasHeader = true;
    let totals: true | undefined;
    while (scan.next()) {
      if (scan.closing) continue;
      if (scan.name === "table") {
        name = scan.attribute("displayName") ?? scan.attribute("name") ?? "";
        area = parseAddress(scan.attribute("ref") ?? "");
        hasHeader = scan.attribute("headerRowCount") !== "0";
        if (Number(scan.attribute("totalsRowCount") ?? 0) > 0) totals = true;
      } else if (scan.name === "tableColumn") columns.push(decodeCharacters(scan.attribute("name") ?? ""));
      else if (scan.name === "calculatedColumnFormula" && !scan.empty)
        calculated[columns.length - 1] = fromStorage(scan.text());
    }
    return area
      ? [
          {
            part,
            table: {
              name,
              area,
              ...(totals ? { totals } : {}),
              ...(calculated.length > 0 ? { calculated } : {}),
              ...(hasHeader ? {} : { columns }),
            },
            columns,
            hasHeader,
          },
        ]
      : [];
  });
}

/** The part that keeps Bendbook's settings, if there is one. */
export function settingsPart(archive: Archive): { readonly part: string; readonly text: string } | undefined {
  for (const part of archive.names) {
    if (!/^customXml\/[^/]+\.xml$/i.test(part) || /itemProps/i.test(part)) continue;
    const text = settingsFromXml(archive.text(part));
    if (text !== undefined) return { part, text };
  }
  return undefined;
}
