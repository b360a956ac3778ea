/**
 * Tables of a copy: kept where their header row stands, renamed or moved with it, given up where it is gone.
 */
import { there } from "../../../there";
import { areaAddress } from "../../address";
import { dataArea, isCellError, type Area, type Book, type BookSheet, type BookTable } from "../../book";
import { renameColumn } from "../../columnName";
import { encodeXml } from "../../xmlText";
import { sameArea } from "./cellXml";
import { headerAttribute, newTableXml, TABLE_CONTENT } from "./newPackage";
import {
  addContentType,
  addRelation,
  freePart,
  relationsOf,
  removeRelation,
  withAttributes,
  withoutElements,
} from "../package/packageParts";
import { readTables, type TablePart } from "../read/readXlsx";
import { formulaPieces } from "../package/storageFormula";
import { isNamed } from "./tableHeadings";
import { applyEdits, XmlScan, type TextEdit } from "../package/xmlScan";
import type { Archive } from "../package/zip";

/** Tables whose header row is no longer where the table says would make Excel repair the file; they go, with a note. */
export function patchTables(
  archive: Archive,
  sheetPart: string,
  sheet: BookSheet,
  book: Book,
  notes: Set<string>,
): string[] {
  return readTables(archive, sheetPart).flatMap((found) => {
    const wanted = sheet.tables.find(({ name }) => name === found.table.name) ?? found.table;
    const { area } = wanted;
    const move = () => {
      if (!sameArea(area, found.table.area)) moveTable(archive, found, area);
      if (found.table.totals && !wanted.totals) dropTotals(archive, found);
      return [];
    };
    if (!found.hasHeader) return area.columns === found.columns.length ? move() : [];
    const texts = headerTexts(sheet, area);
    if (texts.length === found.columns.length && texts.every((text, i) => text === found.columns[i])) return move();
    if (canRename(book, found, texts) && holdsTextOnly(sheet, area)) {
      renameColumns(archive, found, texts);
      return move();
    }
    dropTable(archive, sheetPart, found);
    notes.add(
      `The table ${found.table.name} on the sheet "${sheet.name}" was not kept as a table, because its header row no longer matches its columns (${found.columns.join(", ")}). Its cells are all there; make it a table again in your spreadsheet program.`,
    );
    return [found.table.name];
  });
}

function moveTable(archive: Archive, { part, table }: TablePart, area: Area): void {
  const xml = archive.text(part);
  const [from, to] = [areaAddress(table.area), areaAddress(area)];
  const edits: TextEdit[] = [];
  const scan = new XmlScan(xml);
  while (scan.next()) {
    if (scan.closing || (scan.name !== "table" && scan.name !== "autoFilter")) continue;
    const ref = scan.attribute("ref") ?? "";
    // A row of totals stands below the filter's range.
    const moved = ref === from || scan.name === "table" ? to : areaAddress({ ...area, rows: area.rows - 1 });
    edits.push({
      start: scan.start,
      end: scan.end,
      text: withAttributes(xml.slice(scan.start, scan.end), { ref: moved }),
    });
  }
  archive.put(part, applyEdits(xml, edits));
}

/** The row of totals was taken out of the table. */
function dropTotals(archive: Archive, { part }: TablePart): void {
  const xml = withoutElements(archive.text(part), "totalsRowFormula", () => true);
  const area = new XmlScan(xml);
  while (area.next() && area.name !== "table");
  const edits: TextEdit[] = [];
  const scan = new XmlScan(xml);
  while (scan.next()) {
    if (scan.closing) continue;
    const tag = xml.slice(scan.start, scan.end);
    const changes =
      scan.name === "table"
        ? { totalsRowCount: undefined, totalsRowShown: "0" }
        : scan.name === "autoFilter"
          ? { ref: area.attribute("ref") }
          : scan.name === "tableColumn"
            ? { totalsRowFunction: undefined, totalsRowLabel: undefined }
            : undefined;
    if (changes) edits.push({ start: scan.start, end: scan.end, text: withAttributes(tag, changes) });
  }
  archive.put(part, applyEdits(xml, edits));
}

/** Headers that were typed over: most are still the table's, and no formula names those that went. */
function canRename(book: Book, { columns }: TablePart, texts: readonly string[]): boolean {
  if (texts.length !== columns.length || !areHeaders(texts)) return false;
  const gone = columns.filter((column, i) => column !== texts[i]);
  if (gone.length * 2 > columns.length || gone.some((column) => texts.includes(column))) return false;
  return !gone.some((column) => isNamed(book, column));
}

function renameColumns(archive: Archive, { part, columns }: TablePart, texts: readonly string[]): void {
  const xml = archive.text(part);
  const edits: TextEdit[] = [];
  const scan = new XmlScan(xml);
  let column = -1;
  while (scan.next()) {
    if (scan.closing) continue;
    const { start, end } = scan;
    if (scan.name === "tableColumn") {
      column++;
      const text = texts[column];
      if (text !== undefined && text !== columns[column])
        edits.push({
          start,
          end,
          text: withAttributes(xml.slice(start, end), { name: headerAttribute(text) }),
        });
    } else if (scan.name === "calculatedColumnFormula") {
      // It may name an old header, in which case it would fill new rows with #REF!.
      const body = scan.end;
      const stored = scan.text();
      const close = scan.start;
      edits.push({ start: body, end: close, text: encodeXml(withNewNames(stored, columns, texts)) });
    }
  }
  archive.put(part, applyEdits(xml, edits));
}

/** A formula that names columns, with those that were typed over named anew. */
function withNewNames(formula: string, before: readonly string[], now: readonly string[]): string {
  return before.reduce((text, column, i) => {
    const renamed = now[i];
    if (renamed === undefined || renamed === column) return text;
    return formulaPieces(text)
      .map((piece) => (piece.startsWith("[") ? renameColumn(piece, column, renamed) : piece))
      .join("");
  }, formula);
}

function dropTable(archive: Archive, sheetPart: string, { part }: TablePart): void {
  const relation = relationsOf(archive, sheetPart).find((one) => one.part === part);
  const { id } = there(relation, `the relation to the table in ${part}`);
  const xml = withoutElements(archive.text(sheetPart), "tablePart", (scan) =>
    [...scan.attributes()].some(([name, value]) => name.endsWith(":id") && value === id),
  );
  archive.put(
    sheetPart,
    withoutElements(xml, "tableParts", (scan) => scan.empty || /^\s*<\//.test(xml.slice(scan.end, scan.end + 40))),
  );
  removeRelation(archive, sheetPart, part);
}

/**
 * Makes a table part and relates it to its sheet. Returns the relation's id, or nothing, with a note, where it cannot
 * be a table.
 */
export function addTable(
  archive: Archive,
  sheetPart: string,
  sheet: BookSheet,
  table: BookTable,
  notes: Set<string>,
): string[] {
  const { name, area } = table;
  const columns = table.columns ?? headerTexts(sheet, area);
  if (!areHeaders(columns) || (!table.columns && !holdsTextOnly(sheet, area)) || dataArea(table).rows < 1) {
    notes.add(
      `The table ${name} on the sheet "${sheet.name}" was not kept as a table: each of its columns (${areaAddress(area)}) needs a header of its own, which is text, and a row below it. Its cells are all there.`,
    );
    return [];
  }
  const part = freePart(archive, "xl/tables/table#.xml");
  const ids = archive.names
    .filter((other) => /^xl\/tables\//i.test(other))
    .map((other) => Number(/\sid="(\d+)"/.exec(archive.text(other))?.[1] ?? 0));
  archive.put(
    part,
    newTableXml(
      Math.max(0, ...ids) + 1,
      table,
      columns,
      table.totals ? sheet.rows[area.row + area.rows - 1]?.slice(area.column, area.column + area.columns) : undefined,
    ),
  );
  addContentType(archive, part, TABLE_CONTENT);
  return [addRelation(archive, sheetPart, "table", part)];
}

function headerTexts(sheet: BookSheet, area: Area): string[] {
  return Array.from({ length: area.columns }, (_, i) => {
    const value = sheet.rows[area.row]?.[area.column + i]?.value ?? "";
    return isCellError(value) ? value.error : String(value);
  });
}

/** Whether the headers are typed text, as Excel wants them; a number or a formula there makes it repair the file. */
function holdsTextOnly(sheet: BookSheet, area: Area): boolean {
  return Array.from({ length: area.columns }, (_, i) => sheet.rows[area.row]?.[area.column + i]).every(
    (cell) => typeof cell?.value === "string" && cell.formula === undefined,
  );
}

/** Whether every column has a header and no two have the same. */
function areHeaders(texts: readonly string[]): boolean {
  return !texts.includes("") && new Set(texts.map((text) => text.toLowerCase())).size === texts.length;
}
