import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { findTrialLogs } from "../../../../src/experiment/log/trialLog";
import { sheetData } from "../../../../src/workbook/sheetData";
import { readCsv, writeCsv } from "../../../../src/workbook/file/read/csv";
import { FileProblem } from "../../../../src/workbook/file/package/fileProblem";
import { openBook } from "../../../../src/workbook/file/read/openBook";
import { bookOf } from "../packages";

const utf8 = (text: string) => new TextEncoder().encode(text);
const values = (bytes: Uint8Array) =>
  readCsv(bytes, "log.csv").sheets[0].rows.map((row) => Array.from(row ?? [], (cell) => cell?.value ?? null));

describe("reading", () => {
  it("makes numbers of plain numbers and leaves everything else as typed", () => {
    expect(
      values(utf8("0.125,-3,1e-3,.5,+2,1/8,007,1 1/8, 8.5 ,=1+1,TRUE,12345678901234567890,2026-01-08,1.,0\n")),
    ).toEqual([
      [
        0.125,
        -3,
        0.001,
        0.5,
        2,
        "1/8",
        "007",
        "1 1/8",
        " 8.5 ",
        "=1+1",
        "TRUE",
        "12345678901234567890",
        "2026-01-08",
        1,
        0,
      ],
    ]);
  });

  it("keeps quotes, markup, line ends and blanks in their places", () => {
    expect(values(utf8('"Bend ""in""","<b>x</b>",Remarks\r\n1,,"two\nlines"\r\n\r\n,,5\r\n'))).toEqual([
      ['Bend "in"', "<b>x</b>", "Remarks"],
      [1, null, "two\nlines"],
      [],
      [null, null, 5],
    ]);
  });

  it("finds semicolons with decimal commas, and tabs", () => {
    expect(values(utf8("Gap;Bend;Note\n0,125;1;a,b\n1.500;-0,5;x\n"))).toEqual([
      ["Gap", "Bend", "Note"],
      [0.125, 1, "a,b"],
      ["1.500", -0.5, "x"],
    ]);
    expect(values(utf8("Gap;Bend\n0.125;1\n"))).toEqual([
      ["Gap", "Bend"],
      [0.125, 1],
    ]);
    expect(values(utf8("Gap\tBend\n0.125\t1\n"))).toEqual([
      ["Gap", "Bend"],
      [0.125, 1],
    ]);
    expect(values(utf8("Gap\n0.125\n"))).toEqual([["Gap"], [0.125]]);
  });

  it("reads on where line ends change", () => {
    expect(values(utf8('Gap,Remarks\r\n1,"two\r\nlines"\n2,3/16"\n3,x\r4,y\r\n'))).toEqual([
      ["Gap", "Remarks"],
      [1, "two\r\nlines"],
      [2, '3/16"'],
      [3, "x"],
      [4, "y"],
    ]);
  });

  it("takes one column with decimal commas for one column, and decimal commas between tabs for numbers", () => {
    expect(values(utf8("Bend (in)\n0,5\n-1,25\n\n2\n"))).toEqual([["Bend (in)"], [0.5], [-1.25], [], [2]]);
    expect(values(utf8("Gap\tBend\n0,125\t1\n0,25\t1,5\n"))).toEqual([
      ["Gap", "Bend"],
      [0.125, 1],
      [0.25, 1.5],
    ]);
    expect(values(utf8("Gap,Bend\n1,5\n2,6\n"))).toEqual([
      ["Gap", "Bend"],
      [1, 5],
      [2, 6],
    ]);
    expect(values(utf8("1,5\n2,6\n"))).toEqual([
      [1, 5],
      [2, 6],
    ]);
    expect(values(utf8("Title\nGap,Bend\n1,5\n"))).toEqual([["Title"], ["Gap", "Bend"], [1, 5]]);
  });

  it("understands UTF-8 and UTF-16 with a mark, and Windows-1252", () => {
    const text = "Tür,½\n";
    const utf16 = (little: boolean) => {
      const bytes = new DataView(new ArrayBuffer(2 + 2 * text.length));
      [...("\ufeff" + text)].forEach((letter, i) => bytes.setUint16(2 * i, letter.charCodeAt(0), little));
      return new Uint8Array(bytes.buffer);
    };
    for (const bytes of [
      utf8(text),
      utf8(`\ufeff${text}`),
      utf16(true),
      utf16(false),
      Uint8Array.from(text, (letter) => letter.charCodeAt(0)),
    ]) {
      expect(values(bytes)).toEqual([["Tür", "½"]]);
    }
  });

  it("names the sheet after the file", () => {
    expect(readCsv(utf8("1\n"), "hall/my: log.v2.csv").sheets[0].name).toBe("my- log.v2");
  });

  it("says where a quote is not closed", () => {
    expect(() => readCsv(utf8('a,b\n1,"2\n3,4\n'), "log.csv")).toThrow(FileProblem);
    expect(() => readCsv(utf8('a,b\n1,"2\n3,4\n'), "log.csv")).toThrow(/record 2 .*log\.csv/);
  });
});

describe("against a second reader", () => {
  const sign = fc.constantFrom("a", "é", "1", "0", "-", ".", ",", '"', " ", "\n", "7", "x");
  const field = fc.array(sign, { maxLength: 6 }).map((signs) => signs.join(""));

  it("takes fields apart as Papaparse does, whatever stands in them", () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(field, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 6 }),
        fc.constantFrom("\n", "\r\n"),
        (records, newline) => {
          // Fields in quotes, so that every record has its commas where they are meant to be.
          const text = Papa.unparse([["H", "B"], ...records], { quotes: true, newline });
          const wanted = Papa.parse<string[]>(text, { delimiter: ",", newline }).data;
          const got = values(utf8(text));
          wanted.forEach((fields, r) =>
            fields.forEach((one, c) => {
              const value = got[r]?.[c] ?? null;
              expect(value).toBe(typeof value === "number" ? Number(one) : one === "" ? null : one);
            }),
          );
        },
      ),
      { numRuns: 100 },
    );
  });

  it("is read as a log alike by column and by row", () => {
    const cell = fc.constantFrom("", "1", "2.5", "new", "8,5", "3/8", " ", "in", "2026-01-08", "9 %");
    const row = fc.tuple(cell, cell, cell);
    fc.assert(
      fc.property(fc.array(row, { maxLength: 8 }), fc.boolean(), (rows, indented) => {
        const lines = [["Trial", "Gap (in)", "Cloth"], ...rows].map((fields) => Papa.unparse([fields]));
        const [byColumn] = readCsv(utf8(`${indented ? "\n" : ""}${lines.join("\n")}\n`), "log.csv").sheets;
        // A copy of the sheet is another sheet, of which only the rows are known.
        const [one, other] = [sheetData(byColumn, []), sheetData({ ...byColumn }, [])];
        expect(findTrialLogs(one)).toEqual(findTrialLogs(other));
        expect({ ...one }).toEqual(other);
      }),
      { numRuns: 100 },
    );
  });

  it("says which record has a quote that is not closed, as Papaparse does", () => {
    fc.assert(
      fc.property(fc.array(field, { minLength: 1, maxLength: 8 }), (lines) => {
        const text = ["H,B", ...lines].map((line) => `${line},1`).join("\n");
        const { errors } = Papa.parse<string[]>(text, { delimiter: ",", newline: "\n" });
        const wrong = errors.some(({ type }) => type === "Quotes");
        let said = false;
        try {
          readCsv(utf8(text), "log.csv");
        } catch (problem) {
          said = problem instanceof FileProblem;
        }
        expect(said).toBe(wrong);
      }),
      { numRuns: 100 },
    );
  });
});

describe("opening", () => {
  it("takes text for a .csv whatever its name, and UTF-16 for text", async () => {
    expect((await openBook(utf8("Gap,Bend\n1,2\n"), "log.txt")).sheets[0].rows.length).toBe(2);
    expect(
      (await openBook(Uint8Array.from([0xff, 0xfe, 0x31, 0, 0x0a, 0]), "log.csv")).sheets[0].rows[0]?.[0]?.value,
    ).toBe(1);
  });
  it("says when there are no rows", async () => {
    await expect(openBook(utf8("\ufeff\n\n"), "log.csv")).rejects.toThrow(/log\.csv: The file has no rows/);
  });
});

describe("writing", () => {
  it("writes every kind of value, dates as dates", () => {
    const book = bookOf(
      [
        {
          name: "Log",
          rows: [
            [{ value: 'a "b", c' }, { value: 0.1 + 0.2 }, { value: true }, { value: { error: "#N/A" } }],
            undefined,
            [undefined, { value: 46030, style: 0 }, { value: 46030.75, style: 0 }],
          ],
        },
      ],
      {
        styles: [{ format: "yyyy-mm-dd" }],
      },
    );
    expect(new TextDecoder("utf-8", { ignoreBOM: true }).decode(writeCsv(book.sheets[0], book.styles))).toBe(
      '\ufeff"a ""b"", c",0.30000000000000004,TRUE,#N/A\r\n\r\n,2026-01-08,2026-01-08T18:00:00\r\n',
    );
  });

  it("writes nothing that a spreadsheet would run, and reads it back as it was", () => {
    const texts = [
      "=1+1",
      "@SUM(A1)",
      "+A1",
      "- missed left",
      "-2+3",
      "\t=1",
      "\r=1",
      "'=1",
      "''@x",
      '=HYPERLINK("x","y")',
      "-A1",
    ];
    const plain = ["-5", "+0.5", "-1e3", "-", "a=b", "'quoted", "1-2", "5 in"];
    const sheet = bookOf([
      { name: "Log", rows: [[...texts, ...plain].map((value) => ({ value })), [{ value: -5 }, { value: -0.5 }]] },
    ]).sheets[0];
    const bytes = writeCsv(sheet);
    const { data } = Papa.parse<string[]>(new TextDecoder().decode(bytes));
    expect(data[0].filter((field) => /^[=@\t\r\n]|^[+-](?!$|[\d.]+(e\d+)?$)/.test(field))).toEqual([]);
    expect(data[0].slice(texts.length)).toEqual(plain);
    expect(data[1].slice(0, 2)).toEqual(["-5", "-0.5"]);
    expect(values(bytes)[0]).toEqual([...texts, -5, 0.5, -1000, ...plain.slice(3)]);
  });

  it("comes back as it was", () => {
    const field = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true }).map((n) => n + 0 || 0),
      fc.string({ minLength: 1 }).filter((text) => /[a-z]/i.test(text) && Number.isNaN(Number(text))),
    );
    fc.assert(
      fc.property(fc.array(fc.array(field, { minLength: 2, maxLength: 5 }), { minLength: 1, maxLength: 8 }), (rows) => {
        const sheet = bookOf([{ name: "Log", rows: rows.map((row) => row.map((value) => ({ value }))) }]).sheets[0];
        expect(values(writeCsv(sheet))).toEqual(rows);
      }),
    );
  });
});
