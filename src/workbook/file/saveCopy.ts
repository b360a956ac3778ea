/**
 * Writes a copy of a workbook in the form Excel itself uses: the original package with only what changed rewritten, so
 * that charts, comments, conditional formats and all else the Book does not know survive. Nothing is overwritten here;
 * the copy is returned as bytes. May import: the other files of this folder, book.ts, settingsXml.ts.
 */
import { areaAddress } from "../address";
import { isCellError, type Area, type Book, type BookCell, type BookSheet, type CellStyle } from "../book";
import { settingsToXml, SETTINGS_NAMESPACE } from "../settingsXml";
import { encodeXml } from "../xmlText";
import { sameArea, sameValue, type CellSink } from "./cellXml";
import { dynamicMark } from "./dynamicMark";
import { EMPTY_STRINGS, EMPTY_STYLES, emptyPackage, headerAttribute, newSheetXml, newTableXml, SHEET_CONTENT, STRINGS_CONTENT, STYLES_CONTENT, TABLE_CONTENT } from "./newPackage";
import { addContentType, addRelation, appended, freePart, reachableParts, relationsOf, removePart, removeRelation, withAttributes, withoutElements, XML_HEAD } from "./packageParts";
import { openPackage, readTables, readWorkbook, settingsPart, type SheetEntry, type TablePart } from "./readXlsx";
import { patchedSheet } from "./sheetPatch";
import { scanSheet, type CellContext } from "./sheetScan";
import { formulaPieces, withSheetRenamed } from "./storageFormula";
import { showsDate, withStylesAdded } from "./styleSheet";
import { withFullCalculation, withNames, withSheets, type ListedSheet } from "./workbookPatch";
import { applyEdits, XmlScan, type Edit } from "./xmlScan";
import { Archive } from "./zip";

/** A copy of a workbook, and what a person must know about it. */
export interface SavedCopy {
  readonly bytes: Uint8Array;
  readonly notes: string[];
}

/** Longest text a cell may hold in a spreadsheet. */
const LONGEST_TEXT = 32_767;
/** Longest text that the choices of a drop-down list may make. */
const LONGEST_LIST = 255;

/**
 * The workbook `book` as .xlsx. `original` is the file the Book was read from, or null for a new workbook. For a Book
 * that was read, `BookCell.style` below the number of the original's looks means that look; later entries of
 * `Book.styles` are added. Throws FileProblem when `original` cannot be read.
 *
 * @example
 * const { bytes, notes } = await saveCopy(original, port.book);
 */
export async function saveCopy(original: Uint8Array | null, book: Book): Promise<SavedCopy> {
  const writer = new CopyWriter(original === null ? emptyPackage() : openPackage(original), original === null, book);
  return writer.write();
}

class CopyWriter implements CellSink {
  private readonly notes = new Set<string>();
  private readonly part: string;
  private readonly entries: readonly SheetEntry[];
  private readonly context: CellContext;
  private readonly firstNewStyle: number;
  private readonly newStyleNumbers: number[] = [];
  private readonly strings: StringTable;
  private mark: number | undefined;
  private cellsChanged = false;
  private formulasChanged = false;

  constructor(
    private readonly archive: Archive,
    fresh: boolean,
    private readonly book: Book,
  ) {
    const workbook = fresh ? undefined : readWorkbook(archive);
    this.part = workbook?.part ?? "xl/workbook.xml";
    this.entries = workbook?.sheets ?? [];
    this.firstNewStyle = workbook?.styles.length ?? 0;
    this.context = workbook?.context ?? { sharedStrings: [], isDate: [], dateShift: 0 };
    this.strings = new StringTable(this.archive, this.part);
    this.addStyles(book.styles.slice(this.firstNewStyle), fresh);
  }

  write(): SavedCopy {
    const before = reachableParts(this.archive);
    const pairs = pairedSheets(this.archive, this.entries, this.context, this.book.sheets);
    for (const [i, entry] of pairs.entries()) {
      if (entry && entry.name !== this.book.sheets[i].name) this.renameEverywhere(entry.name, this.book.sheets[i].name);
    }
    for (const entry of this.entries) if (!pairs.includes(entry)) this.removeSheet(entry);
    const droppedTables = pairs.flatMap((entry, i) => (entry ? this.checkTables(entry, this.book.sheets[i]) : []));
    const listed: ListedSheet[] = this.book.sheets.map((sheet, i) => {
      const plain = withoutDroppedTables(withinLimits(sheet, this.notes), droppedTables, this.notes);
      const entry = pairs[i];
      const relation = entry ? this.patchSheet(entry, plain) : this.addSheet(plain);
      return { name: sheet.name, hidden: sheet.hidden === true, relation };
    });
    this.editWorkbook(listed);
    this.saveSettings();
    this.strings.store();
    const after = reachableParts(this.archive);
    for (const part of before) if (!after.has(part)) removePart(this.archive, part);
    if (this.archive.names.some((name) => /vbaProject\.bin$/i.test(name))) this.notes.add("The workbook has macros; give the copy a name that ends in .xlsm.");
    return { bytes: this.archive.toBytes(), notes: [...this.notes] };
  }

  string(text: string): number {
    return this.strings.index(text);
  }

  style(style: number | undefined): number {
    if (style === undefined) return 0;
    return style < this.firstNewStyle ? style : (this.newStyleNumbers[style - this.firstNewStyle] ?? 0);
  }

  dynamicMark(): number {
    return (this.mark ??= dynamicMark(this.archive, this.part));
  }

  number(value: number, style: number | undefined): number {
    if (this.context.dateShift === 0 || style === undefined || !showsDate(this.book.styles[style]?.format)) return value;
    return value - this.context.dateShift;
  }

  private addStyles(styles: readonly CellStyle[], fresh: boolean): void {
    if (styles.length === 0) return;
    let part = relationsOf(this.archive, this.part).find(({ kind }) => kind === "styles")?.part;
    if (part === undefined || !this.archive.has(part)) {
      part = freePart(this.archive, "xl/styles#.xml");
      this.archive.put(part, EMPTY_STYLES);
      addRelation(this.archive, this.part, "styles", part);
      addContentType(this.archive, part, STYLES_CONTENT);
    }
    const isPlain = (style: CellStyle) => fresh && Object.keys(style).length === 0;
    const added = withStylesAdded(this.archive.text(part), styles.filter((style) => !isPlain(style)));
    this.archive.put(part, added.xml);
    let next = added.first;
    for (const style of styles) this.newStyleNumbers.push(isPlain(style) ? 0 : next++);
  }

  private patchSheet(entry: SheetEntry, sheet: BookSheet): string {
    const xml = this.archive.text(entry.part);
    const patch = patchedSheet(xml, sheet, this.context, this);
    if (patch.xml !== xml) this.archive.put(entry.part, patch.xml);
    this.cellsChanged ||= patch.cellsChanged;
    this.formulasChanged ||= patch.formulasChanged;
    return relationsOf(this.archive, this.part).find((relation) => relation.part === entry.part)!.id;
  }

  private addSheet(sheet: BookSheet): string {
    const part = freePart(this.archive, "xl/worksheets/sheet#.xml");
    this.archive.put(part, "");
    const tableIds = sheet.tables.flatMap(({ name, area }) => this.addTable(part, sheet, name, area));
    this.archive.put(part, newSheetXml(sheet, this, tableIds));
    addContentType(this.archive, part, SHEET_CONTENT);
    this.cellsChanged = true;
    this.formulasChanged ||= sheet.rows.some((row) => row?.some((cell) => cell?.formula !== undefined));
    return addRelation(this.archive, this.part, "worksheet", part);
  }

  private addTable(sheetPart: string, sheet: BookSheet, name: string, area: Area): string[] {
    const columns = headerTexts(sheet, area);
    if (!areHeaders(columns) || area.rows < 2) {
      this.notes.add(`The table ${name} on the sheet "${sheet.name}" was not kept as a table: each of its columns (${areaAddress(area)}) needs a header of its own and a row below it. Its cells are all there.`);
      return [];
    }
    const part = freePart(this.archive, "xl/tables/table#.xml");
    const ids = this.archive.names.filter((other) => /^xl\/tables\//i.test(other)).map((other) => Number(/\sid="(\d+)"/.exec(this.archive.text(other))?.[1] ?? 0));
    this.archive.put(part, newTableXml(Math.max(0, ...ids) + 1, name, area, columns));
    addContentType(this.archive, part, TABLE_CONTENT);
    return [addRelation(this.archive, sheetPart, "table", part)];
  }

  private removeSheet(entry: SheetEntry): void {
    removeRelation(this.archive, this.part, entry.part);
    this.formulasChanged = this.cellsChanged = true;
  }

  /** Tables whose header row is no longer where the table says would make Excel repair the file; they go, with a note. */
  private checkTables(entry: SheetEntry, sheet: BookSheet): string[] {
    return readTables(this.archive, entry.part).flatMap((found) => {
      const area = sheet.tables.find(({ name }) => name === found.table.name)?.area ?? found.table.area;
      if (!found.hasHeader) return [];
      const texts = headerTexts(sheet, area);
      if (texts.length === found.columns.length && texts.every((text, i) => text === found.columns[i])) {
        if (!sameArea(area, found.table.area)) this.moveTable(found, area);
        return [];
      }
      if (this.canRename(found, texts)) {
        this.renameColumns(found, texts);
        if (!sameArea(area, found.table.area)) this.moveTable(found, area);
        return [];
      }
      this.dropTable(entry.part, found);
      this.notes.add(
        `The table ${found.table.name} on the sheet "${sheet.name}" was not kept as a table, because its header row no longer matches its columns (${found.columns.join(", ")}). Its cells are all there; make it a table again in your spreadsheet program.`,
      );
      return [found.table.name];
    });
  }

  private moveTable({ part, table }: TablePart, area: Area): void {
    const xml = this.archive.text(part);
    const [from, to] = [areaAddress(table.area), areaAddress(area)];
    const edits: Edit[] = [];
    const scan = new XmlScan(xml);
    while (scan.next()) {
      if (scan.closing || (scan.name !== "table" && scan.name !== "autoFilter")) continue;
      const ref = scan.attribute("ref") ?? "";
      // A totals row stands below the filter's range.
      const moved = ref === from || scan.name === "table" ? to : areaAddress({ ...area, rows: area.rows - 1 });
      edits.push({ start: scan.start, end: scan.end, text: withAttributes(xml.slice(scan.start, scan.end), { ref: moved }) });
    }
    this.archive.put(part, applyEdits(xml, edits));
  }

  /** Headers that were typed over: most are still the table's, and no formula names those that went. */
  private canRename({ columns }: TablePart, texts: readonly string[]): boolean {
    if (texts.length !== columns.length || !areHeaders(texts)) return false;
    const gone = columns.filter((column, i) => column !== texts[i]);
    if (gone.length * 2 > columns.length || gone.some((column) => texts.includes(column))) return false;
    const marks = gone.flatMap((column) => [`[${columnInBrackets(column)}]`, `[@${columnInBrackets(column)}]`]);
    const named = (formula: string) => marks.some((mark) => formula.toLowerCase().includes(mark));
    return !this.book.sheets.some((sheet) => sheet.rows.some((row) => row?.some((cell) => cell?.formula !== undefined && named(cell.formula))));
  }

  private renameColumns({ part, columns }: TablePart, texts: readonly string[]): void {
    const xml = this.archive.text(part);
    const edits: Edit[] = [];
    const scan = new XmlScan(xml);
    let column = -1;
    while (scan.next()) {
      if (scan.closing) continue;
      const { start, end } = scan;
      if (scan.name === "tableColumn") {
        column++;
        if (texts[column] !== columns[column]) edits.push({ start, end, text: withAttributes(xml.slice(start, end), { name: headerAttribute(texts[column]) }) });
      } else if (scan.name === "calculatedColumnFormula") {
        // It may name the old header; Excel needs it only to fill new rows.
        scan.skip();
        edits.push({ start, end: scan.end, text: "" });
      }
    }
    this.archive.put(part, applyEdits(xml, edits));
  }

  private dropTable(sheetPart: string, { part }: TablePart): void {
    const id = relationsOf(this.archive, sheetPart).find((relation) => relation.part === part)!.id;
    const xml = withoutElements(this.archive.text(sheetPart), "tablePart", (scan) => [...scan.attributes()].some(([name, value]) => name.endsWith(":id") && value === id));
    this.archive.put(sheetPart, withoutElements(xml, "tableParts", (scan) => scan.empty || /^\s*<\//.test(xml.slice(scan.end, scan.end + 40))));
    removeRelation(this.archive, sheetPart, part);
  }

  /** Formulas outside the cells that the Book knows, in charts, rules and names, follow a sheet's new name. */
  private renameEverywhere(from: string, to: string): void {
    for (const part of reachableParts(this.archive)) {
      if (!/\.xml$/i.test(part)) continue;
      const xml = this.archive.text(part);
      if (!xml.includes(encodeXml(from)) && !xml.includes(encodeXml(from.replace(/'/g, "''")))) continue;
      const edits: Edit[] = [];
      const scan = new XmlScan(xml);
      while (scan.next()) {
        if (scan.closing || scan.empty || !FORMULA_ELEMENTS.has(scan.name)) continue;
        const start = scan.end;
        const text = scan.text();
        const renamed = withSheetRenamed(text, from, to);
        if (renamed !== text) edits.push({ start, end: scan.start, text: encodeXml(renamed) });
      }
      if (edits.length > 0) this.archive.put(part, applyEdits(xml, edits));
    }
  }

  private editWorkbook(listed: readonly ListedSheet[]): void {
    const old = this.archive.text(this.part);
    const relations = relationsOf(this.archive, this.part);
    const others = new Set(relations.filter(({ kind }) => kind === "chartsheet" || kind === "dialogsheet" || kind === "xlMacrosheet").map(({ id }) => id));
    let xml = withNames(withSheets(old, listed, (id) => !others.has(id)), this.book.names);
    if (this.cellsChanged) xml = withFullCalculation(xml);
    if (xml !== old) this.archive.put(this.part, xml);
    if (!this.formulasChanged) return;
    for (const { kind, part } of relations) if (kind === "calcChain" && part !== undefined) removeRelation(this.archive, this.part, part);
  }

  private saveSettings(): void {
    const { settings } = this.book;
    const present = settingsPart(this.archive);
    if (settings === undefined || settings === present?.text) return;
    const xml = XML_HEAD + settingsToXml(settings);
    if (present) {
      this.archive.put(present.part, xml);
      return;
    }
    const part = freePart(this.archive, "customXml/item#.xml");
    const properties = part.replace(/item(\d+)\.xml$/, "itemProps$1.xml");
    this.archive.put(part, xml);
    this.archive.put(
      properties,
      `${XML_HEAD}<ds:datastoreItem xmlns:ds="http://schemas.openxmlformats.org/officeDocument/2006/customXml" ds:itemID="{5B0D3C1E-7A42-4E0B-9C55-2F6B8E1D4A90}">` +
        `<ds:schemaRefs><ds:schemaRef ds:uri="${SETTINGS_NAMESPACE}"/></ds:schemaRefs></ds:datastoreItem>`,
    );
    if (!/Extension\s*=\s*["']xml["']/i.test(this.archive.text("[Content_Types].xml"))) addContentType(this.archive, part, "application/xml");
    addContentType(this.archive, properties, "application/vnd.openxmlformats-officedocument.customXmlProperties+xml");
    addRelation(this.archive, part, "customXmlProps", properties);
    addRelation(this.archive, this.part, "customXml", part);
  }
}

const FORMULA_ELEMENTS: ReadonlySet<string> = new Set(["f", "formula", "formula1", "formula2", "definedName", "calculatedColumnFormula"]);

/** The shared strings: what the original has stays, new texts come at the end. */
class StringTable {
  private readonly known = new Map<string, number>();
  private readonly added: string[] = [];
  private readonly part: string | undefined;
  private readonly xml: string;
  private count = 0;

  constructor(
    private readonly archive: Archive,
    private readonly workbook: string,
  ) {
    this.part = relationsOf(archive, workbook).find(({ kind, part }) => kind === "sharedStrings" && part !== undefined && archive.has(part))?.part;
    this.xml = this.part === undefined ? EMPTY_STRINGS : archive.text(this.part);
    const scan = new XmlScan(this.xml);
    while (scan.next()) if (scan.name === "si" && (!scan.closing || scan.empty)) this.count++;
  }

  index(text: string): number {
    let index = this.known.get(text);
    if (index === undefined) {
      index = this.count + this.added.push(text) - 1;
      this.known.set(text, index);
    }
    return index;
  }

  store(): void {
    if (this.added.length === 0) return;
    const part = this.part ?? freePart(this.archive, "xl/sharedStrings#.xml").replace("sharedStrings1.xml", this.archive.has("xl/sharedStrings.xml") ? "sharedStrings1.xml" : "sharedStrings.xml");
    const xml = appended(this.xml, "sst", (p) => this.added.map((text) => `<${p}si><${p}t xml:space="preserve">${encodeXml(text)}</${p}t></${p}si>`).join(""));
    const root = new XmlScan(xml);
    root.next();
    const tag = withAttributes(xml.slice(root.start, root.end), { count: undefined, uniqueCount: undefined });
    this.archive.put(part, xml.slice(0, root.start) + tag + xml.slice(root.end));
    if (this.part !== undefined) return;
    addRelation(this.archive, this.workbook, "sharedStrings", part);
    addContentType(this.archive, part, STRINGS_CONTENT);
  }
}

/** For each sheet of the Book the sheet of the file it comes from: the one of its name, else one that holds the same cells. */
function pairedSheets(archive: Archive, entries: readonly SheetEntry[], context: CellContext, sheets: readonly BookSheet[]): (SheetEntry | undefined)[] {
  const pairs = sheets.map((sheet) => entries.find(({ name }) => name === sheet.name));
  const free = entries.filter((entry) => !pairs.includes(entry));
  sheets.forEach((sheet, i) => {
    if (pairs[i] || free.length === 0) return;
    const likeness = free.map((entry) => shareAlike(archive.text(entry.part), context, sheet));
    const best = likeness.indexOf(Math.max(...likeness));
    if (likeness[best] >= 0.5) pairs[i] = free.splice(best, 1)[0];
  });
  return pairs;
}

/** Share of the first cells with something in them that stand unchanged in the other sheet; 1 when both are empty. */
function shareAlike(xml: string, context: CellContext, sheet: BookSheet): number {
  let seen = 0;
  let same = 0;
  const scan = scanSheet(xml, context, {
    cell: ({ row, column, value, formula }) => {
      if (value === null && formula === undefined) return;
      seen++;
      if (sameValue(sheet.rows[row]?.[column]?.value ?? null, value)) same++;
    },
  });
  scan.next();
  if (seen === 0) return sheet.rows.some((row) => row?.some((cell) => cell && cell.value !== null)) ? 0 : 1;
  return same / seen;
}

function headerTexts(sheet: BookSheet, area: Area): string[] {
  return Array.from({ length: area.columns }, (_, i) => {
    const value = sheet.rows[area.row]?.[area.column + i]?.value ?? "";
    return isCellError(value) ? value.error : String(value);
  });
}

/** A column's name as structured references hold it, in lower case. */
function columnInBrackets(column: string): string {
  return column.replace(/[[\]#'@]/g, "'$&").toLowerCase();
}

/** Whether every column has a header and no two have the same. */
function areHeaders(texts: readonly string[]): boolean {
  return !texts.includes("") && new Set(texts.map((text) => text.toLowerCase())).size === texts.length;
}

/** Formulas that name a table that is no longer one become their values, since Excel could not read them. */
function withoutDroppedTables(sheet: BookSheet, dropped: readonly string[], notes: Set<string>): BookSheet {
  if (dropped.length === 0) return sheet;
  const names = new Set(dropped.map((name) => name.toLowerCase()));
  return withCells(sheet, (cell) => {
    if (cell.formula === undefined || !formulaPieces(cell.formula).some((piece) => names.has(piece.toLowerCase()))) return cell;
    notes.add(`Formulas on the sheet "${sheet.name}" that name the table ${dropped.join(", ")} were kept as their values.`);
    const { value, style } = cell;
    return { value, style };
  });
}

/** The sheet without what Excel would repair the file for: texts and drop-down lists that are too long. */
function withinLimits(sheet: BookSheet, notes: Set<string>): BookSheet {
  const validations = sheet.validations.filter(({ areas, choices }) => {
    const fits = !choices || (choices.join(",").length <= LONGEST_LIST && choices.every((choice) => !choice.includes(",")));
    if (!fits) notes.add(`The drop-down list on ${areas.map(areaAddress).join(" ")} of the sheet "${sheet.name}" was not kept: its choices may hold no commas and ${LONGEST_LIST} characters in all. Put them in cells and let the list name those.`);
    return fits;
  });
  const listed = validations.length === sheet.validations.length ? sheet : { ...sheet, validations };
  return withCells(listed, (cell, row) => {
    if (typeof cell.value !== "string" || cell.value.length <= LONGEST_TEXT) return cell;
    notes.add(`A text in row ${row + 1} of the sheet "${sheet.name}" is longer than the ${LONGEST_TEXT} characters a cell can hold; the copy has its beginning.`);
    return { ...cell, value: cell.value.slice(0, LONGEST_TEXT).replace(/[\ud800-\udbff]$/, "") };
  });
}

/** The sheet with cells exchanged; rows without a change stay the same objects. */
function withCells(sheet: BookSheet, change: (cell: BookCell, row: number) => BookCell): BookSheet {
  let touched = false;
  const rows = sheet.rows.map((cells, r) => {
    let copy: (BookCell | undefined)[] | undefined;
    cells?.forEach((cell, c) => {
      const changed = cell && change(cell, r);
      if (changed === cell) return;
      (copy ??= [...cells])[c] = changed;
      touched = true;
    });
    return copy ?? cells;
  });
  return touched ? { ...sheet, rows } : sheet;
}
