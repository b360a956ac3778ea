/** Workbooks made by hand for tests: every byte of the package is stated, so each trap can be set on purpose. */
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import type { Book, BookSheet } from "../../../src/workbook/book";

const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml.";

export interface Handmade {
  /** Name of the sheet → XML inside its worksheet element. */
  readonly sheets: Readonly<Record<string, string>>;
  /** XML inside cellXfs and before it. */
  readonly styles?: string;
  readonly strings?: readonly string[];
  readonly workbookPr?: string;
  readonly afterSheets?: string;
  /** Relations of the workbook besides those to its sheets: kind → target. */
  readonly workbookRelations?: Readonly<Record<string, string>>;
  /** Relations of the first sheet: kind → target. */
  readonly sheetRelations?: Readonly<Record<string, string>>;
  /** Further parts by name. */
  readonly parts?: Readonly<Record<string, string | Uint8Array>>;
  readonly overrides?: Readonly<Record<string, string>>;
  readonly sheetState?: Readonly<Record<string, string>>;
}

const relations = (entries: readonly (readonly [id: string, kind: string, target: string])[]) =>
  `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">${entries
    .map(([id, kind, target]) => `<Relationship Id="${id}" Type="${OFFICE}/${kind}" Target="${target}"/>`)
    .join("")}</Relationships>`;

export function handmade(made: Handmade): Uint8Array {
  const names = Object.keys(made.sheets);
  const parts: Record<string, string | Uint8Array> = {
    "_rels/.rels": relations([["rId1", "officeDocument", "xl/workbook.xml"]]),
    "xl/workbook.xml":
      `<?xml version="1.0" encoding="UTF-8"?><workbook xmlns="${MAIN}" xmlns:r="${OFFICE}">${made.workbookPr ?? ""}<sheets>` +
      names
        .map(
          (name, i) =>
            `<sheet name="${name}" sheetId="${i + 1}"${made.sheetState?.[name] ? ` state="${made.sheetState[name]}"` : ""} r:id="rId${i + 1}"/>`,
        )
        .join("") +
      `</sheets>${made.afterSheets ?? ""}</workbook>`,
    "xl/_rels/workbook.xml.rels": relations([
      ...names.map((_, i) => [`rId${i + 1}`, "worksheet", `worksheets/sheet${i + 1}.xml`] as const),
      ["rIdStyles", "styles", "styles.xml"],
      ["rIdStrings", "sharedStrings", "sharedStrings.xml"],
      ...Object.entries(made.workbookRelations ?? {}).map(
        ([kind, target], i) => [`rIdMore${i}`, kind, target] as const,
      ),
    ]),
    "xl/styles.xml": `<styleSheet xmlns="${MAIN}">${made.styles ?? '<fonts count="1"><font/></fonts><fills count="1"><fill/></fills><cellXfs count="1"><xf numFmtId="0"/></cellXfs>'}</styleSheet>`,
    "xl/sharedStrings.xml": `<sst xmlns="${MAIN}">${(made.strings ?? []).map((text) => `<si>${text.startsWith("<") ? text : `<t>${text}</t>`}</si>`).join("")}</sst>`,
    ...made.parts,
  };
  names.forEach(
    (name, i) =>
      (parts[`xl/worksheets/sheet${i + 1}.xml`] =
        `<worksheet xmlns="${MAIN}" xmlns:r="${OFFICE}">${made.sheets[name]}</worksheet>`),
  );
  if (made.sheetRelations) {
    parts["xl/worksheets/_rels/sheet1.xml.rels"] = relations(
      Object.entries(made.sheetRelations).map(([kind, target], i) => [`rId${i + 1}`, kind, target] as const),
    );
  }
  const overrides: Record<string, string> = { "xl/workbook.xml": `${KIND}sheet.main+xml`, ...made.overrides };
  parts["[Content_Types].xml"] =
    `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/>` +
    Object.entries(overrides)
      .map(([part, type]) => `<Override PartName="/${part}" ContentType="${type}"/>`)
      .join("") +
    `</Types>`;
  return zipSync(
    Object.fromEntries(
      Object.entries(parts).map(([name, content]) => [name, typeof content === "string" ? strToU8(content) : content]),
    ),
  );
}

/** The parts of a saved package as text. */
export function partsOf(bytes: Uint8Array): Record<string, string> {
  return Object.fromEntries(Object.entries(unzipSync(bytes)).map(([name, content]) => [name, strFromU8(content)]));
}

export function bookOf(
  sheets: readonly (Partial<BookSheet> & { readonly name: string })[],
  more: Partial<Book> = {},
): Book {
  return {
    sheets: sheets.map((sheet) => ({
      rows: [],
      hiddenRows: [],
      merged: [],
      tables: [],
      validations: [],
      columnWidths: [],
      ...sheet,
    })),
    styles: [],
    names: [],
    ...more,
  };
}

export interface RawEntry {
  readonly name: string;
  /** A raw deflate stream. */
  readonly packed: Uint8Array;
  /** The inflated size that the directory declares, true or not. */
  readonly size: number;
}

/** A zip archive whose directory says whatever it is told to say. */
export function rawZip(entries: readonly RawEntry[]): Uint8Array {
  const pieces: Uint8Array[] = [];
  const directory: Uint8Array[] = [];
  let offset = 0;
  for (const { name, packed, size } of entries) {
    const label = strToU8(name);
    const local = new DataView(new ArrayBuffer(30));
    local.setUint32(0, 0x04034b50, true);
    local.setUint16(8, 8, true);
    local.setUint32(18, packed.length, true);
    local.setUint32(22, size, true);
    local.setUint16(26, label.length, true);
    const central = new DataView(new ArrayBuffer(46));
    central.setUint32(0, 0x02014b50, true);
    central.setUint16(10, 8, true);
    central.setUint32(20, packed.length, true);
    central.setUint32(24, size, true);
    central.setUint16(28, label.length, true);
    central.setUint32(42, offset, true);
    pieces.push(new Uint8Array(local.buffer), label, packed);
    directory.push(new Uint8Array(central.buffer), label);
    offset += 30 + label.length + packed.length;
  }
  const directorySize = directory.reduce((sum, piece) => sum + piece.length, 0);
  const end = new DataView(new ArrayBuffer(22));
  end.setUint32(0, 0x06054b50, true);
  end.setUint16(8, entries.length, true);
  end.setUint16(10, entries.length, true);
  end.setUint32(12, directorySize, true);
  end.setUint32(16, offset, true);
  const all = [...pieces, ...directory, new Uint8Array(end.buffer)];
  const bytes = new Uint8Array(all.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of all) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}
