/**
 * Stored against computed, original against copy, on workbooks that are made here: every construct in which the
 * embedded engine and Excel differ, and every form of a part that a copy could lose. What is stored is what Excel
 * computes, by hand.
 */
import ExcelJS from "exceljs";
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { run } from "../../src/cli/main";
import { parseAddress } from "../../src/workbook/address";
import { createEngine } from "../../src/workbook/embedded/engine";
import { readXlsx } from "../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../src/workbook/file/save/saveCopy";
import { handmade, partsOf, type Handmade } from "../workbook/file/packages";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "bendbook-differential-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A cell's XML: a number, text in quotes, or [formula, stored value]. */
type Made = number | string | readonly [formula: string, stored: number | string | boolean | null, attributes?: string];

const escaped = (text: string) => text.replace(/&/g, "&amp;").replace(/</g, "&lt;");
function cellOf(address: string, made: Made): string {
  if (typeof made === "number") return `<c r="${address}"><v>${made}</v></c>`;
  if (typeof made === "string") return `<c r="${address}" t="inlineStr"><is><t>${escaped(made)}</t></is></c>`;
  const [formula, stored, attributes = ""] = made;
  const bank = /BANK\./.test(formula);
  const type =
    typeof stored === "string"
      ? stored.startsWith("#")
        ? ' t="e"'
        : ' t="str"'
      : typeof stored === "boolean"
        ? ' t="b"'
        : "";
  const f = bank
    ? `<f t="array" ref="${address}">${escaped(formula.replace(/BANK\.(\w+)/g, "_xldudf_BANK_$1"))}</f>`
    : `<f${attributes}>${escaped(formula)}</f>`;
  return `<c r="${address}"${type}${bank ? ' cm="1"' : ""}>${f}${stored === null ? "" : `<v>${escaped(String(typeof stored === "boolean" ? Number(stored) : stored))}</v>`}</c>`;
}
function rowsOf(cells: Readonly<Record<string, Made>>, hidden: readonly number[] = []): string {
  const rows = new Map<number, [number, string][]>();
  for (const [address, made] of Object.entries(cells)) {
    const { row, column } = parseAddress(address)!;
    rows.set(row, [...(rows.get(row) ?? []), [column, cellOf(address, made)]]);
  }
  const lines = [...rows]
    .sort(([a], [b]) => a - b)
    .map(
      ([row, line]) =>
        `<row r="${row + 1}"${hidden.includes(row) ? ' hidden="1"' : ""}>${line
          .sort(([a], [b]) => a - b)
          .map(([, xml]) => xml)
          .join("")}</row>`,
    );
  return `<sheetData>${lines.join("")}</sheetData>`;
}
const METADATA = {
  workbookRelations: { sheetMetadata: "metadata.xml" },
  parts: {
    "xl/metadata.xml":
      '<metadata xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:xda="http://schemas.microsoft.com/office/spreadsheetml/2017/dynamicarray"><metadataTypes count="1"><metadataType name="XLDAPR" minSupportedVersion="120000" cellMeta="1"/></metadataTypes>' +
      '<futureMetadata name="XLDAPR" count="1"><bk><extLst><ext uri="{bdbb8cdc-fa1e-496e-a857-3c3f30c029c3}"><xda:dynamicArrayProperties fDynamic="1" fCollapsed="0"/></ext></extLst></bk></futureMetadata><cellMetadata count="1"><bk><rc t="1" v="0"/></bk></cellMetadata></metadata>',
  },
  overrides: { "xl/metadata.xml": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheetMetadata+xml" },
};
const workbook = (sheets: Readonly<Record<string, string>>, more: Partial<Handmade> = {}) =>
  handmade({ sheets, ...METADATA, ...more });
const names = (...defined: (readonly [name: string, reference: string, sheet?: number])[]) =>
  `<definedNames>${defined.map(([name, reference, sheet]) => `<definedName name="${name}"${sheet === undefined ? "" : ` localSheetId="${sheet}"`}>${escaped(reference)}</definedName>`).join("")}</definedNames>`;

interface Answer {
  readonly formulas: number;
  readonly bank: number;
  readonly changed: readonly { sheet: string; cell: string; stored: unknown; computed: unknown }[];
  readonly kept: readonly { sheet: string; cell: string; why: string }[];
}
async function recalculated(original: Uint8Array, ending = "xlsx"): Promise<{ answer: Answer; copy: Buffer }> {
  const [file, out] = [join(folder, `log.${ending}`), join(folder, `copy.${ending}`)];
  writeFileSync(file, original);
  const said: string[] = [];
  const complaints: string[] = [];
  const code = await run(
    ["recalculate", file, "--out", out, "--force", "--json"],
    (text) => said.push(text),
    (text) => complaints.push(text),
    () => {},
  );
  expect([code, complaints]).toEqual([0, []]);
  return { answer: JSON.parse(said.join("\n")), copy: readFileSync(out) };
}
/** Values as another library reads them. */
async function secondReader(bytes: Uint8Array): Promise<ExcelJS.Workbook> {
  const reader = new ExcelJS.Workbook();
  await reader.xlsx.load(Buffer.from(bytes) as unknown as ArrayBuffer);
  return reader;
}
const numbers = { A1: 1, A2: 2, A3: 3, B1: 10, B2: 20, B3: 30 };

/** Formulas that only Excel computes rightly, each with the value that Excel stores. */
const KEPT: readonly (readonly [what: string, formula: string, stored: number | string, why: RegExp])[] = [
  ["a 3-D reference", "SUM(Log:March!A1)", 66, /several sheets/],
  ["a 3-D reference between quotes", "SUM('Log:March'!A1)", 66, /several sheets/],
  ["another workbook", "[1]Sheet1!A1+1", 8, /another workbook/],
  ["another workbook between quotes", "'[1]Year 1'!A1", 8, /another workbook/],
  ["XLOOKUP that takes the next smaller", "_xlfn.XLOOKUP(2.5,A1:A3,B1:B3,0,-1)", 20, /XLOOKUP is told how to search/],
  ["XLOOKUP from the end", "_xlfn.XLOOKUP(2,A1:A3,B1:B3,0,0,-1)", 20, /XLOOKUP is told how to search/],
  ["XMATCH by halving", "_xlfn.XMATCH(2,A1:A3,0,2)", 2, /XMATCH is told how to search/],
  ["VLOOKUP in a name", "VLOOKUP(2,Look,2,FALSE)", 20, /VLOOKUP searches the named range Look/],
  ["MATCH in a name", "MATCH(2,Days,0)", 2, /MATCH searches the named range Days/],
  ["a trailing empty argument", "IF(A1>5,1,)", 0, /argument of IF is left empty/],
  ["an empty argument between others", "IF(A1>0,,5)", 0, /argument of IF is left empty/],
  ["a moment", "NOW()*0+7", 7, /NOW may change/],
  ["a draw", "RAND()", 0.25, /RAND may change/],
  ["an address made of text", 'INDIRECT("A"&2)', 2, /INDIRECT may change/],
  ["a shifted range", "SUM(OFFSET(A1,0,0,3,1))", 6, /OFFSET may change/],
  ["an unknown function", "MYMACRO(A1)", 4, /MYMACRO is not known/],
  ["cells that two ranges share", "SUM(A1:A3 A2:B2)", 2, /two ranges have in common/],
  ["several ranges in one", "SUM((A1:A2,B1))", 13, /joins several ranges/],
  ["a name that moves", "Above+1", 5, /the name Above means other cells/],
  ["something nobody foresaw", "A1+1", 17, /comes out otherwise/],
  ["one cell of a range, as before dynamic arrays", "A1:A3*2", 2, /comes out otherwise/],
];

describe("formulas without a function of ours", () => {
  it.each(KEPT)("%s keeps its stored value, its text and every byte: %s", async (_, formula, stored, why) => {
    const original = workbook(
      {
        Log: rowsOf({
          ...numbers,
          D1: [formula, stored],
          E1: ["D1*2", typeof stored === "number" ? stored * 2 : 0],
          F1: ["BANK.BEND(D1)", 1.125 - Number(stored)],
        }),
        February: rowsOf({ A1: 5 }),
        March: rowsOf({ A1: 60 }),
      },
      { afterSheets: names(["Look", "Log!$A$1:$B$3"], ["Days", "Log!$A$1:$A$3"], ["Above", "Log!D1048576"]) },
    );
    const { answer, copy } = await recalculated(original);
    expect(answer).toMatchObject({ formulas: 3, bank: 1, changed: [] });
    expect(answer.kept).toEqual([{ sheet: "Log", cell: "D1", why: expect.stringMatching(why) }]);
    expect(partsOf(copy)).toEqual(partsOf(original));
  });

  it("that are computed as Excel does stay as they are too, last digits included", async () => {
    const original = workbook({
      Log: rowsOf({
        ...numbers,
        C1: "x",
        D1: ["SUM(A1:A3)", 6],
        D2: ["AVERAGE(B1:B3)/3", 6.66666666666667],
        D3: ["VLOOKUP(2,A1:B3,2,FALSE)", 20],
        D4: ['IF(A1>5,"big","")', ""],
        D5: ['C1&"y"', "xy"],
        D6: ["1/0", "#DIV/0!"],
        D7: ["A1=1", true],
        D8: ["SUBTOTAL(9,A1:A3)", 6],
      }),
    });
    const { answer, copy } = await recalculated(original);
    expect(answer).toMatchObject({ formulas: 8, bank: 0, changed: [], kept: [] });
    expect(partsOf(copy)).toEqual(partsOf(original));
  });

  it("follow a new value of a function of ours, in a chain, and nothing else", async () => {
    const original = workbook({
      Log: rowsOf({
        A1: 0.125,
        A2: 5,
        B1: ["BANK.BEND(A1)", 99],
        C1: ["B1*2", 198],
        D1: ["C1+A2", 203],
        E1: ["A2*2", 11],
        F1: ["E1+1", 12],
        G1: ["E1+C1", 209],
      }),
    });
    const { answer } = await recalculated(original);
    expect(answer.changed).toEqual([
      { sheet: "Log", cell: "B1", stored: 99, computed: 1 },
      { sheet: "Log", cell: "C1", stored: 198, computed: 2 },
      { sheet: "Log", cell: "D1", stored: 203, computed: 7 },
      // E1 was stored as 11 and keeps it, so G1 reads 11 + 2.
      { sheet: "Log", cell: "G1", stored: 209, computed: 13 },
    ]);
    expect(answer.kept.map(({ cell }) => cell)).toEqual(["E1"]);
    expect(answer).toMatchObject({ formulas: 6, bank: 1 });
  });

  it("follow through tables, names and whole columns", async () => {
    const table =
      '<table xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" id="1" name="Trials" displayName="Trials" ref="A1:B3"><autoFilter ref="A1:B3"/><tableColumns count="2"><tableColumn id="1" name="Gap"/><tableColumn id="2" name="Bend"/></tableColumns></table>';
    const original = handmade({
      sheets: {
        Log: `${rowsOf({ A1: "Gap", B1: "Bend", A2: 0.125, A3: 0.625, B2: ["BANK.BEND(A2)", 9], B3: ["BANK.BEND(A3)", 9], D1: ["SUM(Trials[Bend])", 18], D2: ["SUM(Bends)", 18], D3: ["SUM(B:B)", 18], D4: ["SUM(Trials[Gap])", 0.75], D5: ["SUM(Missing)", 4] })}<tableParts count="1"><tablePart r:id="rId1"/></tableParts>`,
      },
      ...METADATA,
      afterSheets: names(["Bends", "Log!$B$2:$B$3"]),
      sheetRelations: { table: "../tables/table1.xml" },
      parts: { ...METADATA.parts, "xl/tables/table1.xml": table },
      overrides: {
        ...METADATA.overrides,
        "xl/tables/table1.xml": "application/vnd.openxmlformats-officedocument.spreadsheetml.table+xml",
      },
    });
    const { answer, copy } = await recalculated(original);
    expect(answer.changed.map(({ cell, computed }) => [cell, computed])).toEqual([
      ["D1", 1.5],
      ["B2", 1],
      ["D2", 1.5],
      ["B3", 0.5],
      ["D3", 1.5],
    ]);
    expect(answer.kept.map(({ cell }) => cell)).toEqual(["D5"]);
    expect((await secondReader(copy)).getWorksheet("Log")!.getCell("D4").value).toMatchObject({
      formula: "SUM(Trials[Gap])",
      result: 0.75,
    });
  });

  it("over filtered rows keep what Excel counted", async () => {
    const original = workbook({
      Log: rowsOf(
        {
          ...numbers,
          D1: ["SUBTOTAL(9,A1:A3)", 4],
          D2: ["SUBTOTAL(109,A1:A3)", 4],
          D3: ["_xlfn.AGGREGATE(9,5,A1:A3)", 4],
          D4: ["SUM(A1:A3)", 6],
        },
        [1],
      ),
    });
    const { answer, copy } = await recalculated(original);
    expect(answer.changed).toEqual([]);
    expect(answer.kept.map(({ cell, why }) => [cell, why.replace(/ treats.*/, "")])).toEqual([
      ["D1", "SUBTOTAL"],
      ["D2", "SUBTOTAL"],
      ["D3", "AGGREGATE"],
    ]);
    expect(partsOf(copy)).toEqual(partsOf(original));
  });

  it("on days counted from 1904 keep what Excel counted", async () => {
    const dated =
      '<c r="A1" s="1"><v>44568</v></c><c r="B1" s="1"><f>A1+1</f><v>44569</v></c><c r="C1"><f>A1*1</f><v>44568</v></c><c r="D1"><f>YEAR(A1)</f><v>2026</v></c><c r="E1"><f>1+1</f><v>2</v></c>';
    const original = workbook(
      { Log: `<sheetData><row r="1">${dated}</row></sheetData>` },
      {
        workbookPr: '<workbookPr date1904="1"/>',
        styles:
          '<fonts count="1"><font/></fonts><fills count="1"><fill/></fills><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs>',
      },
    );
    const { answer, copy } = await recalculated(original);
    expect(answer.changed).toEqual([]);
    expect(answer.kept.map(({ cell, why }) => [cell, /1904/.test(why)])).toEqual([
      ["B1", true],
      ["C1", true],
      ["D1", true],
    ]);
    expect(partsOf(copy)).toEqual(partsOf(original));
  });
});

describe("a function of ours", () => {
  it("takes the names of its own sheet before the workbook's", async () => {
    const original = workbook(
      {
        Log: rowsOf({
          A1: 2.25,
          A2: ["BANK.BEND(0.5,Ball)", 0],
          A3: ["Ball*2", 4.5],
          A4: ["BANK.BEND(0.5,'Other log'!Ball)", 0],
        }),
        "Other log": rowsOf({ A1: 2, A2: ["BANK.BEND(0.5,Ball)", 0], A3: ["Ball*2", 4] }),
        Third: rowsOf({ A1: 3, A2: ["BANK.BEND(0.5,Ball)", 0] }),
      },
      { afterSheets: names(["Ball", "Log!$A$1", 0], ["Ball", "'Other log'!$A$1", 1], ["Ball", "Third!$A$1"]) },
    );
    const { answer, copy } = await recalculated(original);
    expect(answer.changed.map(({ sheet, cell, computed }) => [sheet, cell, computed])).toEqual([
      ["Log", "A2", 0.625],
      ["Log", "A4", 0.5],
      ["Other log", "A2", 0.5],
      ["Third", "A2", 1],
    ]);
    expect(answer.kept).toEqual([]);
    expect(partsOf(copy)["xl/workbook.xml"].replace(/<calcPr[^>]*>/, "")).toBe(partsOf(original)["xl/workbook.xml"]);
    expect(partsOf(copy)["xl/worksheets/sheet1.xml"]).toContain(">_xldudf_BANK_BEND(0.5,'Other log'!Ball)</f>");
  });

  it("that reads what is not computed here keeps its value, or computes from what is stored", async () => {
    const original = workbook({
      Log: rowsOf({
        A1: 1,
        B1: ["BANK.BEND(SUM(Log:March!A1))", -8],
        B2: ["SUM(Log:March!A1)", 0.125],
        B3: ["BANK.BEND(B2)", 99],
      }),
      March: rowsOf({ A1: 5 }),
    });
    const { answer } = await recalculated(original);
    expect(answer.changed).toEqual([{ sheet: "Log", cell: "B3", stored: 99, computed: 1 }]);
    expect(answer.kept.map(({ cell }) => cell)).toEqual(["B1", "B2"]);
  });
});

describe("the page's copy", () => {
  const original = workbook(
    {
      Log: rowsOf({
        ...numbers,
        D1: ["SUM(Log:March!A1)", 66],
        D2: ["VLOOKUP(2,Look,2,FALSE)", 20],
        D3: ["A1+1", 17],
        D4: ["A2*2", 4],
        D5: ["D1*2", 132],
        D6: ["Ball*1", 2],
      }),
      March: rowsOf({ A1: 65 }),
    },
    { afterSheets: names(["Look", "Log!$A$1:$B$3"], ["Ball", "Log!$A$2", 0], ["Ball", "Log!$A$3"]) },
  );

  it("holds an edit, what follows from it, and nothing else that is new", async () => {
    const engine = await createEngine(await readXlsx(original));
    try {
      engine.setCell("Log", 1, 0, 7);
      const { bytes, notes } = await saveCopy(original, await engine.recalculate());
      const wanted = partsOf(original)
        [SHEET].replace('<c r="A2"><v>2</v>', '<c r="A2"><v>7</v>')
        .replace("<f>A2*2</f><v>4</v>", "<f>A2*2</f><v>14</v>")
        .replace("<f>Ball*1</f><v>2</v>", "<f>Ball*1</f><v>7</v>");
      expect(partsOf(bytes)[SHEET]).toBe(wanted);
      expect(notes.join("\n")).toMatch(
        /3 formulas .*kept the values.*Log!D1 \(it reads the same cells of several sheets/,
      );
    } finally {
      engine.dispose();
    }
  });

  it("follows rows that were put in, with kept formulas and names of one sheet moving along", async () => {
    const engine = await createEngine(await readXlsx(original));
    try {
      engine.live.api.getActiveWorkbook()!.getSheetByName("Log")!.insertRowsBefore(1, 1);
      const moved = await engine.recalculate();
      const cells = Object.fromEntries(
        moved.sheets[0].rows.flatMap((row, r) =>
          (row ?? []).flatMap((cell, c) =>
            cell?.formula === undefined ? [] : [[`${r},${c}`, [cell.formula, cell.value]]],
          ),
        ),
      );
      expect(cells).toMatchObject({
        "0,3": ["SUM('Log:March'!A1)", 66],
        "2,3": [expect.stringContaining("VLOOKUP(2,Look"), 20],
        "3,3": ["A1+1", 17],
        "4,3": ["A3*2", 4],
        "5,3": ["D1*2", 132],
        "6,3": ["Ball*1", 2],
      });
      expect(moved.names).toContainEqual({ name: "Ball", reference: "Log!$A$3", sheet: "Log" });
      expect(moved.kept?.map(({ row }) => row)).toEqual([0, 2, 3]);
    } finally {
      engine.dispose();
    }
  });

  it("computes what is typed over a kept formula, and keeps what is typed and not computed here", async () => {
    const engine = await createEngine(await readXlsx(original));
    try {
      engine.setCell("Log", 2, 3, "=A1+100");
      engine.setCell("Log", 7, 3, "=SUM(Log:March!A1)");
      engine.setCell("Log", 0, 3, "=SUM(Log:March!A1)");
      const now = await engine.recalculate();
      expect(now.sheets[0].rows[0]?.[3]).toMatchObject({ value: 66 });
      expect(now.sheets[0].rows[2]?.[3]).toMatchObject({ value: 101 });
      expect(now.sheets[0].rows[7]?.[3]).toMatchObject({ value: null, formula: "SUM(Log:March!A1)" });
      expect(engine.live.messageAt("Log", 7, 3)).toMatch(/several sheets/);
      const sheet = partsOf((await saveCopy(original, now)).bytes)[SHEET];
      expect(sheet).toContain('<c r="D8"><f>SUM(Log:March!A1)</f></c>');
      // Undo acts on the workbook in focus; on a page that is the one clicked last.
      const { IUniverInstanceService } = createRequire(import.meta.url)("@univerjs/core");
      (engine.live.injector.get(IUniverInstanceService) as { focusUnit(id: string): void }).focusUnit(engine.live.id);
      for (let typed = 0; typed < 3; typed++) await engine.live.api.undo();
      expect((await engine.recalculate()).sheets[0].rows[2]?.[3]).toMatchObject({ value: 17, formula: "A1+1" });
    } finally {
      engine.dispose();
    }
  });
});

const SHEET = "xl/worksheets/sheet1.xml";
/** The workbook after edits in the grid, saved; and what the copy says. */
async function edited(original: Uint8Array, edit: (engine: Awaited<ReturnType<typeof createEngine>>) => void) {
  const engine = await createEngine(await readXlsx(original));
  try {
    edit(engine);
    return await saveCopy(original, await engine.recalculate());
  } finally {
    engine.dispose();
  }
}

describe("array formulas of the old kind", () => {
  const array = (address: string, ref: string, formula: string, value: number) =>
    `<c r="${address}"><f t="array" ref="${ref}">${formula}</f><v>${value}</v></c>`;
  const original = workbook({
    Log:
      `<sheetData><row r="1"><c r="A1"><v>1</v></c>${array("D1", "D1:D3", "A1:A3*2", 2)}${array("E1", "E1", "SUM(A1:A3*A1:A3)", 14)}${array("F1", "F1:F3", "SUM(A1:A2)", 3)}</row>` +
      '<row r="2"><c r="A2"><v>2</v></c><c r="D2"><v>4</v></c><c r="F2"><v>3</v></c></row><row r="3"><c r="A3"><v>3</v></c><c r="D3"><v>6</v></c><c r="F3"><v>3</v></c></row></sheetData>',
  });

  it("keep form, other cells and bytes", async () => {
    const { answer, copy } = await recalculated(original);
    expect(answer).toMatchObject({ formulas: 3, bank: 0, changed: [] });
    // One result in three cells is what such a formula alone can do.
    expect(answer.kept.map(({ cell }) => cell)).toEqual(["F1"]);
    expect(partsOf(copy)).toEqual(partsOf(original));
  });

  it("take new values and move with rows, still in that form", async () => {
    const valued = partsOf((await edited(original, (engine) => engine.setCell("Log", 1, 0, 5))).bytes)[SHEET];
    expect(valued).toContain(
      '<c r="D1"><f t="array" ref="D1:D3">A1:A3*2</f><v>2</v></c><c r="E1"><f t="array" ref="E1">SUM(A1:A3*A1:A3)</f><v>35</v></c>',
    );
    expect(valued).toContain('<c r="D2"><v>10</v></c><c r="F2"><v>3</v></c>');
    const moved = partsOf(
      (
        await edited(
          original,
          (engine) => void engine.live.api.getActiveWorkbook()!.getSheetByName("Log")!.insertRowsBefore(0, 1),
        )
      ).bytes,
    )[SHEET];
    expect(moved).toContain(
      '<c r="D2"><f t="array" ref="D2:D4">A2:A4*2</f><v>2</v></c><c r="E2"><f t="array" ref="E2">SUM(A2:A4*A2:A4)</f><v>14</v></c><c r="F2"><f t="array" ref="F2:F4">SUM(A2:A3)</f><v>3</v></c>',
    );
    expect(moved).toContain('<c r="D4"><v>6</v></c><c r="F4"><v>3</v></c>');
  });
});

describe("a heading of a table that was blanked", () => {
  const table =
    '<table xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" id="1" name="Trials" displayName="Trials" ref="A1:B3"><autoFilter ref="A1:B3"/><tableColumns count="2"><tableColumn id="1" name="Gap"/><tableColumn id="2" name="Bend"/></tableColumns></table>';
  const original = handmade({
    sheets: {
      Trials: `${rowsOf({ A1: "Gap", B1: "Bend", A2: 1, A3: 2, B2: 5, B3: 6, D1: ["SUM(Trials[Gap])", 3], D2: ["SUM(Trials[Bend])", 11] })}<tableParts count="1"><tablePart r:id="rId1"/></tableParts>`,
      Elsewhere: rowsOf({ A1: ["SUM(Trials!A2:A3)", 3], A2: ["SUM(Trials[Bend])", 11] }),
    },
    sheetRelations: { table: "../tables/table1.xml" },
    parts: { "xl/tables/table1.xml": table },
    overrides: { "xl/tables/table1.xml": "application/vnd.openxmlformats-officedocument.spreadsheetml.table+xml" },
  });

  it("gets the heading that Excel would give it, and no formula becomes a value", async () => {
    const { bytes, notes } = await edited(original, (engine) => engine.setCell("Trials", 0, 0, null));
    expect(notes.join()).toContain(
      'needs a heading of its own in A1 of the sheet "Trials": the copy has "Column1" there',
    );
    const reader = await secondReader(bytes);
    expect(reader.getWorksheet("Trials")!.getCell("A1").value).toBe("Column1");
    expect(reader.getWorksheet("Trials")!.getCell("D1").value).toMatchObject({
      formula: "SUM(Trials[Column1])",
      result: 3,
    });
    expect(reader.getWorksheet("Elsewhere")!.getCell("A1").value).toMatchObject({
      formula: "SUM(Trials!A2:A3)",
      result: 3,
    });
    expect(partsOf(bytes)["xl/worksheets/sheet2.xml"]).toBe(partsOf(original)["xl/worksheets/sheet2.xml"]);
    expect(partsOf(bytes)["xl/tables/table1.xml"]).toBe(table.replace('name="Gap"', 'name="Column1"'));
  });

  it.each([
    ["Bend", "Bend2"],
    ["bend", "bend2"],
    [2026, "2026"],
  ] as const)("that became %j gets %j", async (typed, heading) => {
    const { bytes } = await edited(original, (engine) => engine.setCell("Trials", 0, 0, typed));
    const reader = await secondReader(bytes);
    expect(reader.getWorksheet("Trials")!.getCell("A1").value).toBe(heading);
    expect(partsOf(bytes)["xl/tables/table1.xml"]).toBe(table.replace('name="Gap"', `name="${heading}"`));
    expect(reader.getWorksheet("Elsewhere")!.getCell("A2").value).toMatchObject({
      formula: "SUM(Trials[Bend])",
      result: 11,
    });
  });
});

describe("texts without characters", () => {
  const original = workbook({
    Log: rowsOf({
      A1: 1,
      A2: "",
      B1: ['IF(A1>5,"big","")', ""],
      B2: ['A2=""', true],
      C1: ["LEN(B1)", 0],
      D1: ['BANK.FRACTION(A1)&""', "1"],
    }),
  });

  it("stay texts when nothing changes and when rows come", async () => {
    expect(partsOf((await recalculated(original)).copy)).toEqual(partsOf(original));
    const moved = await readXlsx(
      (
        await edited(
          original,
          (engine) => void engine.live.api.getActiveWorkbook()!.getSheetByName("Log")!.insertRowsBefore(0, 1),
        )
      ).bytes,
    );
    expect(moved.sheets[0].rows[2]?.[0]).toEqual({ value: "" });
    expect(moved.sheets[0].rows[1]?.[1]).toEqual({ value: "", formula: 'IF(A2>5,"big","")' });
  });

  it("are what a formula's new value may be, and no cleared cell becomes one", async () => {
    const big = workbook({ Log: rowsOf({ A1: 9, A2: "", B1: ['IF(A1>5,"big","")', "big"] }) });
    const { bytes } = await edited(big, (engine) => {
      engine.setCell("Log", 0, 0, 1);
      engine.setCell("Log", 1, 0, null);
    });
    expect(partsOf(bytes)[SHEET]).toContain(
      '<c r="B1" t="str"><f>IF(A1&gt;5,&quot;big&quot;,&quot;&quot;)</f><v></v></c>'
        .replace(/&quot;/g, '"')
        .replace("&gt;", ">"),
    );
    expect((await readXlsx(bytes)).sheets[0].rows[1]?.[0]?.value ?? null).toBeNull();
  });
});

describe("parts in other encodings", () => {
  const text = "Größe 1⅛ é";
  const plain = partsOf(workbook({ Log: rowsOf({ A1: "Gr\u00f6\u00dfe \u00e9", B1: 1 }) }));
  const encoded = (encode: (xml: string) => Uint8Array, encoding: string) =>
    zipSync(
      Object.fromEntries(
        Object.entries(plain).map(([name, xml]) => [
          name,
          encode(`<?xml version="1.0" encoding="${encoding}" standalone="yes"?>${xml.replace(/^<\?xml[^>]*\?>/, "")}`),
        ]),
      ),
    );
  const wide = (xml: string, big: boolean) =>
    Uint8Array.from(
      [...xml].flatMap((c) =>
        big ? [c.charCodeAt(0) >> 8, c.charCodeAt(0) & 255] : [c.charCodeAt(0) & 255, c.charCodeAt(0) >> 8],
      ),
    );

  it.each([
    ["UTF-16 with a mark", "UTF-16", (xml: string) => wide(`\ufeff${xml}`, false)],
    ["UTF-16, the other byte first", "UTF-16", (xml: string) => wide(`\ufeff${xml}`, true)],
    ["UTF-16 without a mark", "UTF-16LE", (xml: string) => wide(xml, false)],
    ["ISO-8859-1", "ISO-8859-1", (xml: string) => Uint8Array.from([...xml].map((c) => c.charCodeAt(0)))],
    [
      "windows-1252 in single quotes",
      "windows-1252",
      (xml: string) =>
        Uint8Array.from([...xml.replace(/encoding="([^"]*)"/, "encoding='$1'")].map((c) => c.charCodeAt(0))),
    ],
  ])(
    "%s: read rightly, untouched parts byte for byte, edited ones as UTF-8 that says so",
    async (_, encoding, encode) => {
      const original = encoded(encode, encoding);
      const book = await readXlsx(original);
      expect(book.sheets[0].rows[0]?.[0]?.value).toBe("Größe é");
      const { bytes } = await edited(original, (engine) => engine.setCell("Log", 0, 1, text));
      const [before, after] = [unzipSync(original), unzipSync(bytes)];
      expect(after["xl/styles.xml"]).toEqual(before["xl/styles.xml"]);
      const sheet = strFromU8(after[SHEET]);
      expect(sheet).toMatch(/^<\?xml version="1.0" encoding="UTF-8" standalone="yes"\?>/);
      const back = await readXlsx(bytes);
      expect(back.sheets[0].rows[0]?.map((cell) => cell?.value)).toEqual(["Größe é", text]);
      // The second reader knows UTF-8 alone, so it sees the edited part and a list of texts that is UTF-8 as well.
      const utf8 = zipSync(
        Object.fromEntries(
          Object.entries(after).map(([name, content]) => [
            name,
            name === SHEET || name === "xl/sharedStrings.xml" ? content : strToU8(plain[name] ?? strFromU8(content)),
          ]),
        ),
      );
      expect((await secondReader(utf8)).getWorksheet("Log")!.getCell("B1").value).toBe(text);
    },
  );

  it("say which encoding cannot be read", async () => {
    await expect(readXlsx(encoded((xml) => strToU8(xml), "x-nobody"))).rejects.toThrow(/encoding "x-nobody"/);
  });
});

it(".xlsm is recalculated with its macros byte for byte", async () => {
  const macros = Uint8Array.from({ length: 4000 }, (_, i) => (i * 37) % 251);
  const original = workbook(
    { Log: rowsOf({ A1: 0.125, B1: ["BANK.BEND(A1)", 99], C1: ["MYMACRO(A1)", 5] }) },
    {
      workbookRelations: { ...METADATA.workbookRelations, vbaProject: "vbaProject.bin" },
      parts: { ...METADATA.parts, "xl/vbaProject.bin": macros },
      overrides: {
        ...METADATA.overrides,
        "xl/workbook.xml": "application/vnd.ms-excel.sheet.macroEnabled.main+xml",
        "xl/vbaProject.bin": "application/vnd.ms-office.vbaProject",
      },
    },
  );
  const { answer, copy } = await recalculated(original, "xlsm");
  expect(answer.changed).toEqual([{ sheet: "Log", cell: "B1", stored: 99, computed: 1 }]);
  expect(answer.kept).toEqual([{ sheet: "Log", cell: "C1", why: "the function MYMACRO is not known here" }]);
  expect(unzipSync(copy)["xl/vbaProject.bin"]).toEqual(macros);
  expect(partsOf(copy)["[Content_Types].xml"]).toContain("macroEnabled");
  expect((await secondReader(copy)).getWorksheet("Log")!.getCell("B1").value).toMatchObject({ result: 1 });
});
