/**
 * Writes a copy of a workbook in the form Excel itself uses: the original package with only what changed rewritten, so
 * that charts, comments, conditional formats and all else the Book does not know survive. Nothing is overwritten here;
 * the copy is returned as bytes.
 */
import { there } from "../../../there";
import { cellAddress, quoteSheetName } from "../../address";
import type { Book, BookSheet, CellStyle } from "../../book";
import { settingsToXml, SETTINGS_NAMESPACE } from "../../settingsXml";
import { encodeXml } from "../../xmlText";
import type { CellSink } from "./cellXml";
import { dynamicMark } from "./dynamicMark";
import { withinLimits, withListsInCells, withoutDroppedTables } from "./limits";
import { EMPTY_STYLES, emptyPackage, newSheetXml, SHEET_CONTENT, STYLES_CONTENT } from "./newPackage";
import { openPackage } from "../package/openPackage";
import {
  addContentType,
  addRelation,
  freePart,
  reachableParts,
  relationsOf,
  removePart,
  removeRelation,
  XML_HEAD,
} from "../package/packageParts";
import { readSections, readWorkbook, settingsPart, type SheetEntry } from "../read/readXlsx";
import { StringTable } from "./sharedStrings";
import { addDrawing } from "./drawing";
import { printNames } from "./printSetup";
import { pairedSheets } from "./sheetPairs";
import { patchedSheet } from "./sheetPatch";
import { scanSheet, type CellContext } from "../read/sheetScan";
import { validationKey } from "./sheetSections";
import { withSheetRenamed } from "../package/storageFormula";
import { showsDate, withStylesAdded } from "../package/styleSheet";
import { withTableHeadings } from "./tableHeadings";
import { addTable, patchTables } from "./tablePatch";
import { withFullCalculation, withNames, withSheets, type ListedSheet } from "./workbookPatch";
import { applyEdits, XmlScan, type TextEdit } from "../package/xmlScan";
import type { Archive } from "../package/zip";

/** A copy of a workbook, and what a person must know about it. */
export interface SavedCopy {
  readonly bytes: Uint8Array;
  readonly notes: string[];
}

/**
 * The workbook `book` as .xlsx. `original` is the file the Book was read from, or null for a new workbook. For a Book
 * that was read, `BookCell.style` below the number of the original's looks means that look; later entries of
 * `Book.styles` are added. Throws FileProblem when `original` cannot be read.
 *
 * `computed` says that every formula holds what it gives now, but for those in `Book.kept`. Without it a copy with
 * changed cells asks to be computed anew when it is opened: an add-in's functions may be asked then before the add-in
 * is there, and show #VALUE!.
 *
 * @example
 * const { bytes, notes } = await saveCopy(original, port.book);
 */
export async function saveCopy(
  original: Uint8Array | null,
  book: Book,
  { computed = false }: { readonly computed?: boolean } = {},
): Promise<SavedCopy> {
  const archive = original === null ? emptyPackage(book.title) : openPackage(original);
  const writer = new CopyWriter(archive, original === null, book, computed);
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
  private readonly printNames: Book["names"][number][] = [];
  private cellsChanged = false;
  private formulasChanged = false;

  constructor(
    private readonly archive: Archive,
    fresh: boolean,
    private readonly book: Book,
    private readonly computed: boolean,
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
    for (const [i, { name }] of this.book.sheets.entries()) {
      const entry = pairs[i];
      if (entry && entry.name !== name) this.renameEverywhere(entry.name, name);
    }
    for (const entry of this.entries) if (!pairs.includes(entry)) this.removeSheet(entry);
    const headed = this.book.sheets.map((sheet, i) => {
      const entry = pairs[i];
      return entry ? withTableHeadings(this.archive, entry.part, sheet, this.book, this.notes) : sheet;
    });
    const droppedTables = headed.flatMap((sheet, i) => {
      const entry = pairs[i];
      return entry ? patchTables(this.archive, entry.part, sheet, this.book, this.notes) : [];
    });
    const { sheets, lists } = withListsInCells(headed, (i) => this.storedLists(pairs[i]));
    const listed: ListedSheet[] = [...sheets, ...lists].map((sheet, i) => {
      const plain = withoutDroppedTables(withinLimits(sheet, this.notes), droppedTables, this.notes);
      const entry = pairs[i];
      const relation = entry ? this.patchSheet(entry, plain) : this.addSheet(plain);
      return { name: sheet.name, hidden: sheet.hidden === true, relation };
    });
    this.editWorkbook(listed);
    this.saveSettings();
    this.noteKept();
    this.strings.store();
    const after = reachableParts(this.archive);
    for (const part of before) if (!after.has(part)) removePart(this.archive, part);
    if (this.archive.names.some((name) => /vbaProject\.bin$/i.test(name)))
      this.notes.add("The workbook has macros; give the copy a name that ends in .xlsm.");
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
    if (this.context.dateShift === 0 || style === undefined || !showsDate(this.book.styles[style]?.format))
      return value;
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
    const added = withStylesAdded(
      this.archive.text(part),
      styles.filter((style) => !isPlain(style)),
    );
    this.archive.put(part, added.xml);
    let next = added.first;
    for (const style of styles) this.newStyleNumbers.push(isPlain(style) ? 0 : next++);
  }

  /** Keys of the drop-down lists that the file has on a sheet. */
  private storedLists(entry: SheetEntry | undefined): ReadonlySet<string> {
    if (!entry) return new Set();
    const sections: { name: string; xml: string }[] = [];
    const xml = this.archive.text(entry.part);
    for (const position of scanSheet(xml, this.context, {
      cell: () => {},
      section: (name, start, end) => void sections.push({ name, xml: xml.slice(start, end) }),
    }))
      void position;
    return new Set(readSections(sections).validations.map(validationKey));
  }

  private patchSheet(entry: SheetEntry, sheet: BookSheet): string {
    const xml = this.archive.text(entry.part);
    const patch = patchedSheet(xml, sheet, this.context, this);
    if (patch.xml !== xml) this.archive.put(entry.part, patch.xml);
    this.cellsChanged ||= patch.cellsChanged;
    this.formulasChanged ||= patch.formulasChanged;
    const relation = relationsOf(this.archive, this.part).find(({ part }) => part === entry.part);
    return there(relation, `the relation to the sheet ${entry.name}`).id;
  }

  private addSheet(sheet: BookSheet): string {
    const part = freePart(this.archive, "xl/worksheets/sheet#.xml");
    this.archive.put(part, "");
    const tableIds = sheet.tables.flatMap((table) => addTable(this.archive, part, sheet, table, this.notes));
    const drawing = addDrawing(this.archive, part, sheet);
    this.archive.put(part, newSheetXml(sheet, this, this.book.styles, tableIds, drawing));
    this.printNames.push(...printNames(sheet));
    addContentType(this.archive, part, SHEET_CONTENT);
    this.cellsChanged = true;
    this.formulasChanged ||= sheet.rows.some((row) => row?.some((cell) => cell?.formula !== undefined));
    return addRelation(this.archive, this.part, "worksheet", part);
  }

  private removeSheet(entry: SheetEntry): void {
    removeRelation(this.archive, this.part, entry.part);
    this.formulasChanged = this.cellsChanged = true;
  }

  /** Formulas outside the cells that the Book knows, in charts, rules and names, follow a sheet's new name. */
  private renameEverywhere(from: string, to: string): void {
    for (const part of reachableParts(this.archive)) {
      if (!/\.xml$/i.test(part)) continue;
      const xml = this.archive.text(part);
      if (!xml.includes(encodeXml(from)) && !xml.includes(encodeXml(from.replace(/'/g, "''")))) continue;
      const edits: TextEdit[] = [];
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
    const others = new Set(
      relations
        .filter(({ kind }) => kind === "chartsheet" || kind === "dialogsheet" || kind === "xlMacrosheet")
        .map(({ id }) => id),
    );
    let xml = withNames(
      withSheets(old, listed, (id) => !others.has(id)),
      [...this.book.names, ...this.printNames],
    );
    if (this.cellsChanged && this.hasStaleValues()) xml = withFullCalculation(xml);
    if (xml !== old) this.archive.put(this.part, xml);
    if (!this.formulasChanged) return;
    for (const { kind, part } of relations)
      if (kind === "calcChain" && part !== undefined) removeRelation(this.archive, this.part, part);
  }

  /** Whether a formula may hold another value than it gives. */
  private hasStaleValues(): boolean {
    const { kept = [], sheets } = this.book;
    if (this.computed) return kept.length > 0;
    return sheets.some(({ rows }) => rows.some((row) => row?.some((cell) => cell?.formula !== undefined)));
  }

  /** Values that were kept stand only until the copy is opened where they are computed. */
  private noteKept(): void {
    const { kept = [] } = this.book;
    if (kept.length === 0) return;
    const some = kept
      .slice(0, KEPT_NAMED)
      .map(({ sheet, row, column, why }) => `${quoteSheetName(sheet)}!${cellAddress(row, column)} (${why})`);
    const more = kept.length > some.length ? `, and ${kept.length - some.length} more` : "";
    this.notes.add(
      `${kept.length === 1 ? "1 formula is" : `${kept.length} formulas are`} not computed here and kept the values stored in the file: ${some.join(", ")}${more}. Your spreadsheet program computes them when it opens the copy.`,
    );
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
    if (!/Extension\s*=\s*["']xml["']/i.test(this.archive.text("[Content_Types].xml")))
      addContentType(this.archive, part, "application/xml");
    addContentType(this.archive, properties, "application/vnd.openxmlformats-officedocument.customXmlProperties+xml");
    addRelation(this.archive, part, "customXmlProps", properties);
    addRelation(this.archive, this.part, "customXml", part);
  }
}

/** So many kept formulas are named in a note. */
const KEPT_NAMED = 3;

const FORMULA_ELEMENTS: ReadonlySet<string> = new Set([
  "f",
  "formula",
  "formula1",
  "formula2",
  "definedName",
  "calculatedColumnFormula",
]);
