/** Rows of an .xlsx in an open file, packed as they come. Node only. */
import type { FileHandle } from "node:fs/promises";
import { sheetOfRows, type CellStyle } from "../../book";
import { XML_HEAD } from "../package/packageParts";
import { withStylesAdded } from "../package/styleSheet";
import { cellXml, inlineXml, type CellSink } from "../save/cellXml";
import { emptyPackage, newSheetXml, newTableXml, SHEET_CONTENT, TABLE_CONTENT } from "../save/newPackage";
import { rowXml } from "../save/sheetSections";
import type { NotesSheet, RowColumn, RowFile, RowValue } from "./rowFile";
import { ZipFile } from "./zipFile";

const STYLES: readonly CellStyle[] = [{ bold: true }, { format: "yyyy-mm-dd" }, { format: "yyyy-mm-dd hh:mm" }];
const [HEAD, DAY, MOMENT] = [1, 2, 3];
const RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships";
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const NO_ROWS = "<sheetData></sheetData>";

type Package = ReturnType<typeof emptyPackage>;

/**
 * Rows as a sheet of their own with a table around them, and the notes as a second sheet.
 * @param sheetName plain letters
 */
export async function xlsxRows(file: FileHandle, columns: readonly RowColumn[], sheetName: string): Promise<RowFile> {
  const zip = new ZipFile(file);
  const base = emptyPackage();
  const { xml: styles, first } = withStylesAdded(base.text("xl/styles.xml"), STYLES);
  await zip.put("xl/styles.xml", styles);
  const sink: CellSink = {
    string: () => 0,
    style: (style) => (style === undefined || style === 0 ? 0 : first + style - 1),
    dynamicMark: () => 0,
    number: (value) => value,
  };
  const shell = sheetShell(
    sheetName,
    columns.map(({ heading }) => Math.min(30, Math.max(10, heading.length + 2))),
    sink,
    ["rId1"],
  );
  const [head, foot] = shell.split(NO_ROWS);
  const sheet = zip.part("xl/worksheets/sheet1.xml");
  let at = 0;
  const headings = columns.map(({ heading }) => heading);
  await sheet.push(`${head}<sheetData>${textRow(at++, headings, sink.style(HEAD))}`);
  return {
    async write(rows) {
      await sheet.push(rows.map((row) => valueRow(at++, row, columns, sink)).join(""));
    },
    async end(notes) {
      await sheet.end(`</sheetData>${foot}`);
      await zip.put("xl/worksheets/sheet2.xml", notesXml(notes, sink));
      const area = { row: 0, column: 0, rows: Math.max(2, at), columns: columns.length };
      await zip.put("xl/tables/table1.xml", newTableXml(1, { name: "Trials", area }, headings));
      await putRelations(zip, base, [sheetName, notes.name]);
      await zip.end();
    },
  };
}

/** A sheet without its rows; with a part beside it the first row stays in sight. */
function sheetShell(name: string, columnWidths: readonly number[], sink: CellSink, parts: readonly string[]): string {
  return newSheetXml(
    { ...sheetOfRows(name, []), columnWidths, ...(parts.length > 0 && { frozenRows: 1 }) },
    sink,
    [],
    parts,
  );
}

function textRow(row: number, texts: readonly string[], style: number): string {
  return rowXml(row, texts.map((text, c) => inlineXml(row, c, text, style)).join(""), false, "");
}

function valueRow(at: number, row: readonly RowValue[], columns: readonly RowColumn[], sink: CellSink): string {
  const cells = row.map((value, c) => {
    if (value === null) return "";
    if (typeof value === "string") return inlineXml(at, c, value, 0);
    const style = columns[c]?.kind === "date" ? (Number.isInteger(value) ? DAY : MOMENT) : 0;
    return cellXml(at, c, { value, style }, sink, "");
  });
  return rowXml(at, cells.join(""), false, "");
}

function notesXml({ name, rows }: NotesSheet, sink: CellSink): string {
  const lines = rows.map((row, r) => textRow(r, row, r === 0 ? sink.style(HEAD) : 0)).join("");
  return sheetShell(name, [16, 120], sink, []).replace(NO_ROWS, () => `<sheetData>${lines}</sheetData>`);
}

/** The parts that say which parts there are. */
async function putRelations(zip: ZipFile, base: Package, sheetNames: readonly string[]): Promise<void> {
  await zip.put(
    "xl/worksheets/_rels/sheet1.xml.rels",
    `${XML_HEAD}<Relationships xmlns="${RELATIONS}"><Relationship Id="rId1" Type="${OFFICE}/table" Target="../tables/table1.xml"/></Relationships>`,
  );
  await zip.put("_rels/.rels", base.text("_rels/.rels"));
  const sheets = sheetNames.map((name, i) => `<sheet name="${name}" sheetId="${i + 1}" r:id="rId${i + 2}"/>`).join("");
  await zip.put(
    "xl/workbook.xml",
    base.text("xl/workbook.xml").replace("<sheets></sheets>", `<sheets>${sheets}</sheets>`),
  );
  const links = [1, 2].map(
    (n) => `<Relationship Id="rId${n + 1}" Type="${OFFICE}/worksheet" Target="worksheets/sheet${n}.xml"/>`,
  );
  await zip.put(
    "xl/_rels/workbook.xml.rels",
    base.text("xl/_rels/workbook.xml.rels").replace("</Relationships>", `${links.join("")}</Relationships>`),
  );
  const kinds = [
    ["/xl/worksheets/sheet1.xml", SHEET_CONTENT],
    ["/xl/worksheets/sheet2.xml", SHEET_CONTENT],
    ["/xl/tables/table1.xml", TABLE_CONTENT],
  ].map(([name, kind]) => `<Override PartName="${name}" ContentType="${kind}"/>`);
  await zip.put(
    "[Content_Types].xml",
    base.text("[Content_Types].xml").replace("</Types>", `${kinds.join("")}</Types>`),
  );
}
