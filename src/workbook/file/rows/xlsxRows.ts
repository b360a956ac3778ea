/** Rows of an .xlsx in an open file, packed as they come. Node only. */
import type { FileHandle } from "node:fs/promises";
import { strToU8, Zip, ZipDeflate } from "fflate";
import type { CellStyle } from "../../book";
import { cellXml, inlineXml, type CellSink } from "../save/cellXml";
import { emptyPackage, newSheetXml, newTableXml, SHEET_CONTENT, TABLE_CONTENT } from "../save/newPackage";
import { XML_HEAD } from "../package/packageParts";
import type { RowColumn, RowFile } from "./rowFile";
import { rowXml } from "../save/sheetSections";
import { withStylesAdded } from "../package/styleSheet";
import { EARLIEST } from "../package/zip";

const STYLES: readonly CellStyle[] = [{ bold: true }, { format: "yyyy-mm-dd" }, { format: "yyyy-mm-dd hh:mm" }];
const [HEAD, DAY, MOMENT] = [1, 2, 3];
const SHEET = "xl/worksheets/sheet1.xml";
const RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships";
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

/**
 * Rows as a sheet of their own with a table around them, and the notes as a second sheet.
 * @param sheetName plain letters
 */
export async function xlsxRows(file: FileHandle, columns: readonly RowColumn[], sheetName: string): Promise<RowFile> {
  // The archive hands out pieces at once; the file takes them one after the other.
  let pending: Uint8Array[] = [];
  let failed: Error | undefined;
  const zip = new Zip((problem, piece) => {
    if (problem) failed = problem;
    else pending.push(piece);
  });
  const flush = async () => {
    if (failed) throw failed;
    const pieces = pending;
    pending = [];
    for (const piece of pieces) await file.appendFile(piece);
  };
  const part = (name: string) => {
    const entry = new ZipDeflate(name, { level: 3 });
    entry.mtime = EARLIEST;
    zip.add(entry);
    return entry;
  };
  const put = async (name: string, text: string) => {
    part(name).push(strToU8(text), true);
    await flush();
  };
  const base = emptyPackage();
  const { xml: styles, first } = withStylesAdded(base.text("xl/styles.xml"), STYLES);
  const sink: CellSink = {
    string: () => 0,
    style: (style) => (style === undefined || style === 0 ? 0 : first + style - 1),
    dynamicMark: () => 0,
    number: (value) => value,
  };
  const headStyle = sink.style(HEAD);
  await put("xl/styles.xml", styles);
  const sheet = part(SHEET);
  const push = async (text: string) => {
    sheet.push(strToU8(text));
    await flush();
  };
  const shell = newSheetXml(
    {
      name: sheetName,
      rows: [],
      hiddenRows: [],
      merged: [],
      tables: [],
      validations: [],
      columnWidths: columns.map(({ heading }) => Math.min(30, Math.max(10, heading.length + 2))),
      frozenRows: 1,
    },
    sink,
    ["rId1"],
  );
  const [head, foot] = shell.split("<sheetData></sheetData>");
  let at = 0;
  await push(
    `${head}<sheetData>${rowXml(at++, columns.map(({ heading }, c) => inlineXml(0, c, heading, headStyle)).join(""), false, "")}`,
  );
  return {
    async write(rows) {
      const lines: string[] = [];
      for (const row of rows) {
        let cells = "";
        row.forEach((value, c) => {
          if (value === null) return;
          if (typeof value === "string") cells += inlineXml(at, c, value, 0);
          else
            cells += cellXml(
              at,
              c,
              { value, style: columns[c]?.kind === "date" ? (Number.isInteger(value) ? DAY : MOMENT) : 0 },
              sink,
              "",
            );
        });
        lines.push(rowXml(at++, cells, false, ""));
      }
      await push(lines.join(""));
    },
    async end(notes) {
      sheet.push(strToU8(`</sheetData>${foot}`), true);
      await flush();
      const noted = notes.rows
        .map((row, r) =>
          rowXml(r, row.map((text, c) => inlineXml(r, c, text, r === 0 ? headStyle : 0)).join(""), false, ""),
        )
        .join("");
      const notesShell = newSheetXml(
        {
          name: notes.name,
          rows: [],
          hiddenRows: [],
          merged: [],
          tables: [],
          validations: [],
          columnWidths: [16, 120],
        },
        sink,
        [],
      );
      await put(
        "xl/worksheets/sheet2.xml",
        notesShell.replace("<sheetData></sheetData>", () => `<sheetData>${noted}</sheetData>`),
      );
      await put(
        "xl/tables/table1.xml",
        newTableXml(
          1,
          { name: "Trials", area: { row: 0, column: 0, rows: Math.max(2, at), columns: columns.length } },
          columns.map(({ heading }) => heading),
        ),
      );
      await put(
        "xl/worksheets/_rels/sheet1.xml.rels",
        `${XML_HEAD}<Relationships xmlns="${RELATIONS}"><Relationship Id="rId1" Type="${OFFICE}/table" Target="../tables/table1.xml"/></Relationships>`,
      );
      await put("_rels/.rels", base.text("_rels/.rels"));
      const sheets = [sheetName, notes.name]
        .map((name, i) => `<sheet name="${name}" sheetId="${i + 1}" r:id="rId${i + 2}"/>`)
        .join("");
      await put(
        "xl/workbook.xml",
        base.text("xl/workbook.xml").replace("<sheets></sheets>", `<sheets>${sheets}</sheets>`),
      );
      await put(
        "xl/_rels/workbook.xml.rels",
        base
          .text("xl/_rels/workbook.xml.rels")
          .replace(
            "</Relationships>",
            `${[1, 2].map((n) => `<Relationship Id="rId${n + 1}" Type="${OFFICE}/worksheet" Target="worksheets/sheet${n}.xml"/>`).join("")}</Relationships>`,
          ),
      );
      const kinds = [
        ["/xl/worksheets/sheet1.xml", SHEET_CONTENT],
        ["/xl/worksheets/sheet2.xml", SHEET_CONTENT],
        ["/xl/tables/table1.xml", TABLE_CONTENT],
      ];
      await put(
        "[Content_Types].xml",
        base
          .text("[Content_Types].xml")
          .replace(
            "</Types>",
            `${kinds.map(([name, kind]) => `<Override PartName="${name}" ContentType="${kind}"/>`).join("")}</Types>`,
          ),
      );
      zip.end();
      await flush();
    },
  };
}
