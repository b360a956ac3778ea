/** New sheets as documents: on paper, in a second reader, with native charts. */
import ExcelJS from "exceljs";
import { describe, expect, it } from "vitest";
import type { Book, CellStyle } from "../../../../src/workbook/book";
import { readXlsx } from "../../../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../../../src/workbook/file/save/saveCopy";
import { newBookSheet } from "../../../../src/workbook/sheetData";
import type { NewSheet } from "../../../../src/workbook/port";
import { partsOf } from "../packages";

async function saved(contents: readonly NewSheet[], title?: string): Promise<Uint8Array> {
  const styles: CellStyle[] = [{}];
  const sheets = contents.map((content) => newBookSheet(content.name, content, styles));
  const book: Book = { sheets, styles, names: [], ...(title === undefined ? {} : { title }) };
  return (await saveCopy(null, book)).bytes;
}

async function secondReader(bytes: Uint8Array): Promise<ExcelJS.Workbook> {
  const workbook = new ExcelJS.Workbook();
  await workbook.xlsx.load(bytes.buffer as ArrayBuffer);
  return workbook;
}

const cells = (...values: (string | number)[]) => values.map((value) => ({ value }));
const long = "A sentence that needs several lines where the column is narrow. ".repeat(4).trim();
const log: NewSheet = {
  name: "Trials of May",
  rows: [cells("Trial", "Gap (in)"), cells(1, 0.5), cells(2, 0.25)],
  headingRows: 1,
  columnWidths: [60, 60],
};

describe("a new sheet on paper", () => {
  it("is as wide as the page and says which page it is; headings stand on each", async () => {
    const workbook = await secondReader(await saved([log]));
    const sheet = workbook.getWorksheet("Trials of May")!;
    expect(sheet.pageSetup).toMatchObject({
      fitToPage: true,
      fitToWidth: 1,
      fitToHeight: 0,
      orientation: "landscape",
      printTitlesRow: "1:1",
    });
    // No area: rows that come below are printed too.
    expect(sheet.pageSetup.printArea).toBeUndefined();
    expect(sheet.headerFooter.oddFooter).toBe("&L&A&RPage &P of &N");
    expect(sheet.views[0]).toMatchObject({ state: "frozen", ySplit: 1 });
  });

  it("stands upright where that is wide enough, and says its area where nothing grows", async () => {
    const note: NewSheet = { name: "Note's end", rows: [cells("One"), cells("Two", 3)], columnWidths: [30, 50] };
    const sheet = (await secondReader(await saved([log, note]))).worksheets[1];
    expect(sheet.pageSetup).toMatchObject({ orientation: "portrait", printArea: "A1:B2" });
    expect(sheet.pageSetup.printTitlesRow).toBeUndefined();
  });

  it("gives wrapped text the lines that it needs, and leaves other rows to the reader", async () => {
    const wrapped: NewSheet = {
      name: "Guide",
      rows: [[{ value: long, wrap: true }], cells("short"), cells(long), [{ value: "a\nb\nc", wrap: true }]],
      columnWidths: [40],
    };
    const sheet = (await secondReader(await saved([wrapped]))).worksheets[0];
    // 255 letters in lines of 40: seven of 15 points.
    expect(sheet.getRow(1).height).toBe(Math.ceil(long.length / 40) * 15);
    expect(sheet.getRow(2).height).toBeUndefined();
    expect(sheet.getRow(3).height).toBeUndefined();
    expect(sheet.getRow(4).height).toBe(45);
  });

  it("tells who made the document, and what it is", async () => {
    const workbook = await secondReader(await saved([log], "Trials & claims"));
    expect(workbook.creator).toBe("Bendbook");
    expect(workbook.title).toBe("Trials & claims");
  });

  it("leaves the paper of a sheet that the file has as it was", async () => {
    const first = await saved([log]);
    const book = await readXlsx(first);
    const changed = { ...book, names: [...book.names, { name: "mine", reference: "'Trials of May'!$A$1" }] };
    const { bytes } = await saveCopy(first, changed);
    const again = partsOf(bytes)["xl/workbook.xml"];
    expect(again.match(/_xlnm\.Print_Titles/g)).toHaveLength(1);
    expect(partsOf(bytes)["xl/worksheets/sheet1.xml"]).toBe(partsOf(first)["xl/worksheets/sheet1.xml"]);
  });
});

describe("a chart of a new sheet", () => {
  const results: NewSheet = {
    name: "Results & more",
    rows: [cells("Speed (mph)", "Bend (in)"), cells(9, 0.5), cells(10, 0.7), cells("worn", 0.4), cells("new <1>", 0.6)],
    charts: [
      {
        title: "Bend against Speed",
        kind: "scatter",
        xTitle: "Speed (mph)",
        yTitle: "Bend (in)",
        x: { row: 1, column: 0, rows: 2, columns: 1 },
        y: { row: 1, column: 1, rows: 2, columns: 1 },
      },
      {
        title: "Bend <by> cloth",
        kind: "column",
        xTitle: "Cloth",
        yTitle: "Bend (in)",
        x: { row: 3, column: 0, rows: 2, columns: 1 },
        y: { row: 3, column: 1, rows: 2, columns: 1 },
      },
    ],
  };

  it("is in a saved copy as Excel keeps one: cells by reference, their values beside", async () => {
    const parts = partsOf(await saved([log, results]));
    const [first, second] = [parts["xl/charts/chart1.xml"], parts["xl/charts/chart2.xml"]];
    expect(first).toContain("<c:xVal><c:numRef><c:f>'Results &amp; more'!$A$2:$A$3</c:f>");
    expect(first).toContain("<c:yVal><c:numRef><c:f>'Results &amp; more'!$B$2:$B$3</c:f>");
    expect(first).toContain('<c:pt idx="1"><c:v>0.7</c:v></c:pt>');
    expect(second).toContain("<c:cat><c:strRef><c:f>'Results &amp; more'!$A$4:$A$5</c:f>");
    expect(second).toContain('<c:pt idx="1"><c:v>new &lt;1&gt;</c:v></c:pt>');
    expect(second).toContain("<a:t>Bend &lt;by&gt; cloth</a:t>");
    const drawing = parts["xl/drawings/drawing1.xml"];
    expect(drawing.match(/<xdr:twoCellAnchor>/g)).toHaveLength(2);
    // Beside the two columns of cells, with a column between.
    expect(drawing).toContain("<xdr:from><xdr:col>3</xdr:col>");
    const relations = parts["xl/drawings/_rels/drawing1.xml.rels"];
    for (const name of ["chart1", "chart2"]) expect(relations).toContain(`charts/${name}.xml`);
    expect(parts["xl/worksheets/sheet2.xml"]).toMatch(/<drawing r:id="[^"]+"\/>/);
    expect(parts["[Content_Types].xml"].match(/drawingml\.chart\+xml/g)).toHaveLength(2);
  });

  it("is kept when the copy is opened, changed and saved again, and follows a sheet's new name", async () => {
    const first = await saved([results]);
    const book = await readXlsx(first);
    const renamed = { ...book, sheets: [{ ...book.sheets[0], name: "Kept" }] };
    const parts = partsOf((await saveCopy(first, renamed)).bytes);
    expect(parts["xl/charts/chart1.xml"]).toContain("<c:f>'Kept'!$A$2:$A$3</c:f>");
    expect(parts["xl/worksheets/sheet1.xml"]).toMatch(/<drawing r:id="[^"]+"\/>/);
  });

  it("has a gap where a cell holds nothing or an error, and words where one is a word", async () => {
    const area = (row: number, column: number, rows: number) => ({ row, column, rows, columns: 1 });
    const gaps: NewSheet = {
      name: "Gaps",
      rows: [
        [{ value: 1 }, { value: 0.5 }],
        [{ value: null }, { value: null }],
        [{ value: 3 }, { value: 0.25 }],
        [{ value: "late" }, { value: 0.75 }],
      ],
      charts: [
        { title: "a", kind: "scatter", xTitle: "x", yTitle: "y", x: area(0, 0, 3), y: area(0, 1, 5) },
        { title: "b", kind: "column", xTitle: "x", yTitle: "y", x: area(0, 0, 4), y: area(0, 1, 4) },
      ],
    };
    const styles: CellStyle[] = [{}];
    const sheet = newBookSheet(gaps.name, gaps, styles);
    const rows = sheet.rows.map((row, r) => (r === 1 ? [row?.[0], { value: { error: "#N/A" } }] : row));
    const parts = partsOf((await saveCopy(null, { sheets: [{ ...sheet, rows }], styles, names: [] })).bytes);
    const cached = (chart: string, axis: string) =>
      [
        ...new RegExp(`<c:${axis}>(.*?)</c:${axis}>`, "s")
          .exec(parts[`xl/charts/${chart}.xml`]!)![1]!
          .matchAll(/<c:ptCount val="(\d+)"|<c:pt idx="(\d+)"><c:v>([^<]*)/g),
      ].map(([, count, place, value]) => count ?? `${place}: ${value}`);
    expect(cached("chart1", "xVal")).toEqual(["3", "0: 1", "2: 3"]);
    expect(cached("chart1", "yVal")).toEqual(["5", "0: 0.5", "2: 0.25", "3: 0.75"]);
    expect(cached("chart2", "cat")).toEqual(["4", "0: 1", "2: 3", "3: late"]);
    expect(parts["xl/charts/chart1.xml"]).toContain("<c:scatterChart>");
    expect(parts["xl/charts/chart1.xml"]!.match(/<c:valAx>/g)).toHaveLength(2);
    expect(parts["xl/charts/chart2.xml"]!.match(/<c:catAx>/g)).toHaveLength(1);
    // The second stands below the first, each 16 rows high and 8 columns wide.
    const places = [...parts["xl/drawings/drawing1.xml"]!.matchAll(/<xdr:col>(\d+)<.*?<xdr:row>(\d+)</g)];
    expect(places.map(([, column, row]) => [Number(column), Number(row)])).toEqual([
      [3, 0],
      [11, 16],
      [3, 18],
      [11, 34],
    ]);
  });
});

describe("pictures of a new sheet", () => {
  // The smallest PNG: one transparent pixel.
  const png = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==";
  it("are in the copy at their places and in their sizes, each a part of its own, before its charts", async () => {
    const sheet: NewSheet = {
      name: "Report",
      rows: [cells("Bend (in)"), cells(0.5)],
      charts: [
        {
          title: "t",
          kind: "column",
          xTitle: "x",
          yTitle: "y",
          x: { row: 1, column: 0, rows: 1, columns: 1 },
          y: { row: 1, column: 0, rows: 1, columns: 1 },
        },
      ],
    };
    const styles: CellStyle[] = [{}];
    const pictures = [
      { row: 3, column: 0, width: 100, height: 50.5, png, label: "A <first>" },
      { row: 9, column: 2, width: 10, height: 20, png, label: "A second" },
    ];
    const sheets = [{ ...newBookSheet(sheet.name, sheet, styles), pictures }];
    const { bytes } = await saveCopy(null, { sheets, styles, names: [] });
    const drawing = partsOf(bytes)["xl/drawings/drawing1.xml"]!;
    const ids = [...drawing.matchAll(/<xdr:cNvPr id="(\d+)" name="([^"]*)" descr="([^"]*)"/g)].map(([, ...one]) => one);
    expect(ids).toEqual([
      ["2", "Picture 1", "A &lt;first&gt;"],
      ["3", "Picture 2", "A second"],
      ["4", "Chart 3", "t"],
    ]);
    const workbook = await secondReader(bytes);
    const images = workbook.worksheets[0]!.getImages();
    expect(images.map(({ range }) => [range.tl.nativeRow, range.tl.nativeCol])).toEqual([
      [3, 0],
      [9, 2],
    ]);
    // 12,700 units a point.
    expect(drawing).toContain('<xdr:ext cx="1270000" cy="641350"/>');
    for (const { imageId } of images)
      expect(Buffer.from(workbook.getImage(Number(imageId)).buffer as ArrayBuffer).toString("base64")).toBe(png);
    expect(partsOf(bytes)["[Content_Types].xml"]!.match(/image\/png/g)).toHaveLength(2);
  });
});
