/**
 * Rewrites of one sheet's XML only what differs from the Book's sheet; everything else stays as it was.
 */
import type { Area, BookCell, BookSheet } from "../../book";
import { cellXml, cellXmlWithFormula, isNothing, sameArea, sameValue, type CellSink } from "./cellXml";
import { withAttributes, withoutElements } from "../package/packageParts";
import { readSections, readValidation, type SheetSections } from "../read/readXlsx";
import { scanSheet, type CellContext, type StoredCell, type StoredFormula, type StoredRow } from "../read/sheetScan";
import {
  mergeCellsXml,
  paneXml,
  rowXml,
  SECTION_ORDER,
  SEEN_WIDTH,
  validationKey,
  validationXml,
  withWidths,
} from "./sheetSections";
import { callsBank } from "../package/storageFormula";
import { applyEdits, XmlScan, type TextEdit } from "../package/xmlScan";

export interface SheetPatch {
  readonly xml: string;
  readonly cellsChanged: boolean;
  readonly formulasChanged: boolean;
}

/** The sheet's XML with the Book's cells in it. */
export function patchedSheet(xml: string, sheet: BookSheet, context: CellContext, sink: CellSink): SheetPatch {
  const patch = new Patch(xml, sheet, sink);
  for (const position of scanSheet(xml, context, patch)) void position;
  return patch.finish();
}

interface Follower {
  readonly leader: string;
  readonly cell: StoredCell;
  readonly own: BookCell;
}

class Patch {
  private readonly edits: TextEdit[] = [];
  private readonly prefix: string;
  private readonly hidden: ReadonlySet<number>;
  private readonly sections: { readonly name: string; readonly start: number; readonly end: number }[] = [];
  private nextRow = 0;
  private nextColumn = 0;
  private rowCells: BookSheet["rows"][number];
  private rowGrew = false;
  private emptyData: { start: number; tagEnd: number } | undefined;
  private cellsChanged = false;
  private formulasChanged = false;
  /** Cells that follow a shared formula and stay as they are, unless the cell that leads it goes. */
  private readonly followers: Follower[] = [];
  private readonly lostLeaders = new Set<string>();
  private readonly lastRow: number;

  constructor(
    private readonly xml: string,
    private readonly sheet: BookSheet,
    private readonly sink: CellSink,
  ) {
    const root = new XmlScan(xml);
    root.next();
    this.prefix = root.prefix;
    this.hidden = new Set(sheet.hiddenRows);
    this.lastRow = Math.max(sheet.rows.length - 1, ...lastOf(sheet.hiddenRows));
  }

  section(name: string, start: number, end: number): void {
    this.sections.push({ name, start, end });
  }

  sheetData(start: number, tagEnd: number, empty: boolean): void {
    this.sections.push({ name: "sheetData", start, end: tagEnd });
    if (!empty) return;
    this.emptyData = { start, tagEnd };
  }

  row(row: StoredRow): void {
    this.insertRows(row.row, row.start);
    this.nextRow = row.row + 1;
    this.nextColumn = 0;
    this.rowCells = this.sheet.rows[row.row];
    this.rowGrew = false;
  }

  cell(stored: StoredCell): void {
    this.insertCells(stored.row, stored.column, stored.start);
    this.nextColumn = stored.column + 1;
    const wanted: BookCell = this.rowCells?.[stored.column] ?? { value: null, style: stored.style };
    const styleSame = this.sink.style(wanted.style) === stored.style;
    const { area, leads, follows } = stored.stored ?? {};
    const spillSame = sameArea(wanted.spill, area && area.rows * area.columns > 1 ? area : undefined);
    const arraySame =
      wanted.array === true ||
      stored.stored?.kind !== "array" ||
      stored.cellMetadata !== undefined ||
      storedWrongly(stored);
    const formulaSame = wanted.formula === stored.formula && spillSame && arraySame && !storedWrongly(stored);
    if (formulaSame && styleSame && stored.addressed && sameValue(wanted.value, stored.value)) {
      if (follows !== undefined) this.followers.push({ leader: follows, cell: stored, own: wanted });
      return;
    }
    this.cellsChanged = true;
    const kept =
      formulaSame && (stored.formula !== undefined || sameValue(wanted.value, stored.value))
        ? stored.stored
        : undefined;
    if (!kept && (stored.stored || wanted.formula !== undefined)) this.formulasChanged = true;
    if (!kept && leads !== undefined) this.lostLeaders.add(leads);
    if (kept && follows !== undefined) this.followers.push({ leader: follows, cell: stored, own: wanted });
    this.edits.push({
      start: stored.start,
      end: stored.end,
      text: kept ? this.revalued(stored, kept, wanted) : this.whole(stored.row, stored.column, wanted),
    });
  }

  rowEnd(row: StoredRow, at: number): void {
    const pieces = this.cellsUpTo(row.row, Infinity);
    const hidden = this.hidden.has(row.row);
    let tag = this.xml.slice(row.start, row.tagEnd);
    if (!row.addressed) tag = withAttributes(tag, { r: String(row.row + 1) });
    if (this.rowGrew) tag = withAttributes(tag, { spans: undefined });
    if (hidden && !row.hidden) tag = withAttributes(tag, { hidden: "1" });
    if (!hidden && row.hidden)
      tag = withAttributes(tag, {
        hidden: undefined,
        ...(/\sht\s*=\s*["']0["']/.test(tag) ? { ht: undefined, customHeight: undefined } : {}),
      });
    if (row.empty && pieces !== "") tag = `${tag.replace(/\s*\/>$/, ">")}${pieces}</${this.prefix}row>`;
    else if (pieces !== "") this.edits.push({ start: at, end: at, text: pieces });
    if (tag !== this.xml.slice(row.start, row.tagEnd)) {
      this.cellsChanged = true;
      this.edits.push({ start: row.start, end: row.tagEnd, text: tag });
    }
  }

  sheetDataEnd(at: number): void {
    this.insertRows(Infinity, at);
  }

  finish(): SheetPatch {
    if (this.emptyData) {
      const rows = this.rowsUpTo(Infinity);
      const { start, tagEnd } = this.emptyData;
      const tag = this.xml.slice(start, tagEnd).replace(/\s*\/>$/, ">");
      if (rows !== "") this.edits.push({ start, end: tagEnd, text: `${tag}${rows}</${this.prefix}sheetData>` });
    }
    this.releaseFollowers();
    this.editSections();
    return {
      xml: applyEdits(this.xml, this.edits),
      cellsChanged: this.cellsChanged,
      formulasChanged: this.formulasChanged,
    };
  }

  /** Where the leading cell of a shared formula went, its followers get the formula as their own. */
  private releaseFollowers(): void {
    const released = this.followers.filter(({ leader }) => this.lostLeaders.has(leader));
    if (released.length === 0) return;
    const starts = new Map(released.map((follower) => [follower.cell.start, follower]));
    const others = this.edits.filter((edit) => !starts.has(edit.start) || edit.end === edit.start);
    this.edits.length = 0;
    for (const edit of others) this.edits.push(edit);
    for (const { cell, own } of released)
      this.edits.push({ start: cell.start, end: cell.end, text: this.whole(cell.row, cell.column, own) });
  }

  private whole(row: number, column: number, cell: BookCell): string {
    return cellXml(row, column, cell, this.sink, this.prefix);
  }

  private revalued(stored: StoredCell, formula: StoredFormula, wanted: BookCell): string {
    const formulaXml = this.xml.slice(formula.start, formula.end);
    const metadata = stored.cellMetadata === undefined ? "" : ` cm="${stored.cellMetadata}"`;
    return cellXmlWithFormula(stored.row, stored.column, wanted, formulaXml, metadata, this.sink, this.prefix);
  }

  private insertCells(row: number, before: number, at: number): void {
    const text = this.cellsUpTo(row, before);
    if (text !== "") this.edits.push({ start: at, end: at, text });
  }

  /** The Book's cells from the present column on that the file does not have. */
  private cellsUpTo(row: number, before: number): string {
    const cells = this.rowCells;
    if (!cells) return "";
    let text = "";
    for (let c = this.nextColumn; c < Math.min(before, cells.length); c++) {
      const cell = cells[c];
      if (!cell || isNothing(cell)) continue;
      text += this.whole(row, c, cell);
      if (cell.formula !== undefined) this.formulasChanged = true;
    }
    if (text !== "") this.cellsChanged = this.rowGrew = true;
    return text;
  }

  private insertRows(before: number, at: number): void {
    const text = this.rowsUpTo(before);
    if (text !== "") this.edits.push({ start: at, end: at, text });
  }

  private rowsUpTo(before: number): string {
    const pieces: string[] = [];
    for (let r = this.nextRow; r < before && r <= this.lastRow; r++) {
      this.rowCells = this.sheet.rows[r];
      this.nextColumn = 0;
      const cells = this.cellsUpTo(r, Infinity);
      const hidden = this.hidden.has(r);
      if (cells !== "" || hidden) pieces.push(rowXml(r, cells, hidden, this.prefix));
    }
    if (pieces.length > 0) this.cellsChanged = true;
    return pieces.join("");
  }

  private editSections(): void {
    const asRead = readSections(
      this.sections.map(({ name, start, end }) => ({ name, xml: this.xml.slice(start, end) })),
    );
    const p = this.prefix;
    if (!sameAreas(asRead.merged, this.sheet.merged))
      this.putSection("mergeCells", mergeCellsXml(this.sheet.merged, p));
    this.editValidations();
    const dimension = this.sections.find(({ name }) => name === "dimension");
    if (dimension && this.cellsChanged) this.edits.push({ start: dimension.start, end: dimension.end, text: "" });
    this.editColumns(asRead.columnWidths);
    this.editPane(asRead);
  }

  private editColumns(asRead: readonly (number | undefined)[]): void {
    const changed = new Map<number, number>();
    this.sheet.columnWidths.forEach((width, c) => {
      if (width && Math.abs(width - (asRead[c] ?? 0)) > SEEN_WIDTH) changed.set(c, width);
    });
    if (changed.size === 0) return;
    const present = this.sections.find(({ name }) => name === "cols");
    this.putSection(
      "cols",
      withWidths(present ? this.xml.slice(present.start, present.end) : "", changed, this.prefix),
    );
  }

  private editPane(asRead: SheetSections): void {
    const { frozenRows = 0, frozenColumns = 0 } = this.sheet;
    if (frozenRows === (asRead.frozenRows ?? 0) && frozenColumns === (asRead.frozenColumns ?? 0)) return;
    const present = this.sections.find(({ name }) => name === "sheetViews");
    const p = this.prefix;
    const views = present
      ? this.xml.slice(present.start, present.end)
      : `<${p}sheetViews><${p}sheetView workbookViewId="0"/></${p}sheetViews>`;
    const bare = withoutElements(
      withoutElements(views, "pane", () => true),
      "selection",
      () => true,
    );
    const pane = paneXml(this.sheet, p);
    const scan = new XmlScan(bare);
    while (scan.next() && !(scan.name === "sheetView" && !scan.closing));
    const tag = bare.slice(scan.start, scan.end);
    const view = scan.empty ? `${tag.replace(/\s*\/>$/, ">")}${pane}</${p}sheetView>` : tag + pane;
    this.putSection("sheetViews", bare.slice(0, scan.start) + view + bare.slice(scan.end));
  }

  /** Lists that the Book no longer has go, new ones come, all other validations stay untouched. */
  private editValidations(): void {
    const wanted = this.sheet.validations.map(validationKey);
    const present = new Set<string>();
    const kept: string[] = [];
    let tag = `<${this.prefix}dataValidations>`;
    let removed = 0;
    for (const { name, start, end } of this.sections) {
      if (name !== "dataValidations" && name !== "extLst") continue;
      const scan = new XmlScan(this.xml.slice(start, end));
      while (scan.next()) {
        if (scan.closing) continue;
        if (scan.name === "dataValidations" && name === scan.name)
          tag = scan.xml.slice(scan.start, scan.end).replace(/\s*\/>$/, ">");
        if (scan.name !== "dataValidation") continue;
        const from = scan.start;
        const validation = scan.empty ? undefined : readValidation(scan);
        const key = validation && validationKey(validation);
        if (key !== undefined && wanted.includes(key)) present.add(key);
        if (name === "extLst") continue;
        if (key === undefined || wanted.includes(key)) kept.push(scan.xml.slice(from, scan.end));
        else removed++;
      }
    }
    const added = this.sheet.validations
      .filter((validation) => !present.has(validationKey(validation)))
      .map((validation) => validationXml(validation, this.prefix));
    if (removed === 0 && added.length === 0) return;
    const all = [...kept, ...added];
    const open = withAttributes(tag, { count: String(all.length) });
    this.putSection(
      "dataValidations",
      all.length === 0 ? "" : `${open}${all.join("")}</${this.prefix}dataValidations>`,
    );
  }

  /** Replaces a section, or puts it at its place in the order that the format prescribes. */
  private putSection(name: string, text: string): void {
    const present = this.sections.find((section) => section.name === name);
    if (present) {
      this.edits.push({ start: present.start, end: present.end, text });
      return;
    }
    if (text === "") return;
    const place = SECTION_ORDER.indexOf(name);
    const next = this.sections.find((section) => SECTION_ORDER.indexOf(section.name) > place);
    const at = next ? next.start : this.xml.lastIndexOf("</");
    this.edits.push({ start: at, end: at, text });
  }
}

function lastOf(rows: readonly number[]): number[] {
  return rows.length === 0 ? [] : [rows.reduce((a, b) => Math.max(a, b))];
}

/** A BANK formula that Excel would show as #NAME? for ever, because it is not kept as a function of an add-in. */
function storedWrongly({ formula, stored, cellMetadata }: StoredCell): boolean {
  return (
    formula !== undefined &&
    callsBank(formula) &&
    !(stored?.kind === "array" && cellMetadata !== undefined && !callsBank(stored.text))
  );
}

function sameAreas(a: readonly Area[], b: readonly Area[]): boolean {
  return a.length === b.length && a.every((area, i) => sameArea(area, b[i]));
}
