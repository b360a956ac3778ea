import ExcelJS from "exceljs";
import { describe, expect, it } from "vitest";
import type { BookCell, BookSheet } from "../../../../src/workbook/book";
import { readXlsx } from "../../../../src/workbook/file/read/readXlsx";
import { handmade, type Handmade } from "../packages";

async function sheetOf(rows: string, more: Partial<Handmade> = {}, after = "", before = ""): Promise<BookSheet> {
  return (await readXlsx(handmade({ sheets: { Trials: `${before}<sheetData>${rows}</sheetData>${after}` }, ...more })))
    .sheets[0];
}
const cell = (sheet: BookSheet, row: number, column: number): BookCell | undefined => sheet.rows[row]?.[column];

describe("cell values", () => {
  it("reads every kind of value", async () => {
    const sheet = await sheetOf(
      `<row r="2"><c r="B2"><v>0.1</v></c><c r="C2" t="s"><v>0</v></c><c r="D2" t="s"><v>1</v></c><c r="E2" t="b"><v>1</v></c><c r="F2" t="b"><v>0</v></c>` +
        `<c r="G2" t="e"><v>#N/A</v></c><c r="H2" t="inlineStr"><is><t>in</t><r><t xml:space="preserve"> line</t></r></is></c><c r="I2" t="str"><f>A1&amp;"&lt;b&gt;"</f><v>&lt;b&gt;</v></c>` +
        `<c r="J2" t="d"><v>2026-01-08T12:00:00</v></c><c r="K2"><v>-1.5E-3</v></c><c r="L2"/></row>`,
      { strings: ["plain &amp; _x0041_", "<r><t>rich </t></r><r><rPr><b/></rPr><t>text</t></r><rPh><t>no</t></rPh>"] },
    );
    expect(sheet.rows[1]?.slice(1, 12)).toEqual([
      { value: 0.1 },
      { value: "plain & A" },
      { value: "rich text" },
      { value: true },
      { value: false },
      { value: { error: "#N/A" } },
      { value: "in line" },
      { value: "<b>", formula: 'A1&"<b>"' },
      { value: 46030.5 },
      { value: -0.0015 },
      { value: null },
    ]);
  });

  it("tells text without characters from a blank", async () => {
    const sheet = await sheetOf(
      '<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="str"><f>""</f><v></v></c><c r="C1"><f>A2</f></c></row>',
      { strings: [""] },
    );
    expect(cell(sheet, 0, 0)?.value).toBe("");
    expect(cell(sheet, 0, 1)).toEqual({ value: "", formula: '""' });
    expect(cell(sheet, 0, 2)).toEqual({ value: null, formula: "A2" });
  });

  it("reads cells and rows without addresses, comments, CDATA and prefixes", async () => {
    const sheet = await sheetOf(
      '<!-- <row r="9"/> --><row><c><v>1</v></c><c><v>2</v></c></row><row r="4"><c r="C4" t="str"><f><![CDATA[A1<2]]></f><v>a<!-- b -->c</v></c><c><v>3</v></c></row>',
    );
    expect(sheet.rows[0]?.map((c) => c?.value)).toEqual([1, 2]);
    expect(cell(sheet, 3, 2)).toEqual({ value: "ac", formula: "A1<2" });
    expect(cell(sheet, 3, 3)?.value).toBe(3);
  });

  it("keeps a cached error of a formula as an error", async () => {
    const sheet = await sheetOf('<row r="1"><c r="A1" t="e"><f>1/0</f><v>#DIV/0!</v></c></row>');
    expect(cell(sheet, 0, 0)).toEqual({ value: { error: "#DIV/0!" }, formula: "1/0" });
  });
});

describe("formulas", () => {
  it("reads shared formulas as each cell's own", async () => {
    const sheet = await sheetOf(
      '<row r="1"><c r="B1"><f t="shared" ref="B1:B3" si="0">A1*$C$1</f><v>1</v></c></row><row r="2"><c r="B2"><f t="shared" si="0"/><v>2</v></c></row><row r="3"><c r="B3"><f t="shared" si="0"/><v>3</v></c></row>',
    );
    expect([0, 1, 2].map((r) => cell(sheet, r, 1)?.formula)).toEqual(["A1*$C$1", "A2*$C$1", "A3*$C$1"]);
  });

  it("reads spills with the range on the first cell", async () => {
    const sheet = await sheetOf(
      '<row r="1"><c r="A1" cm="1"><f t="array" ref="A1:B2">_xldudf_BANK_SPREAD(D1:D9)</f><v>1</v></c><c r="B1"><v>2</v></c><c r="C1"><v>9</v></c></row>' +
        '<row r="2"><c r="A2"><v>3</v></c><c r="B2"><v>4</v></c></row><row r="3"><c r="A3" cm="1"><f t="array" ref="A3">_xldudf_BANK_BEND(A1)</f><v>0</v></c></row>',
    );
    expect(cell(sheet, 0, 0)).toEqual({
      value: 1,
      formula: "BANK.SPREAD(D1:D9)",
      spill: { row: 0, column: 0, rows: 2, columns: 2 },
    });
    expect(cell(sheet, 0, 1)).toEqual({ value: 2, spilled: true });
    expect(cell(sheet, 0, 2)).toEqual({ value: 9 });
    expect(cell(sheet, 1, 1)).toEqual({ value: 4, spilled: true });
    expect(cell(sheet, 2, 0)).toEqual({ value: 0, formula: "BANK.BEND(A1)" });
  });
});

describe("looks and dates", () => {
  const styles =
    '<numFmts><numFmt numFmtId="164" formatCode="yyyy\\-mm\\-dd"/><numFmt numFmtId="165" formatCode="[h]:mm"/></numFmts>' +
    '<fonts><font/><font><b/><i val="0"/><sz val="14"/><color theme="4" tint="-0.5"/></font></fonts>' +
    '<fills><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="solid"><fgColor rgb="FFFFEE00"/></patternFill></fill></fills>' +
    '<cellXfs><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="9" fontId="1" fillId="1"><alignment horizontal="center" wrapText="1"/></xf><xf numFmtId="165"/><xf numFmtId="14"/></cellXfs>';

  it("numbers looks as the file does", async () => {
    const theme = `<a:theme xmlns:a="x"><a:clrScheme>${["dk1", "lt1", "dk2", "lt2", "accent1"].map((name) => `<a:${name}><a:srgbClr val="804020"/></a:${name}>`).join("")}</a:clrScheme></a:theme>`;
    const book = await readXlsx(
      handmade({
        sheets: { Trials: '<sheetData><row r="1"><c r="A1" s="2"><v>0.45</v></c></row></sheetData>' },
        styles,
        workbookRelations: { theme: "theme1.xml" },
        parts: { "xl/theme1.xml": theme },
      }),
    );
    expect(book.sheets[0].rows[0]?.[0]).toEqual({ value: 0.45, style: 2 });
    expect(book.styles).toEqual([
      {},
      { format: "yyyy\\-mm\\-dd" },
      { format: "0%", bold: true, fontSize: 14, color: "#402010", fill: "#ffee00", horizontal: "center", wrap: true },
      { format: "[h]:mm" },
      { format: "m/d/yyyy" },
    ]);
  });

  it("counts dates from 1900 even where the file counts from 1904, and leaves spans of time alone", async () => {
    const rows =
      '<row r="1"><c r="A1" s="1"><v>44568</v></c><c r="B1" s="3"><v>1.5</v></c><c r="C1"><v>44568</v></c></row>';
    const values = async (workbookPr: string) =>
      (await sheetOf(rows, { styles, workbookPr })).rows[0]?.map((c) => c?.value);
    expect(await values("")).toEqual([44568, 1.5, 44568]);
    expect(await values('<workbookPr date1904="1"/>')).toEqual([46030, 1.5, 44568]);
  });
});

describe("around the cells", () => {
  it("reads hidden rows, merged cells, widths, panes and lists", async () => {
    const sheet = await sheetOf(
      '<row r="1"><c r="A1"><v>1</v></c></row><row r="2" hidden="1"><c r="A2"><v>2</v></c></row><row r="4" hidden="true"/>',
      {},
      '<autoFilter ref="A1:B4"/><mergeCells count="1"><mergeCell ref="B1:C2"/></mergeCells><dataValidations count="3">' +
        '<dataValidation type="list" sqref="A2:A9 C2"><formula1>"slow, fast"</formula1></dataValidation><dataValidation type="list" sqref="B2"><formula1>Cloths</formula1></dataValidation>' +
        '<dataValidation type="whole" sqref="D2"><formula1>1</formula1></dataValidation></dataValidations><extLst><ext><x14:dataValidations xmlns:x14="a" xmlns:xm="b"><x14:dataValidation type="list">' +
        "<x14:formula1><xm:f>Conditions!$A$1:$A$3</xm:f></x14:formula1><xm:sqref>E2:E4</xm:sqref></x14:dataValidation></x14:dataValidations></ext></extLst>",
      '<sheetViews><sheetView workbookViewId="0"><pane xSplit="1" ySplit="2" state="frozen"/></sheetView></sheetViews><cols><col min="2" max="3" width="12.5"/></cols>',
    );
    expect(sheet.hiddenRows).toEqual([1, 3]);
    expect(cell(sheet, 1, 0)?.value).toBe(2);
    expect(sheet.merged).toEqual([{ row: 0, column: 1, rows: 2, columns: 2 }]);
    expect(sheet.columnWidths).toEqual([undefined, 12.5, 12.5]);
    expect([sheet.frozenRows, sheet.frozenColumns]).toEqual([2, 1]);
    expect(sheet.validations).toEqual([
      {
        areas: [
          { row: 1, column: 0, rows: 8, columns: 1 },
          { row: 1, column: 2, rows: 1, columns: 1 },
        ],
        choices: ["slow", "fast"],
      },
      { areas: [{ row: 1, column: 1, rows: 1, columns: 1 }], formula: "Cloths" },
      { areas: [{ row: 1, column: 4, rows: 3, columns: 1 }], formula: "Conditions!$A$1:$A$3" },
    ]);
  });

  it("reads what stands behind the cells of a sheet that has none", async () => {
    const merged = '<mergeCells count="1"><mergeCell ref="B1:C2"/></mergeCells>';
    for (const data of ["<sheetData/>", "<sheetData></sheetData>"]) {
      const book = await readXlsx(handmade({ sheets: { Trials: `${data}${merged}` } }));
      expect(book.sheets[0]).toMatchObject({ rows: [], merged: [{ row: 0, column: 1, rows: 2, columns: 2 }] });
    }
  });

  it("reads sheet names, hidden sheets and defined names", async () => {
    const book = await readXlsx(
      handmade({
        sheets: { "Bo's &lt;log&gt;": "<sheetData/>", Kept: "<sheetData/>", Deep: "<sheetData/>" },
        sheetState: { Kept: "hidden", Deep: "veryHidden" },
        afterSheets:
          '<definedNames><definedName name="Cloths">Kept!$A$1:$A$3</definedName><definedName name="_xlnm.Print_Area" localSheetId="0">A1</definedName><definedName name="secret" hidden="1">1</definedName></definedNames>',
      }),
    );
    expect(book.sheets.map(({ name, hidden }) => [name, hidden === true])).toEqual([
      ["Bo's <log>", false],
      ["Kept", true],
      ["Deep", true],
    ]);
    expect(book.names).toEqual([{ name: "Cloths", reference: "Kept!$A$1:$A$3" }]);
  });

  it("tells how far it is", async () => {
    const heard: number[] = [];
    await readXlsx(handmade({ sheets: { A: "<sheetData/>", B: "<sheetData/>" } }), (share) => heard.push(share));
    expect(heard).toEqual([0.5, 1]);
  });
});

it("reads what another library writes", async () => {
  const other = new ExcelJS.Workbook();
  const sheet = other.addWorksheet("Bo's log", { views: [{ state: "frozen", ySplit: 1 }] });
  sheet.addTable({
    name: "Trials",
    ref: "A1",
    headerRow: true,
    columns: [{ name: "Day" }, { name: "Gap" }],
    rows: [
      [new Date(Date.UTC(2026, 0, 8)), 0.125],
      [new Date(Date.UTC(2026, 0, 9)), null],
    ],
  });
  sheet.getCell("A2").numFmt = "yyyy-mm-dd";
  sheet.getCell("C2").value = { formula: "B2*2", result: 0.25 };
  sheet.getCell("C3").value = { text: "rules", hyperlink: "https://example.org/" };
  sheet.getCell("D2").value = { error: "#N/A" };
  sheet.getCell("D3").value = { richText: [{ text: "two " }, { font: { bold: true }, text: "runs" }] };
  sheet.getRow(3).hidden = true;
  sheet.mergeCells("E1:F2");
  const book = await readXlsx(new Uint8Array((await other.xlsx.writeBuffer()) as ArrayBuffer));
  const read = book.sheets[0];
  expect(read.name).toBe("Bo's log");
  expect(read.tables).toEqual([{ name: "Trials", area: { row: 0, column: 0, rows: 3, columns: 2 } }]);
  expect(cell(read, 1, 0)?.value).toBe(46030);
  expect(book.styles[cell(read, 1, 0)!.style!].format).toBe("yyyy-mm-dd");
  expect(cell(read, 1, 2)).toMatchObject({ value: 0.25, formula: "B2*2" });
  expect(cell(read, 2, 2)?.value).toBe("rules");
  expect(cell(read, 1, 3)?.value).toEqual({ error: "#N/A" });
  expect(cell(read, 2, 3)?.value).toBe("two runs");
  expect(read.hiddenRows).toEqual([2]);
  expect(read.merged).toEqual([{ row: 0, column: 4, rows: 2, columns: 2 }]);
  expect(read.frozenRows).toBe(1);
});

describe("numbers of formats and encodings of parts", () => {
  // Numbers without a code of their own: ECMA-376 part 1, 18.8.30, those that the standard gives for every language.
  it.each([
    [0, "General"],
    [1, "0"],
    [2, "0.00"],
    [3, "#,##0"],
    [4, "#,##0.00"],
    [9, "0%"],
    [10, "0.00%"],
    [11, "0.00E+00"],
    [12, "# ?/?"],
    [13, "# ??/??"],
    [20, "h:mm"],
    [45, "mm:ss"],
    [48, "##0.0E+0"],
    [49, "@"],
  ])("number %i is %s", async (id, format) => {
    const styles = `<fonts count="1"><font/></fonts><fills count="1"><fill/></fills><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="${id}"/></cellXfs>`;
    const rows = '<row r="1"><c r="A1" s="1"><v>1</v></c></row>';
    const book = await readXlsx(handmade({ sheets: { Trials: `<sheetData>${rows}</sheetData>` }, styles }));
    expect(book.styles[book.sheets[0]!.rows[0]![0]!.style ?? 0]?.format ?? "General").toBe(format);
  });

  it.each([
    ["little end first, with its mark", true, true],
    ["big end first, with its mark", false, true],
    ["little end first, without", true, false],
    ["big end first, without", false, false],
  ])("strings in UTF-16, %s, are read", async (_, little, marked) => {
    const xml = `<?xml version="1.0" encoding="UTF-16"?><sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>größer ½</t></si></sst>`;
    const bytes = Buffer.from((marked ? "\ufeff" : "") + xml, "utf16le");
    const sheet = await sheetOf('<row r="1"><c r="A1" t="s"><v>0</v></c></row>', {
      parts: { "xl/sharedStrings.xml": little ? bytes : bytes.swap16() },
    });
    expect(cell(sheet, 0, 0)).toEqual({ value: "größer ½" });
  });
});
