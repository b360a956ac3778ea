import { describe, expect, it, onTestFinished, vi } from "vitest";
import type { Book, BookCell } from "../../../src/workbook/book";
import { ExcelPort } from "../../../src/workbook/excel/excelPort";
import { settingsToXml } from "../../../src/workbook/settingsXml";
import { contractFixture, EMPTY, HIDDEN, LOG, portContract, type PortUnderTest } from "../portContract";
import { ExcelFailure } from "../../excelHost/failure";
import { Host } from "../../excelHost/host";
import { connectClient } from "../../excelHost/inNode";
import { HostWorkbook } from "../../excelHost/workbook";

portContract("Excel's client in Node", async (fixture) => {
  const { excel, port, close } = connected(fixture);
  const setCell: PortUnderTest["setCell"] = async (...given) => {
    await excel.quiet(); // a person types after Excel has answered the registration of a listener
    excel.workbook.type(...given);
  };
  return { port, setCell, dispose: async () => close() };
});

/** The port over Microsoft's client and a host with the book. */
function connected(fixture: Book) {
  const excel = new Host(HostWorkbook.of(fixture));
  const client = connectClient(excel);
  return { excel, workbook: excel.workbook, port: new ExcelPort(client), close: client.close };
}

const open = (fixture: Book = contractFixture()) => {
  const made = connected(fixture);
  onTestFinished(async () => {
    await made.excel.quiet(); // the client lets go of what it kept
    made.close();
  });
  return made;
};
const trips = async (excel: Host, act: () => Promise<unknown>) => {
  const before = excel.roundTrips;
  await act();
  return excel.roundTrips - before;
};
const oneSheet = (rows: readonly (readonly (BookCell | undefined)[])[]): Book => ({
  ...contractFixture(),
  sheets: [{ ...contractFixture().sheets[1], rows }],
});
/** The code and message of a refusal as Office.js throws it. */
const refusal = (code: string, message = "no reason given") => new ExcelFailure(code, message);

describe("round trips", () => {
  it("takes one for a small sheet, and one more for tables it has not met", async () => {
    const { excel, port } = open();
    expect(await trips(excel, () => port.read(HIDDEN))).toBe(1);
    expect(await trips(excel, () => port.read(EMPTY))).toBe(1);
    expect(await trips(excel, () => port.read(LOG))).toBe(2);
    expect(await trips(excel, () => port.read(LOG))).toBe(1);
  });

  it("takes one to list sheets, to say which is in front, and to select", async () => {
    const { excel, port } = open();
    expect(await trips(excel, () => port.sheets())).toBe(1);
    expect(await trips(excel, () => port.activeSheet())).toBe(1);
    expect(await trips(excel, () => port.select(LOG, { row: 1, column: 2, rows: 3, columns: 4 }))).toBe(1);
    expect(excel.workbook.selected).toEqual({ sheet: LOG, area: { row: 1, column: 2, rows: 3, columns: 4 } });
  });

  it("takes three for a small new sheet, one for its paper, and rests", async () => {
    const { excel, port } = open();
    expect(await trips(excel, () => port.addSheet({ name: "Results", rows: [[{ value: 1 }, { value: 2 }]] }))).toBe(4);
    const before = excel.roundTrips;
    await excel.quiet();
    expect(excel.roundTrips).toBe(before);
  });
});

describe("reading", () => {
  it("follows tables that are renamed, removed or added after the last reading", async () => {
    const { excel, port } = open();
    await port.read(LOG);
    const sheet = excel.workbook.sheet(LOG);
    sheet.tables[0].name = "Renamed";
    expect((await port.read(LOG)).tables.map(({ name }) => name)).toEqual(["Renamed"]);
    excel.workbook.addTable(sheet, "Second", { row: 20, column: 0, rows: 2, columns: 2 });
    expect((await port.read(LOG)).tables).toEqual([
      { name: "Renamed", area: { row: 3, column: 2, rows: 6, columns: 5 } },
      { name: "Second", area: { row: 20, column: 0, rows: 2, columns: 2 } },
    ]);
    sheet.tables = [];
    expect((await port.read(LOG)).tables).toEqual([]);
  });

  it("begins where the filled cells begin, and passes over cells that only have a look", async () => {
    const { excel, port } = open(oneSheet([]));
    const sheet = excel.workbook.sheet(EMPTY);
    sheet.make(900, 30).value = 4.5;
    sheet.make(902, 33).value = "end";
    sheet.make(5000, 200).bold = true;
    const data = await port.read(EMPTY);
    expect([data.firstRow, data.firstColumn]).toEqual([900, 30]);
    expect(data.values).toEqual([
      [4.5, null, null, null],
      [null, null, null, null],
      [null, null, null, "end"],
    ]);
  });

  it("counts hidden rows among the filled ones only, however many below are hidden", async () => {
    const { excel, port } = open(oneSheet([[{ value: 1 }], [{ value: 2 }], [{ value: 3 }]]));
    for (let row = 1; row < 2000; row++) excel.workbook.sheet(EMPTY).hiddenRows.add(row);
    expect((await port.read(EMPTY)).hiddenRows).toEqual([1, 2]);
  });

  it("tells typed text that looks like an error from an error", async () => {
    const { port } = open(oneSheet([[{ value: "#N/A" }, { value: { error: "#N/A" } }, { value: "#ok" }]]));
    expect((await port.read(EMPTY)).values).toEqual([["#N/A", { error: "#N/A" }, "#ok"]]);
  });

  it("reads filled cells far from A1 and wider than the first look", async () => {
    const { excel, port } = open(oneSheet([]));
    const sheet = excel.workbook.sheet(EMPTY);
    sheet.make(0, 0).value = "first";
    sheet.make(1600, 60).value = "last";
    sheet.hiddenRows.add(1600);
    sheet.merged = [{ row: 3, column: 0, rows: 2, columns: 2 }];
    const data = await port.read(EMPTY);
    expect(data.values[0][0]).toBe("first");
    expect(data.values[1600][60]).toBe("last");
    expect(data.values.length).toBe(1601);
    expect(data.hiddenRows).toEqual([1600]);
    expect(data.merged).toEqual([{ row: 3, column: 0, rows: 2, columns: 2 }]);
  });

  it("reads 200,000 rows in blocks that Excel on the web lets through", { timeout: 60_000 }, async () => {
    const rows: BookCell[][] = Array.from({ length: 200_000 }, (_, r) => [
      { value: 46030 + r / 7, style: 1 },
      { value: r / 3 },
      { value: `shot ${r}` },
    ]);
    const { excel, port } = open(oneSheet(rows));
    excel.workbook.sheet(EMPTY).hiddenRows.add(199_998);
    const data = await port.read(EMPTY);
    expect(data.values.length).toBe(200_000);
    expect(data.values[199_999]).toEqual([46030 + 199_999 / 7, 199_999 / 3, "shot 199999"]);
    expect(data.formats[199_999]).toEqual(["yyyy-mm-dd", "General", "General"]);
    expect(data.hiddenRows).toEqual([199_998]);
    // 10 blocks of 60,000 cells, the outline, the merged cells.
    expect(excel.roundTrips).toBe(12);
    expect(excel.largestAnswer).toBeLessThan(5 * 1024 * 1024);
  });

  it("takes smaller blocks when cells hold long texts, near A1 too", async () => {
    const rows: BookCell[][] = Array.from({ length: 900 }, (_, r) => [
      { value: r },
      { value: `${r} ${"long ".repeat(3000)}` },
    ]);
    const { port } = open(oneSheet(rows));
    const { values } = await port.read(EMPTY);
    expect(values.map(([first]) => first)).toEqual(rows.map(([{ value }]) => value));
    expect(values[899][1]).toBe(rows[899][1].value);
  });

  it("asks for less when Excel calls a range too large, and gives up on what is no matter of size", async () => {
    const rows = Array.from({ length: 40 }, (_, r) => [{ value: r }]);
    const { excel, port } = open(oneSheet(rows));
    let left = 4;
    excel.refuse = (step) =>
      step === "Range.GetRowProperties" && left-- > 0 ? refusal("RangeExceedsLimit") : undefined;
    expect((await port.read(EMPTY)).values).toEqual(rows.map(([{ value }]) => [value]));
    expect(left).toBeLessThan(0);
    excel.refuse = (step) => (step === "Range.GetRowProperties" ? refusal("GeneralException", "Broken.") : undefined);
    const cost = await trips(excel, () =>
      expect(port.read(EMPTY)).rejects.toThrow(`Excel could not read the sheet "${EMPTY}": Broken.`),
    );
    expect(cost).toBeLessThanOrEqual(4);
  });

  it("lists more merged areas than Excel hands over at once", async () => {
    const { excel, port } = open(oneSheet(Array.from({ length: 1400 }, (_, r) => [{ value: r }])));
    const merged = Array.from({ length: 600 }, (_, index) => ({ row: index * 2, column: 1, rows: 2, columns: 1 }));
    excel.workbook.sheet(EMPTY).merged = merged;
    // The extent of the filled cells is one column: merged cells beside it do not matter to a reader, so put a value
    // there.
    excel.workbook.sheet(EMPTY).make(0, 1).value = "x";
    expect((await port.read(EMPTY)).merged).toEqual(merged);
  });

  it("names a stray cell that makes the extent senseless", async () => {
    const { excel, port } = open(oneSheet([[{ value: 1 }]]));
    excel.workbook.sheet(EMPTY).make(1_048_575, 16_383).value = 2;
    await expect(port.read(EMPTY)).rejects.toThrow(/XFD1048576.*column XFD or row 1048576/);
  });

  it("says which sheets there are when the one that was read before is gone", async () => {
    const { excel, port } = open();
    await port.read(LOG);
    excel.workbook.sheets = excel.workbook.sheets.filter(({ name }) => name !== LOG);
    await expect(port.read(LOG)).rejects.toThrow(
      `There is no sheet "${LOG}" in this workbook; it has "${EMPTY}", "${HIDDEN}".`,
    );
  });
});

describe("selecting", () => {
  it("says that a hidden sheet has to be unhidden", async () => {
    const { port } = open();
    await expect(port.select(HIDDEN, { row: 0, column: 0, rows: 1, columns: 1 })).rejects.toThrow(/hidden\. Unhide it/);
  });
});

describe("adding a sheet", () => {
  it("makes native charts with titles, axes and a place beside the cells", async () => {
    const { excel, port } = open();
    const column = (column: number) => ({ row: 1, column, rows: 3, columns: 1 });
    const chart = { title: "=Bend", xTitle: "Humidity (%)", yTitle: "Bend (in)", x: column(0), y: column(1) };
    const name = await port.addSheet({
      name: "Results",
      rows: [
        [{ value: "x" }, { value: "y" }],
        [{ value: 1 }, { value: 2 }],
      ],
      columnWidths: [44, 8],
      charts: [
        { ...chart, kind: "scatter" },
        { ...chart, kind: "column" },
      ],
    });
    const common = {
      title: " =Bend",
      xTitle: "Humidity (%)",
      yTitle: "Bend (in)",
      series: "Bend (in)",
      legend: false,
      values: "B2:B4",
      xValues: "A2:A4",
    };
    expect(excel.workbook.sheet(name).charts).toEqual([
      { ...common, id: expect.any(String), type: "XYScatter", from: "D1", to: "K16" },
      { ...common, id: expect.any(String), type: "ColumnClustered", from: "D19", to: "K34" },
    ]);
    expect([...excel.workbook.sheet(name).widths.keys()]).toEqual([0, 1]);
  });

  it("goes onto paper as a saved copy does, and stays where Excel will not have that", async () => {
    const { excel, port } = open();
    const rows = [
      [{ value: "Trial" }, { value: "Gap (in)" }],
      [{ value: 1 }, { value: 0.5 }],
    ];
    const paperOf = (name: string) => {
      const { paper, frozenRows } = excel.workbook.sheet(name);
      return { ...paper, frozenRows };
    };
    const foot = { left: "&A", centre: "", right: "Page &P of &N" };
    const margins = { left: 50.4, right: 50.4, top: 54, bottom: 54, header: 0.3 * 72, footer: 0.3 * 72 };
    const common = { zoom: { horizontalFitToPages: 1 }, foot, margins };
    const log = await port.addSheet({ name: "Trials", rows, headingRows: 1, columnWidths: [60, 60] });
    expect(paperOf(log)).toEqual({ ...common, orientation: "Landscape", titleRows: "A1:B1", frozenRows: 1 });
    const note = await port.addSheet({ name: "Note", rows, columnWidths: [30, 50] });
    expect(paperOf(note)).toEqual({ ...common, orientation: "Portrait", area: "A1:B2", frozenRows: 0 });
    // A drawing of true size has margins of its own.
    const drawing = await port.addPicture?.({ name: "Layout", png: "", width: 595, label: "Layout" });
    expect(paperOf(drawing ?? "")).toMatchObject({ zoom: { scale: 100 }, margins: { left: 0, top: 0 } });
    excel.refuse = (step) => (step.startsWith("PageLayout") ? refusal("GeneralException", "No printer.") : undefined);
    const kept = await port.addSheet({ name: "Kept", rows, headingRows: 1 });
    expect(excel.workbook.sheet(kept).cell(1, 1)?.value).toBe(0.5);
  });

  it("makes cells bold and wrapped where asked, nowhere else", async () => {
    const { excel, port } = open();
    const name = await port.addSheet({
      name: "Looks",
      rows: [
        [{ value: "a", bold: true }, { value: "b", bold: true }, { value: "c" }, { value: "d", bold: true }],
        [{ value: "e", wrap: true }],
      ],
    });
    const looks = (row: number) =>
      [0, 1, 2, 3].map((column) => [
        excel.workbook.sheet(name).cell(row, column)?.bold ?? false,
        excel.workbook.sheet(name).cell(row, column)?.wrap ?? false,
      ]);
    expect(looks(0)).toEqual([
      [true, false],
      [true, false],
      [false, false],
      [true, false],
    ]);
    expect(looks(1)).toEqual([
      [false, true],
      [false, false],
      [false, false],
      [false, false],
    ]);
  });

  it.each(["=1+1", "+1-2", "-5", "@x", "007", "1/8", "5%", "TRUE", "1e5", "'quoted", "#N/A", " 8 "])(
    "keeps the text %s as it is",
    async (text) => {
      const { excel, port } = open();
      const name = await port.addSheet({ name: "Text", rows: [[{ value: text }]] });
      expect(excel.workbook.sheet(name).cell(0, 0)).toMatchObject({ value: text, format: "General" });
      expect(excel.workbook.sheet(name).cell(0, 0)?.formula).toBeUndefined();
    },
  );

  it("writes 20,000 long rows in steps that Excel on the web lets through", async () => {
    const { excel, port } = open();
    const rows = Array.from({ length: 20_000 }, (_, r) => [
      { value: r + 1 },
      { value: `A${r}` },
      { value: "the remark of a careful person, ".repeat(12) },
    ]);
    const name = await port.addSheet({ name: "Left out", rows });
    expect(excel.workbook.sheet(name).cell(19_999, 1)?.value).toBe("A19999");
    expect(excel.workbook.sheet(name).cell(0, 0)?.value).toBe(1);
    expect(excel.largestRequest).toBeLessThan(5 * 1024 * 1024);
    expect(excel.roundTrips).toBeLessThan(15);
  });

  it("leaves nothing behind in a protected workbook and says what to do", async () => {
    const { excel, port } = open();
    excel.refuse = (step) => (step === "WorksheetCollection.Add" ? refusal("AccessDenied") : undefined);
    await expect(port.addSheet({ name: "Results", rows: [] })).rejects.toThrow(
      "Excel could not write the new sheet: the workbook or the sheet is protected. Take the protection off (Review), then try again.",
    );
    expect(excel.workbook.sheets.length).toBe(3);
  });

  it("takes the half-made sheet away when a later step fails, and only that one", async () => {
    const { excel, port } = open();
    let writes = 0;
    excel.refuse = (step) =>
      step === "Range.Values=" && ++writes === 2
        ? refusal("GeneralException", "An internal error has occurred.")
        : undefined;
    const rows = Array.from({ length: 30_000 }, (_, r) => [{ value: r }]);
    await expect(port.addSheet({ name: "Results", rows })).rejects.toThrow(
      "Excel could not write the new sheet: An internal error has occurred.",
    );
    expect(writes).toBe(2);
    expect(excel.workbook.sheets.map(({ name }) => name)).toEqual([LOG, EMPTY, HIDDEN]);
  });

  it("never removes a sheet of that name which somebody else made meanwhile", async () => {
    const { excel, port } = open();
    excel.refuse = (step) => {
      if (step === "WorksheetCollection.Add") excel.workbook.addSheet("Results").make(0, 0).value = "theirs";
      return undefined;
    };
    await expect(port.addSheet({ name: "Results", rows: [] })).rejects.toThrow(/already exists/);
    expect(excel.workbook.sheet("Results").cell(0, 0)?.value).toBe("theirs");
  });

  it("says so when the half-made sheet cannot be removed", async () => {
    const { excel, port } = open();
    excel.refuse = (step) =>
      step === "ChartCollection.Add" || step === "Worksheet.Delete"
        ? refusal("GeneralException", "Broken.")
        : undefined;
    const area = { row: 0, column: 0, rows: 1, columns: 1 };
    const charts = [{ title: "t", kind: "column", xTitle: "x", yTitle: "y", x: area, y: area }] as const;
    await expect(port.addSheet({ name: "Results", rows: [[{ value: 1 }]], charts })).rejects.toThrow(
      'Excel could not write the new sheet: Broken. The unfinished sheet "Results" could not be removed; delete it.',
    );
  });
});

describe("pictures", () => {
  const picture = { name: "Shot drawing", png: "iVBORw0KGgo=", width: 480, label: "=a shot" };

  it("stand on a sheet of their own, with their description as text", async () => {
    const { excel, port } = open();
    expect(await port.addPicture(picture)).toBe("Shot drawing");
    expect(await port.addPicture(picture)).toBe("Shot drawing 2");
    const sheet = excel.workbook.sheet("Shot drawing 2");
    expect(sheet.pictures).toEqual([
      expect.objectContaining({ png: picture.png, width: 480, altTextDescription: "=a shot" }),
    ]);
    expect(sheet.cell(0, 0)?.value).toBe("=a shot");
    expect(excel.workbook.sheet(LOG).pictures).toEqual([]);
  });

  it("leave no empty sheet when Excel cannot draw them", async () => {
    const { excel, port } = open();
    excel.refuse = (step) =>
      step === "ShapeCollection.AddImage" ? refusal("GeneralException", "An internal error has occurred.") : undefined;
    await expect(port.addPicture(picture)).rejects.toThrow("Excel could not write the new sheet");
    expect(excel.workbook.sheets.map(({ name }) => name)).toEqual([LOG, EMPTY, HIDDEN]);
  });
});

describe("settings", () => {
  it("keeps one part, whatever was there", async () => {
    const { excel, port } = open();
    excel.workbook.parts = [
      { id: "a", namespace: "urn:other", xml: "<x/>" },
      { id: "b", namespace: "urn:bendbook:settings", xml: settingsToXml("old") },
      { id: "c", namespace: "urn:bendbook:settings", xml: settingsToXml("older") },
    ];
    expect(await port.loadSettings()).toBe("old");
    await port.saveSettings("new");
    expect(excel.workbook.parts.map(({ id, xml }) => [id, xml])).toEqual([
      ["a", "<x/>"],
      ["b", settingsToXml("new")],
    ]);
  });

  it("takes a part that holds something else for no settings", async () => {
    const { excel, port } = open();
    excel.workbook.parts = [{ id: "a", namespace: "urn:bendbook:settings", xml: "<oddity/>" }];
    expect(await port.loadSettings()).toBeNull();
  });

  it("says in words that a cell is being typed in", async () => {
    const { excel, port } = open();
    excel.refuse = () => refusal("InvalidOperationInCellEditMode");
    await expect(port.saveSettings("x")).rejects.toThrow(
      "Excel could not keep the settings with the workbook: a cell is being typed in. Press Enter or Esc, then try again.",
    );
  });
});

describe("changes", () => {
  it("registers once however many listen, and takes it back after the last", async () => {
    const { excel, port } = open();
    const stops = [port.onChange(() => undefined), port.onChange(() => undefined)];
    await excel.quiet();
    expect([...excel.workbook.registered]).toEqual(["DataChanged", "Calculated"]);
    stops[0]();
    await excel.quiet();
    expect(excel.workbook.registered.size).toBe(2);
    stops[1]();
    stops[1]();
    await excel.quiet();
    expect([...excel.workbook.registered]).toEqual([]);
    const stop = port.onChange(() => undefined);
    await excel.quiet();
    expect(excel.workbook.registered.size).toBe(2);
    stop();
  });

  it("leaves nothing registered when it is stopped at once", async () => {
    const { excel, port } = open();
    port.onChange(() => undefined)();
    await excel.quiet();
    expect(excel.asked).toContain("WorksheetCollection._UnregisterCalculatedEvent");
    expect([...excel.workbook.registered]).toEqual([]);
  });

  it("hears recalculation, and looks names up once for a burst of events", async () => {
    const { excel, port } = open();
    const heard: string[] = [];
    const stop = port.onChange(({ sheet }) => heard.push(sheet));
    await excel.quiet();
    const cost = await trips(excel, async () => {
      for (let i = 0; i < 200; i++) excel.workbook.tell({ kind: "calculated", sheet: excel.workbook.sheet(LOG) });
      await excel.quiet();
    });
    expect(heard.length).toBeGreaterThan(0);
    expect(new Set(heard)).toEqual(new Set([LOG]));
    expect(cost).toBeLessThanOrEqual(2);
    stop();
  });

  it("goes by the sheet's name of the moment, and passes over a sheet that is gone", async () => {
    const { excel, port } = open();
    const heard: string[] = [];
    const stop = port.onChange(({ sheet }) => heard.push(sheet));
    await excel.quiet();
    excel.workbook.sheet(LOG).name = "Renamed";
    excel.workbook.type("Renamed", 0, 0, 1);
    excel.workbook.tell({ kind: "calculated", sheet: { id: "{gone}" } as never });
    await excel.quiet();
    expect(heard).toEqual(["Renamed"]);
    stop();
  });

  it("goes on without events where Excel has none", async () => {
    const warned = vi.spyOn(console, "warn").mockImplementation(() => undefined);
    const { excel, port } = open();
    excel.refuse = (step) =>
      step === "WorksheetCollection._RegisterDataChangedEvent" ? refusal("ApiNotFound") : undefined;
    const stop = port.onChange(() => undefined);
    await excel.quiet();
    expect(warned).toHaveBeenCalledOnce();
    stop();
    expect((await port.read(LOG)).sheet).toBe(LOG);
    warned.mockRestore();
  });
});

describe("a row under others", () => {
  const row = { sheet: "Shots", headings: ["A", "B"], cells: [{ value: 1 }, { value: 2 }] };

  it("begins a new sheet when a cell was filled after the sheet was read", async () => {
    const { excel, port } = open();
    await port.addRow(row);
    const before = excel.asked.length;
    await port.read("Shots");
    const loads =
      excel.asked.filter((asked) => asked === "load Range").length +
      excel.asked.slice(before).filter((asked) => asked === "load Range").length;
    // Somebody else's formula, which shows nothing, arrives just before the cells are looked at again.
    excel.refuse = (step) => {
      if (step === "load Range" && excel.asked.filter((asked) => asked === "load Range").length > loads)
        Object.assign(excel.workbook.sheet("Shots").make(2, 1), { value: "", formula: '=IF(A3="","",A3)' });
      return undefined;
    };
    expect(await port.addRow(row)).toEqual({ sheet: "Shots 2", row: 1, made: true });
    expect(excel.workbook.sheet("Shots").cell(2, 1)?.formula).toBe('=IF(A3="","",A3)');
    expect(excel.workbook.sheet("Shots").cell(2, 0)?.value ?? "").toBe("");
  });

  it("says why a protected sheet takes no row", async () => {
    const { excel, port } = open();
    await port.addRow(row);
    excel.refuse = (step) => (step === "Range.Values=" ? refusal("AccessDenied") : undefined);
    await expect(port.addRow(row)).rejects.toThrow(
      /Excel could not add a row to the sheet "Shots": the workbook or the sheet is protected/,
    );
  });
});

describe("cells for a row of a log", () => {
  const gaps = (formula: (row: number) => string) => [
    [{ value: "Gap (in)" }, { value: "Bend (in)" }],
    ...[0.5, 0.25, 0.125].map((value, i) => [{ value }, { value: 1.125 - value, formula: formula(i + 2) }]),
  ];
  const put = (port: ExcelPort, row: number) =>
    port.fillRow({ sheet: EMPTY, row, cells: [{ column: 0, value: 0.375 }] });

  it("let a formula go on that the three rows above agree in, and no other", async () => {
    const { excel, port } = open(oneSheet(gaps((row) => `1.125-A${row}`)));
    expect(await put(port, 4)).toEqual({ written: [0] });
    expect(excel.workbook.sheets[0]!.cell(4, 1)?.formula).toBe("=1.125-A5");
    const other = open(oneSheet(gaps((row) => `1.125-A${row === 2 ? 3 : row}`)));
    await put(other.port, 4);
    expect(other.excel.workbook.sheets[0]!.cell(4, 1)?.formula).toBeUndefined();
  });

  it("make the row part of the table above, with its formulas, and leave rows of totals alone", async () => {
    const rows = gaps((row) => `1.125-A${row}`);
    const table = { name: "Gaps", area: { row: 0, column: 0, rows: 4, columns: 2 } };
    const book = oneSheet(rows);
    const { excel, port } = open({ ...book, sheets: [{ ...book.sheets[0]!, tables: [table] }] });
    await put(port, 4);
    expect(excel.workbook.sheets[0]!.tables[0]!.area.rows).toBe(5);
    expect(excel.workbook.sheets[0]!.cell(4, 1)?.formula).toBe("=1.125-A5");
    const totals = open({ ...book, sheets: [{ ...book.sheets[0]!, tables: [{ ...table, totals: true }] }] });
    await put(totals.port, 4);
    expect(totals.excel.workbook.sheets[0]!.tables[0]!.area.rows).toBe(4);
  });

  it("say what stands in the way when Excel refuses", async () => {
    const { excel, port } = open();
    excel.refuse = (step) => (step.startsWith("Range.") && step.endsWith("=") ? refusal("AccessDenied") : undefined);
    await expect(port.fillRow({ sheet: LOG, row: 20, cells: [{ column: 2, value: 1 }] })).rejects.toThrow(
      `Excel could not write into row 21 of "${LOG}": the workbook or the sheet is protected.`,
    );
  });
});
