import ExcelJS from "exceljs";
import { strToU8, unzipSync, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import type { Book, BookCell, BookSheet } from "../../../../src/workbook/book";
import { FilePort } from "../../../../src/workbook/file/filePort";
import { readXlsx } from "../../../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../../../src/workbook/file/save/saveCopy";
import { bookOf, handmade, partsOf, type Handmade } from "../packages";

/** The Book with cells of its first sheet exchanged. */
function withCells(
  book: Book,
  cells: readonly (readonly [row: number, column: number, cell: BookCell | undefined])[],
): Book {
  const rows = Array.from(book.sheets[0].rows, (row) => [...(row ?? [])]);
  for (const [row, column, cell] of cells) (rows[row] ??= [])[column] = cell;
  return withSheet(book, { rows });
}
function withSheet(book: Book, change: Partial<BookSheet>): Book {
  return { ...book, sheets: book.sheets.map((sheet, i) => (i === 0 ? { ...sheet, ...change } : sheet)) };
}
const SHEET = "xl/worksheets/sheet1.xml";
const made = (rows: string, more: Partial<Handmade> = {}, after = "") =>
  handmade({ sheets: { Trials: `<sheetData>${rows}</sheetData>${after}` }, ...more });

describe("BANK formulas", () => {
  it("are kept in the one form in which Excel computes them", async () => {
    const { bytes, notes } = await saveCopy(
      null,
      bookOf([
        {
          name: "Trials",
          rows: [
            [{ value: 1, formula: "BANK.BEND(B1)" }, { value: 0.125 }],
            [
              { value: "1 1/8", formula: 'IF(B1="","",BANK.FRACTION(B1))' },
              { value: 0.5, formula: "B1*4" },
            ],
            [
              { value: { error: "#VALUE!" }, formula: "bank.bend(B9)" },
              { value: true, formula: "BANK.BEND(1)>0" },
            ],
            [
              { value: 1, formula: "BANK.SPREAD(B1:B3)", spill: { row: 3, column: 0, rows: 1, columns: 2 } },
              { value: 0.25, spilled: true },
            ],
          ],
        },
      ]),
    );
    expect(notes).toEqual([]);
    const parts = partsOf(bytes);
    expect(parts[SHEET]).toContain('<c r="A1" cm="1"><f t="array" ref="A1">_xldudf_BANK_BEND(B1)</f><v>1</v></c>');
    expect(parts[SHEET]).toContain(
      '<c r="A2" t="str" cm="1"><f t="array" ref="A2">IF(B1=&quot;&quot;,&quot;&quot;,_xldudf_BANK_FRACTION(B1))</f><v>1 1/8</v></c>',
    );
    expect(parts[SHEET]).toContain('<c r="B2"><f>B1*4</f><v>0.5</v></c>');
    expect(parts[SHEET]).toContain(
      '<c r="A3" t="e" cm="1"><f t="array" ref="A3">_xldudf_BANK_BEND(B9)</f><v>#VALUE!</v></c>',
    );
    expect(parts[SHEET]).toContain(
      '<c r="B3" t="b" cm="1"><f t="array" ref="B3">_xldudf_BANK_BEND(1)&gt;0</f><v>1</v></c>',
    );
    expect(parts[SHEET]).toContain(
      '<c r="A4" cm="1"><f t="array" ref="A4:B4">_xldudf_BANK_SPREAD(B1:B3)</f><v>1</v></c><c r="B4"><v>0.25</v></c>',
    );
    expect(parts["xl/metadata.xml"]).toMatch(
      /<metadataType name="XLDAPR"[^>]* cellMeta="1"\/>.*fDynamic="1" fCollapsed="0".*<cellMetadata count="1"><bk><rc t="1" v="0"\/><\/bk><\/cellMetadata>/s,
    );
    expect(parts["xl/_rels/workbook.xml.rels"]).toContain('relationships/sheetMetadata" Target="metadata.xml"');
    expect(parts["[Content_Types].xml"]).toContain(
      'PartName="/xl/metadata.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheetMetadata+xml"',
    );
    expect(parts["xl/workbook.xml"]).toContain('<calcPr fullCalcOnLoad="1"/>');
  });

  it("are mended where another program kept them in a form that stays #NAME?", async () => {
    const original = made(
      '<row r="1"><c r="A1" t="e"><f>BANK.BEND(B1)</f><v>#NAME?</v></c><c r="B1"><v>1</v></c></row>',
    );
    const parts = partsOf((await saveCopy(original, await readXlsx(original))).bytes);
    expect(parts[SHEET]).toContain(
      '<c r="A1" t="e" cm="1"><f t="array" ref="A1">_xldudf_BANK_BEND(B1)</f><v>#NAME?</v></c>',
    );
  });

  it("join the metadata that is there", async () => {
    const metadata =
      '<metadata xmlns="m"><metadataTypes count="1"><metadataType name="XLRICHVALUE"/></metadataTypes><futureMetadata name="XLRICHVALUE" count="1"><bk/></futureMetadata><valueMetadata count="1"><bk><rc t="1" v="0"/></bk></valueMetadata></metadata>';
    const original = made('<row r="1"><c r="B1"><v>1</v></c></row>', {
      workbookRelations: { sheetMetadata: "metadata.xml" },
      parts: { "xl/metadata.xml": metadata },
    });
    const first = await saveCopy(
      original,
      withCells(await readXlsx(original), [[0, 0, { value: 1, formula: "BANK.BEND(B1)" }]]),
    );
    const parts = partsOf(first.bytes);
    expect(parts["xl/metadata.xml"]).toMatch(
      /^<metadata xmlns="m"><metadataTypes count="2"><metadataType name="XLRICHVALUE"\/><metadataType name="XLDAPR".*<futureMetadata name="XLRICHVALUE" count="1"><bk\/><\/futureMetadata><futureMetadata name="XLDAPR" count="1">.*<cellMetadata count="1"><bk><rc t="2" v="0"\/><\/bk><\/cellMetadata><valueMetadata/,
    );
    expect(parts[SHEET]).toContain('<c r="A1" cm="1">');
    // A second copy finds the mark and adds none.
    const second = await saveCopy(
      first.bytes,
      withCells(await readXlsx(first.bytes), [[1, 0, { value: 1, formula: "BANK.BEND(B1)" }]]),
    );
    expect(partsOf(second.bytes)["xl/metadata.xml"]).toBe(parts["xl/metadata.xml"]);
  });
});

describe("a copy of a file", () => {
  const rows =
    '<row r="1" spans="1:2" ht="30" customHeight="1"><c r="A1" s="0" t="s"><v>0</v></c><c r="B1"><f t="shared" ref="B1:B3" si="0">LEN(A1)</f><v>3</v></c></row>' +
    '<row r="2"><c r="A2" t="s"><v>1</v></c><c r="B2"><f t="shared" si="0"/><v>4</v></c></row><row r="3"><c r="B3"><f t="shared" si="0"/><v>0</v></c></row>';
  const after =
    '<conditionalFormatting sqref="A1"><cfRule type="expression" priority="1"><formula>Trials!A1&gt;0</formula></cfRule></conditionalFormatting><drawing r:id="rId1"/>';
  const image = Uint8Array.from({ length: 999 }, (_, i) => (i * 7) % 256);
  const original = made(
    rows,
    {
      strings: ["Gap", "<r><t>Be</t></r><r><rPr><b/></rPr><t>nd</t></r>"],
      workbookRelations: { calcChain: "calcChain.xml" },
      sheetRelations: { drawing: "../drawings/drawing1.xml" },
      parts: {
        "xl/calcChain.xml": '<calcChain><c r="B1" i="1"/></calcChain>',
        "xl/drawings/drawing1.xml": "<wsDr/>",
        "xl/drawings/_rels/drawing1.xml.rels":
          '<Relationships><Relationship Id="rId1" Type="x/chart" Target="../charts/chart1.xml"/></Relationships>',
        "xl/charts/chart1.xml": "<c:chartSpace><c:f>Trials!$A$1:$A$3</c:f></c:chartSpace>",
        "xl/media/image1.png": image,
        "custom/unknown.bin": image,
      },
      overrides: { "xl/calcChain.xml": "calc", "xl/drawings/drawing1.xml": "drawing", "xl/charts/chart1.xml": "chart" },
    },
    after,
  );

  it("is the same, part by part, when nothing changed", async () => {
    const { bytes, notes } = await saveCopy(original, await readXlsx(original));
    expect(partsOf(bytes)).toEqual(partsOf(original));
    expect(notes).toEqual([]);
  });

  it("differs in the changed cell alone", async () => {
    const before = partsOf(original);
    const book = withCells(await readXlsx(original), [[1, 0, { value: "Bend, in" }]]);
    const after = partsOf((await saveCopy(original, book)).bytes);
    expect(after[SHEET]).toBe(before[SHEET].replace('<c r="A2" t="s"><v>1</v></c>', '<c r="A2" t="s"><v>2</v></c>'));
    expect(after["xl/sharedStrings.xml"]).toBe(
      before["xl/sharedStrings.xml"].replace("</sst>", '<si><t xml:space="preserve">Bend, in</t></si></sst>'),
    );
    const touched = Object.keys(before).filter((name) => after[name] !== before[name]);
    expect(touched.sort()).toEqual([SHEET, "xl/sharedStrings.xml", "xl/workbook.xml"].sort());
    expect(after["xl/workbook.xml"]).toContain('fullCalcOnLoad="1"');
  });

  it("asks to be computed anew only where a value may be stale", async () => {
    const book = withCells(await readXlsx(original), [[1, 0, { value: "Bend, in" }]]);
    const wish = async (one: Book, computed: boolean) =>
      partsOf((await saveCopy(original, one, { computed })).bytes)["xl/workbook.xml"]?.includes("fullCalcOnLoad");
    expect(await wish(book, false)).toBe(true);
    expect(await wish(book, true)).toBe(false);
    const kept = [{ sheet: book.sheets[0]!.name, row: 0, column: 1, why: "not computed here" }];
    expect(await wish({ ...book, kept }, true)).toBe(true);
    const plain = { ...book, sheets: [{ ...book.sheets[0]!, rows: [[{ value: "no formula" }]] }] };
    expect(await wish(plain, false)).toBe(false);
  });

  it("drops the calculation chain when a formula changed, and only then", async () => {
    const book = await readXlsx(original);
    const value = partsOf(
      (await saveCopy(original, withCells(book, [[0, 1, { ...book.sheets[0].rows[0]![1]!, value: 5 }]]))).bytes,
    );
    expect(value[SHEET]).toContain('<c r="B1"><f t="shared" ref="B1:B3" si="0">LEN(A1)</f><v>5</v></c>');
    expect(value["xl/calcChain.xml"]).toBeDefined();
    const formula = partsOf(
      (await saveCopy(original, withCells(book, [[2, 1, { value: 1, formula: "LEN(A2)" }]]))).bytes,
    );
    expect(formula["xl/calcChain.xml"]).toBeUndefined();
    expect(formula["xl/_rels/workbook.xml.rels"]).not.toContain("calcChain");
    expect(formula["[Content_Types].xml"]).not.toContain("calcChain");
  });

  it("gives the followers of a shared formula their own when its leader goes", async () => {
    const book = withCells(await readXlsx(original), [
      [0, 1, { value: 9 }],
      [2, 1, { value: 7, formula: "LEN(A3)" }],
    ]);
    const { bytes } = await saveCopy(original, book);
    expect(partsOf(bytes)[SHEET]).toContain(
      '<c r="B1"><v>9</v></c></row><row r="2"><c r="A2" t="s"><v>1</v></c><c r="B2"><f>LEN(A2)</f><v>4</v></c></row><row r="3"><c r="B3"><f>LEN(A3)</f><v>7</v></c></row>',
    );
    expect((await readXlsx(bytes)).sheets[0].rows).toEqual(book.sheets[0].rows);
  });

  it("leaves a shared formula be when a follower goes", async () => {
    const { bytes } = await saveCopy(original, withCells(await readXlsx(original), [[1, 1, { value: 9 }]]));
    expect(partsOf(bytes)[SHEET]).toContain(
      '<c r="B2"><v>9</v></c></row><row r="3"><c r="B3"><f t="shared" si="0"/><v>0</v></c>',
    );
  });

  it("puts new cells and rows in their places and blanks others", async () => {
    const book = withCells(await readXlsx(original), [
      [0, 0, undefined],
      [0, 3, { value: true }],
      [4, 1, { value: 5 }],
      [7, 0, { value: "end" }],
    ]);
    const { bytes } = await saveCopy(original, book);
    const xml = partsOf(bytes)[SHEET];
    expect(xml).toContain('<row r="1" ht="30" customHeight="1"><c r="A1"/>');
    expect(xml).toContain('<v>3</v></c><c r="D1" t="b"><v>1</v></c></row>');
    expect(xml).toContain(
      '<row r="5"><c r="B5"><v>5</v></c></row><row r="8"><c r="A8" t="s"><v>2</v></c></row></sheetData>',
    );
    expect(xml).toContain(after);
  });

  it("adds looks behind the file's own", async () => {
    const book = await readXlsx(original);
    const port = new FilePort(book);
    const name = await port.addSheet({
      name: "Results",
      rows: [
        [
          { value: "Bend", bold: true },
          { value: 46030, format: "yyyy-mm-dd" },
          { value: "a\nb", wrap: true },
        ],
      ],
      columnWidths: [20],
    });
    const { bytes } = await saveCopy(original, port.book);
    const back = await readXlsx(bytes);
    expect(back.sheets.map((sheet) => sheet.name)).toEqual(["Trials", name]);
    expect(back.sheets[0].rows).toEqual(book.sheets[0].rows);
    const looks = back.sheets[1].rows[0]!.map((cell) => back.styles[cell!.style!]);
    expect(looks).toEqual([{ bold: true }, { format: "yyyy-mm-dd" }, { wrap: true }]);
    expect(back.sheets[1].columnWidths).toEqual([20]);
    const parts = partsOf(bytes);
    expect(parts[SHEET]).toBe(partsOf(original)[SHEET]);
    expect(parts["xl/worksheets/sheet2.xml"]).toContain("<cols>");
    expect(parts["[Content_Types].xml"]).toContain("/xl/worksheets/sheet2.xml");
  });

  it("follows a sheet's new name into charts and rules", async () => {
    const book = withSheet(await readXlsx(original), { name: "Bo's log" });
    const { bytes } = await saveCopy(original, book);
    const parts = partsOf(bytes);
    expect(parts["xl/workbook.xml"]).toContain('name="Bo\'s log"');
    expect(parts["xl/charts/chart1.xml"]).toContain("'Bo''s log'!$A$1:$A$3");
    expect(parts[SHEET]).toContain("<formula>'Bo''s log'!A1&gt;0</formula>");
    expect((await readXlsx(bytes)).sheets[0].name).toBe("Bo's log");
  });

  it("removes a sheet with all that hangs on it, and nothing else", async () => {
    const book = await readXlsx(original);
    const { bytes } = await saveCopy(original, {
      ...book,
      sheets: bookOf([{ name: "New", rows: [[{ value: 1 }]] }]).sheets,
    });
    const parts = partsOf(bytes);
    expect(parts["xl/charts/chart1.xml"]).toBeUndefined();
    expect(parts["xl/drawings/drawing1.xml"]).toBeUndefined();
    expect(parts["custom/unknown.bin"]).toBeDefined();
    expect((await readXlsx(bytes)).sheets.map((sheet) => sheet.name)).toEqual(["New"]);
  });

  it("does not change the bytes it was given", async () => {
    const given = original.slice();
    await saveCopy(given, withCells(await readXlsx(given), [[0, 0, { value: 1 }]]));
    expect(given).toEqual(original);
  });
});

describe("tables", () => {
  const table =
    '<table xmlns="m" id="1" name="Trials" displayName="Trials" ref="A1:B3"><autoFilter ref="A1:B3"/><tableColumns count="2"><tableColumn id="1" name="Gap"/><tableColumn id="2" name="Bend"/></tableColumns></table>';
  const original = handmade({
    sheets: {
      Log: '<sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c></row><row r="2"><c r="A2"><v>1</v></c></row><row r="3"><c r="D3"><f>SUM(Trials[Gap])</f><v>1</v></c></row></sheetData><tableParts count="1"><tablePart r:id="rId1"/></tableParts>',
    },
    strings: ["Gap", "Bend"],
    sheetRelations: { table: "../tables/table1.xml" },
    parts: { "xl/tables/table1.xml": table },
    overrides: { "xl/tables/table1.xml": "table" },
  });
  const shifted = (book: Book): Book["sheets"][number]["rows"] => [[{ value: "note" }], ...book.sheets[0].rows];

  it("move along when their header moved with them", async () => {
    const book = await readXlsx(original);
    const { bytes, notes } = await saveCopy(
      original,
      withSheet(book, {
        rows: shifted(book),
        tables: [{ name: "Trials", area: { row: 1, column: 0, rows: 3, columns: 2 } }],
      }),
    );
    expect(notes).toEqual([]);
    expect(partsOf(bytes)["xl/tables/table1.xml"]).toBe(table.replace(/A1:B3/g, "A2:B4"));
  });

  it("take a header that was typed over, unless a formula names the old one", async () => {
    const book = await readXlsx(original);
    const renamed = withCells(book, [[0, 1, { value: "Bend\n(in)" }]]);
    const kept = await saveCopy(original, renamed);
    expect(kept.notes).toEqual([]);
    expect(partsOf(kept.bytes)["xl/tables/table1.xml"]).toBe(table.replace('name="Bend"', 'name="Bend_x000a_(in)"'));
    expect((await saveCopy(kept.bytes, await readXlsx(kept.bytes))).notes).toEqual([]);
    const named = await saveCopy(original, withCells(book, [[0, 0, { value: "Gap (in)" }]]));
    expect(named.notes.join()).toMatch(/was not kept as a table/);
  });

  it("are not made where a header is missing, doubled or no text", async () => {
    for (const headers of [
      ["Gap", null],
      ["Gap", "gap"],
      ["Gap", 2026],
    ]) {
      const book = bookOf([
        {
          name: "Log",
          rows: [headers.map((value) => ({ value })), [{ value: 1 }, { value: 2 }]],
          tables: [{ name: "Trials", area: { row: 0, column: 0, rows: 2, columns: 2 } }],
        },
      ]);
      const { bytes, notes } = await saveCopy(null, book);
      expect(notes.join()).toMatch(/table Trials .*header of its own/);
      expect((await readXlsx(bytes)).sheets[0].tables).toEqual([]);
    }
  });

  it("are given up with a note when the header is no longer theirs, with formulas that name them", async () => {
    const book = await readXlsx(original);
    const { bytes, notes } = await saveCopy(original, withSheet(book, { rows: shifted(book) }));
    expect(notes.join("\n")).toMatch(/table Trials on the sheet "Log".*Gap, Bend.*\n.*kept as their values/);
    const parts = partsOf(bytes);
    expect(parts["xl/tables/table1.xml"]).toBeUndefined();
    expect(parts["[Content_Types].xml"]).not.toContain("table1");
    expect(parts[SHEET]).not.toContain("tablePart");
    expect((await readXlsx(bytes)).sheets[0].rows[3]?.[3]).toEqual({ value: 1 });
  });
});

describe("what a file cannot hold", () => {
  it("is kept escaped, cut with a note, or written as the nearest error", async () => {
    const book = bookOf([
      {
        name: "Trials",
        rows: [
          [
            { value: "bell \u0007 _x0007_ \ud800 \r\n <&>" },
            { value: "x".repeat(40_000) },
            { value: { error: "#SPILL!" } },
            { value: Infinity },
          ],
        ],
      },
    ]);
    const { bytes, notes } = await saveCopy(null, book);
    const row = (await readXlsx(bytes)).sheets[0].rows[0]!.map((cell) => cell!.value);
    expect(row[0]).toBe("bell \u0007 _x0007_ \ud800 \r\n <&>");
    expect(String(row[1]).length).toBe(32_767);
    expect(row.slice(2)).toEqual([{ error: "#VALUE!" }, { error: "#NUM!" }]);
    expect(notes.join()).toMatch(/row 1 .*32767/);
  });

  it("puts the choices of a drop-down list that is too long for a file into cells of a hidden sheet", async () => {
    const choices = [...Array.from({ length: 40 }, (_, i) => `choice ${i}`), "red, worn"];
    const areas = [{ row: 0, column: 0, rows: 9, columns: 1 }];
    const { bytes, notes } = await saveCopy(null, bookOf([{ name: "Trials", validations: [{ areas, choices }] }]));
    expect(notes).toEqual([]);
    const other = new ExcelJS.Workbook();
    await other.xlsx.load(bytes.buffer as ArrayBuffer);
    expect(other.getWorksheet("Trials")!.getCell("A3").dataValidation.formulae).toEqual(["Lists!$A$1:$A$41"]);
    expect(other.getWorksheet("Lists")!.state).toBe("hidden");
    expect(other.getWorksheet("Lists")!.getCell("A41").value).toBe("red, worn");
  });

  it("leaves such a list of a file as the file has it", async () => {
    const list = `<dataValidations count="1"><dataValidation type="list" sqref="B1:B9"><formula1>"${"y".repeat(300)}"</formula1></dataValidation></dataValidations>`;
    const original = made('<row r="1"><c r="A1"><v>1</v></c></row>', {}, list);
    const { bytes } = await saveCopy(original, withCells(await readXlsx(original), [[0, 0, { value: 2 }]]));
    expect(partsOf(bytes)[SHEET]).toBe(partsOf(original)[SHEET].replace("<v>1</v>", "<v>2</v>"));
  });
});

it("writes dates from 1904 back as the file counts them", async () => {
  const original = made('<row r="1"><c r="A1" s="1"><v>44568</v></c></row>', {
    workbookPr: '<workbookPr date1904="1"/>',
    styles:
      '<fonts count="1"><font/></fonts><fills count="1"><fill/></fills><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs>',
  });
  const book = withCells(await readXlsx(original), [[1, 0, { value: 46031, style: 1 }]]);
  const xml = partsOf((await saveCopy(original, book)).bytes)[SHEET];
  expect(xml).toContain('<c r="A1" s="1"><v>44568</v></c>');
  expect(xml).toContain('<c r="A2" s="1"><v>44569</v></c>');
});

it("keeps settings in a custom XML part that a second save rewrites", async () => {
  const text = '{"response":"Bend <in> & \\u0007"}\r\n\u0001';
  const first = await saveCopy(null, bookOf([{ name: "Trials" }], { settings: "{}" }));
  const second = await saveCopy(first.bytes, { ...(await readXlsx(first.bytes)), settings: text });
  const parts = partsOf(second.bytes);
  expect((await readXlsx(second.bytes)).settings).toBe(text);
  expect(parts["customXml/item1.xml"]).toContain('xmlns="urn:bendbook:settings"');
  expect(parts["customXml/item2.xml"]).toBeUndefined();
  expect(parts["xl/_rels/workbook.xml.rels"]).toContain("../customXml/item1.xml");
});

it("keeps sheets in the Book's order, with names that belong to one sheet following it", async () => {
  const cells = (n: number) => `<sheetData><row r="1"><c r="A1"><v>${n}</v></c></row></sheetData>`;
  const original = handmade({
    sheets: { A: cells(1), B: cells(2), C: cells(3) },
    workbookPr: '<bookViews><workbookView activeTab="2"/></bookViews>',
    afterSheets:
      '<definedNames><definedName name="_xlnm.Print_Area" localSheetId="1">B!$A$1</definedName><definedName name="_xlnm.Print_Area" localSheetId="0">A!$A$1</definedName></definedNames>',
  });
  const book = await readXlsx(original);
  const { bytes } = await saveCopy(original, {
    ...book,
    sheets: [book.sheets[2], { ...book.sheets[1], hidden: true }],
  });
  const xml = partsOf(bytes)["xl/workbook.xml"];
  expect((await readXlsx(bytes)).sheets.map(({ name, hidden }) => [name, hidden])).toEqual([
    ["C", undefined],
    ["B", true],
  ]);
  expect(xml).toContain('activeTab="0"');
  expect(xml).toContain(
    '<definedNames><definedName name="_xlnm.Print_Area" localSheetId="1">B!$A$1</definedName></definedNames>',
  );
});

it("leaves lists that nobody changed byte for byte, however they are written", async () => {
  const lists =
    '<dataValidations disablePrompts="1" xWindow="5"><dataValidation type="list"  sqref="A2"><formula1>"a,b"</formula1></dataValidation></dataValidations>';
  const original = made('<row r="1"><c r="A1"><v>1</v></c></row>', {}, `${lists}<pageMargins/>`);
  const { bytes } = await saveCopy(original, withCells(await readXlsx(original), [[0, 0, { value: 2 }]]));
  expect(partsOf(bytes)[SHEET]).toContain(lists);
});

it("changes merged cells, hidden rows and lists of a sheet that is there", async () => {
  const other = '<dataValidation type="whole" sqref="D2"><formula1>1</formula1></dataValidation>';
  const original = made(
    '<row r="1" hidden="1"><c r="A1"><v>1</v></c></row>',
    {},
    `<mergeCells count="1"><mergeCell ref="B1:C1"/></mergeCells><dataValidations count="2"><dataValidation type="list" sqref="A1"><formula1>"a,b"</formula1></dataValidation>${other}</dataValidations><pageMargins/>`,
  );
  const lists = [{ areas: [{ row: 4, column: 0, rows: 2, columns: 1 }], choices: ["slow", "fast"] }];
  const merged = [{ row: 3, column: 1, rows: 1, columns: 2 }];
  const { bytes } = await saveCopy(
    original,
    withSheet(await readXlsx(original), { hiddenRows: [5], merged, validations: lists }),
  );
  const back = (await readXlsx(bytes)).sheets[0];
  expect([back.hiddenRows, back.merged, back.validations]).toEqual([[5], merged, lists]);
  expect(partsOf(bytes)[SHEET]).toContain(other);
  expect(partsOf(bytes)[SHEET]).toContain('<dataValidations count="2">');
});

it("writes in the prefix that the file uses", async () => {
  const prefixed = (xml: string) => xml.replace(/<(\/?)(?=[a-z])/gi, "<$1x:").replace(/ xmlns=/g, " xmlns:x=");
  const parts = partsOf(
    made('<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1"><v>1</v></c></row>', { strings: ["Gap"] }),
  );
  const original = zipSync(
    Object.fromEntries(
      Object.entries(parts).map(([name, xml]) => [
        name,
        strToU8(/\.rels$|Content_Types/.test(name) ? xml : prefixed(xml)),
      ]),
    ),
  );
  const book = await readXlsx(original);
  expect(book.sheets[0].rows[0]?.map((cell) => cell?.value)).toEqual(["Gap", 1]);
  const styled = {
    ...withCells(book, [
      [0, 0, { value: "Offset", style: 1 }],
      [3, 2, { value: 1, formula: "BANK.BEND(B1)" }],
    ]),
    styles: [{}, { bold: true, format: "0.000" }],
    names: [{ name: "Gaps", reference: "Trials!$A$1" }],
  };
  const { bytes } = await saveCopy(original, styled);
  const after = partsOf(bytes);
  for (const name of [SHEET, "xl/workbook.xml", "xl/sharedStrings.xml", "xl/styles.xml"])
    expect(after[name], name).not.toMatch(/<\/?(?!x:)[a-z]/i);
  const back = await readXlsx(bytes);
  expect(back.sheets[0].rows[0]?.[0]).toEqual({ value: "Offset", style: 1 });
  expect(back.sheets[0].rows[3]?.[2]).toEqual({ value: 1, formula: "BANK.BEND(B1)" });
  expect([back.styles[1], back.names]).toEqual([styled.styles[1], styled.names]);
});

it("changes widths and frozen rows of a sheet that is there, and keeps what stands beside them", async () => {
  const original = handmade({
    sheets: {
      Trials:
        '<sheetViews><sheetView zoomScale="80" workbookViewId="0"><selection activeCell="B2"/></sheetView></sheetViews><cols><col min="1" max="3" width="9" style="1" bestFit="1"/></cols><sheetData/>',
    },
  });
  const book = withSheet(await readXlsx(original), {
    columnWidths: [9, 20, 9.01, undefined, 12],
    frozenRows: 1,
    frozenColumns: 2,
  });
  const { bytes } = await saveCopy(original, book);
  const xml = partsOf(bytes)[SHEET];
  expect(xml).toContain(
    '<cols><col min="1" max="1" width="9" style="1" bestFit="1"/><col min="2" max="2" width="20" style="1" customWidth="1"/><col min="3" max="3" width="9" style="1" bestFit="1"/><col min="5" max="5" width="12" customWidth="1"/></cols>',
  );
  expect(xml).toContain(
    '<sheetView zoomScale="80" workbookViewId="0"><pane xSplit="2" ySplit="1" topLeftCell="C2" activePane="bottomRight" state="frozen"/>',
  );
  const back = (await readXlsx(bytes)).sheets[0];
  expect([back.columnWidths, back.frozenRows, back.frozenColumns]).toEqual([[9, 20, 9, undefined, 12], 1, 2]);
  const thawed = (
    await readXlsx((await saveCopy(bytes, withSheet(book, { frozenRows: undefined, frozenColumns: undefined }))).bytes)
  ).sheets[0];
  expect([thawed.frozenRows, thawed.frozenColumns]).toEqual([undefined, undefined]);
});

it("puts what stands around the cells where the format wants it, on a sheet that had none of it", async () => {
  const original = handmade({
    sheets: {
      Trials:
        '<sheetPr/><sheetFormatPr defaultRowHeight="15"/><sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData><sheetProtection/><conditionalFormatting sqref="A1"/><pageMargins/><drawing r:id="rId9"/>',
    },
  });
  const around = {
    columnWidths: [undefined, 20],
    frozenRows: 1,
    merged: [{ row: 3, column: 1, rows: 1, columns: 2 }],
    validations: [{ areas: [{ row: 4, column: 0, rows: 2, columns: 1 }], choices: ["slow", "fast"] }],
  };
  const { bytes } = await saveCopy(original, withSheet(await readXlsx(original), around));
  const children = [
    ...partsOf(bytes)
      [SHEET]!.replace(/<sheetData>.*<\/sheetData>/s, "<sheetData/>")
      .matchAll(/<(\w+)/g),
  ]
    .map(([, name]) => name)
    .filter(
      (name) => !["sheetView", "pane", "selection", "col", "mergeCell", "dataValidation", "formula1"].includes(name!),
    );
  // ECMA-376 part 1, 18.3.1.99: the order of a worksheet's children.
  expect(children).toEqual([
    "worksheet",
    "sheetPr",
    "sheetViews",
    "sheetFormatPr",
    "cols",
    "sheetData",
    "sheetProtection",
    "mergeCells",
    "conditionalFormatting",
    "dataValidations",
    "pageMargins",
    "drawing",
  ]);
  expect((await readXlsx(bytes)).sheets[0]).toMatchObject(around);
  // Taken away again, none of it is left.
  const bare = { columnWidths: [], merged: [], validations: [], frozenRows: undefined };
  const { bytes: again } = await saveCopy(bytes, withSheet(await readXlsx(bytes), bare));
  expect((await readXlsx(again)).sheets[0]).toMatchObject({ merged: [], validations: [] });
  expect(partsOf(again)[SHEET]).not.toMatch(/mergeCell|dataValidation|<pane/);
});

describe("headings of a table in the file", () => {
  const table = (columns: readonly string[], more = "") =>
    `<table xmlns="x" id="1" name="Trials" displayName="Trials" ref="A1:${"ABCD"[columns.length - 1]}3"${more}><tableColumns count="${columns.length}">${columns.map((name, i) => `<tableColumn id="${i + 1}" name="${name}"/>`).join("")}</tableColumns></table>`;
  const cell = (address: string, text: string) => `<c r="${address}" t="inlineStr"><is><t>${text}</t></is></c>`;
  async function saved(columns: readonly string[], headings: readonly BookCell["value"][], more = "") {
    const row = (r: number, texts: readonly string[]) =>
      `<row r="${r}">${texts.map((text, c) => cell(`${"ABCD"[c]}${r}`, text)).join("")}</row>`;
    const original = made(
      [columns, columns.map(() => "a"), columns.map(() => "b")].map((texts, r) => row(r + 1, texts)).join(""),
      { sheetRelations: { table: "../tables/table1.xml" }, parts: { "xl/tables/table1.xml": table(columns, more) } },
      '<tableParts count="1"><tablePart r:id="rId1"/></tableParts>',
    );
    const book = withCells(
      await readXlsx(original),
      headings.map((value, c) => [0, c, value === null ? undefined : { value }] as const),
    );
    const { bytes, notes } = await saveCopy(original, book);
    return { notes, row: (await readXlsx(bytes)).sheets[0]!.rows[0]?.map((one) => one?.value) };
  }

  it("are mended where half of them or more are the table's own", async () => {
    const { row, notes } = await saved(["Gap", "Bend"], [7, "Bend"]);
    expect(row).toEqual(["7", "Bend"]);
    expect(notes).toEqual([
      'The table Trials needs a heading of its own in A1 of the sheet "Trials": the copy has "7" there.',
    ]);
    expect((await saved(["Gap", "Bend", "Note"], ["Gap", "Bend", null])).row).toEqual(["Gap", "Bend", "Column3"]);
    expect((await saved(["Gap", "Bend", "Note"], ["Bend", "Bend", "Note"])).row).toEqual(["Bend2", "Bend", "Note"]);
    expect((await saved(["Gap", "Bend"], ["Gap", "Bend"])).notes).toEqual([]);
  });

  it("are left alone where most of them are others, and where the table shows none", async () => {
    expect(await saved(["Gap", "Bend", "Note"], [1, 2, "Note"])).toEqual({
      row: [1, 2, "Note"],
      notes: [expect.stringContaining("was not kept as a table, because its header row no longer matches")],
    });
    expect(await saved(["Gap", "Bend"], [7, "Bend"], ' headerRowCount="0"')).toEqual({ row: [7, "Bend"], notes: [] });
  });
});

it("leaves a part byte for byte that holds a renamed sheet's name as mere text", async () => {
  const note = strToU8('\ufeff<?xml version="1.0"?><note>Trials</note>');
  const original = made('<row r="1"><c r="A1"><v>1</v></c></row>', {
    workbookRelations: { note: "note.xml" },
    parts: { "xl/note.xml": note },
  });
  const book = withSheet(await readXlsx(original), { name: "Kept" });
  const { bytes } = await saveCopy(original, book);
  expect(unzipSync(bytes)["xl/note.xml"]).toEqual(note);
  expect((await readXlsx(bytes)).sheets[0]!.name).toBe("Kept");
});

it("says what a copy with macros has to be called, and nothing of it where there are none", async () => {
  const rows = '<row r="1"><c r="A1"><v>1</v></c></row>';
  const plain = made(rows);
  expect((await saveCopy(plain, await readXlsx(plain))).notes).toEqual([]);
  const macros = made(rows, {
    workbookRelations: { vbaProject: "vbaProject.bin" },
    parts: { "xl/vbaProject.bin": Uint8Array.of(1, 2, 3) },
  });
  expect((await saveCopy(macros, await readXlsx(macros))).notes).toEqual([
    "The workbook has macros; give the copy a name that ends in .xlsm.",
  ]);
});

it("is read by another library with the same values", async () => {
  const book = bookOf(
    [
      {
        name: "Bo's log",
        rows: [
          [{ value: "Day" }, { value: "Gap", style: 1 }],
          [{ value: 46030, style: 2 }, { value: 0.125 }],
          [
            { value: 46031, style: 2 },
            { value: 2, formula: "SUM(B2)*16" },
          ],
        ],
        tables: [{ name: "Trials", area: { row: 0, column: 0, rows: 3, columns: 2 } }],
        columnWidths: [14],
        frozenRows: 1,
        merged: [{ row: 4, column: 0, rows: 1, columns: 2 }],
        hiddenRows: [2],
        validations: [{ areas: [{ row: 1, column: 2, rows: 9, columns: 1 }], choices: ["slow", "fast"] }],
      },
    ],
    { styles: [{}, { bold: true, fill: "#ffee00" }, { format: "yyyy-mm-dd" }] },
  );
  const other = new ExcelJS.Workbook();
  await other.xlsx.load((await saveCopy(null, book)).bytes.buffer as ArrayBuffer);
  const sheet = other.getWorksheet("Bo's log")!;
  expect(sheet.getCell("A2").value).toEqual(new Date(Date.UTC(2026, 0, 8)));
  expect(sheet.getCell("B2").value).toBe(0.125);
  expect(sheet.getCell("B3").value).toMatchObject({ formula: "SUM(B2)*16", result: 2 });
  expect(sheet.getCell("B1").font.bold).toBe(true);
  expect(sheet.getTable("Trials")).toBeDefined();
  expect(sheet.getColumn(1).width).toBe(14);
  expect(sheet.getRow(3).hidden).toBe(true);
  expect(sheet.getCell("B5").master.address).toBe("A5");
  expect(sheet.getCell("C2").dataValidation.formulae).toEqual(['"slow,fast"']);
});
