import { describe, expect, it } from "vitest";
import { analyse, NoAnswer } from "../../../src/experiment/question/analysis";
import { answerSentences } from "../../../src/experiment/question/answer";
import { guessChoice, type Choice } from "../../../src/experiment/question/choice";
import { parseHeading } from "../../../src/experiment/log/header";
import { readCell } from "../../../src/experiment/log/reading";
import { checkRows } from "../../../src/experiment/question/rowCheck";
import { findTrialLogs, trialLogAt, type TrialLog } from "../../../src/experiment/log/trialLog";
import type { CellValue } from "../../../src/workbook/book";
import type { SheetData } from "../../../src/workbook/port";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { toText } from "../../../src/experiment/language/said";

const log = (rows: CellValue[][], more?: Partial<SheetData>): TrialLog => findTrialLogs(sheetOf(rows, more))[0];
const choice = (response: string, ...drivers: [string, "number" | "category"][]): Choice => ({
  response,
  drivers: drivers.map(([heading, as]) => ({ heading, as, degree: 1 })),
  joint: [],
  constant: true,
  confidence: 0.95,
});

describe("headings", () => {
  it.each([
    ["Humidity (%)", "Humidity", "%"],
    ["Speed [mph]", "Speed", "mph"],
    ["Gap, in", "Gap", "in"],
    [" Bend  (inches) ", "Bend", "in"],
    ["Cloth", "Cloth", ""],
    ["Remarks (see guide for all)", "Remarks (see guide for all)", ""],
    ["Made, yes or no", "Made, yes or no", ""],
  ])("%s", (text, name, unit) => expect(parseHeading(text)).toMatchObject({ name, unit }));
});

describe("cells", () => {
  const number = (value: number) => ({ kind: "number", value });
  it.each([
    [8.5, "General", "", number(8.5)],
    ["8.5 ", "General", "", number(8.5)],
    ["45 %", "General", "%", number(45)],
    [0.07, "0%", "%", number(7)],
    [45, "General", "%", number(45)],
    ["45 %", "General", "", number(0.45)],
    ["1 1/8", "General", "in", number(1.125)],
    ["1 1/8", "General", "", number(1.125)],
    ["1 1/8 in", "General", "", number(1.125)],
    ["1 1/8 in", "General", "in", number(1.125)],
    ["12 mph", "General", "mph", number(12)],
    ["25.4 mm", "General", "in", { kind: "number", value: 1, said: "25.4 mm" }],
    [null, "General", "", { kind: "blank" }],
    ["   ", "General", "", { kind: "blank" }],
    [46030, "d-mmm", "in", { kind: "date", value: 46030 }],
    ["worn", "General", "", { kind: "word", text: "worn" }],
    [true, "General", "", { kind: "word", text: "TRUE" }],
    [{ error: "#N/A" }, "General", "", { kind: "unusable", reason: "the error #N/A" }],
    ["1/8", "General", "mm", { kind: "unusable", reason: '"1/8", a fraction of an inch in a column of mm' }],
  ] as const)("%j with format %s in a column of %j", (value, format, unit, reading) =>
    expect(readCell(value, format, unit)).toEqual(reading),
  );

  it("says that a comma may mean two things", () =>
    expect(readCell("9,8", "General", "mph")).toMatchObject({ kind: "unusable" }));
});

describe("how a log is read", () => {
  const numbers = (found: TrialLog, name: string) =>
    found.columns
      .find(({ heading }) => heading.name === name)!
      .readings.map((reading) => (reading.kind === "number" ? reading.value : reading.kind));

  it("takes decimal commas that can be nothing else, with a unit behind them too, and says so", () => {
    const found = log([
      ["Speed (mph)", "Bend (in)"],
      ["8,5", 0.5],
      ["10,25 mph", "0,625"],
      [9, "-0,5"],
      ["11,250", 0.75],
    ]);
    expect(numbers(found, "Speed")).toEqual([8.5, 10.25, 9, 11.25]);
    expect(numbers(found, "Bend")).toEqual([0.5, 0.625, -0.5, 0.75]);
    expect(found.readAs).toEqual([
      'Speed (mph): 3 cells are text with a decimal comma, the first A2 with "8,5"; read as numbers.',
      'Bend (in): 2 cells are text with a decimal comma, the first B3 with "0,625"; read as numbers.',
    ]);
    expect(guessChoice(found)!.drivers.map(({ heading }) => heading)).toEqual(["Speed (mph)"]);
  });

  it("leaves commas that may part thousands, or stand beside decimal points, and says what column takes no part", () => {
    const found = log([
      ["Speed (mph)", "Turns", "Bend (in)"],
      ["1,250", "9,8", 0.5],
      ["1,500", "8.5", 0.625],
    ]);
    expect(numbers(found, "Speed")).toEqual(["unusable", "unusable"]);
    expect(numbers(found, "Turns")).toEqual(["unusable", 8.5]);
    expect(found.readAs).toEqual([
      'Speed (mph) cannot be read, so it takes no part: A2 is "1,250", which has a comma, which may be a decimal sign or a thousands sign: write a point.',
    ]);
  });

  it("takes a row of units below the headings for what it is, and no trial that says in or m", () => {
    const found = log([
      ["Session", "Speed", "Gap", "Humidity (%)", "Bend (in)"],
      [null, "km/h", "(mm)", "%", "-"],
      ["a", 12, 6, 45, 0.5],
      ["a", 14, "7,5", 46, 0.6],
    ]);
    expect(found.rows).toEqual([2, 3]);
    expect(found.blankRows).toBe(0);
    expect(found.columns.map(({ heading }) => [heading.text, heading.unit])).toEqual([
      ["Session", ""],
      ["Speed", "km/h"],
      ["Gap", "mm"],
      ["Humidity (%)", "%"],
      ["Bend (in)", "in"],
    ]);
    expect(found.readAs[0]).toBe("Row 2 holds units and is no trial: Speed in km/h, Gap in mm, Humidity in %.");
    expect(
      log([
        ["Made", "Speed"],
        ["in", null],
        ["out", 9],
        ["in", 8],
      ]).rows,
    ).toEqual([1, 2, 3]);
    expect(
      log([
        ["Cloth", "Speed"],
        ["m", "9"],
        ["g", "8"],
      ]).rows,
    ).toEqual([1, 2]);
  });

  it("takes ISO days and moments for dates, and nothing that is no day", () => {
    const found = log([
      ["Day", "Bend (in)"],
      ["2026-01-08", 0.5],
      ["2026-01-09T18:30", 0.6],
      ["2026-01-10 06:00:00", 0.6],
    ]);
    expect(found.columns[0].readings).toEqual([
      { kind: "date", value: 46030 },
      { kind: "date", value: 46031 + 18.5 / 24 },
      { kind: "date", value: 46032.25 },
    ]);
    expect(found.columns[0].kind).toBe("date");
    for (const text of ["2026-02-30", "2026-13-01", "2026-1-8", "2026-01-08T25:00"])
      expect(readCell(text, "General", "")).toEqual({ kind: "word", text });
  });
});

describe("finding the log", () => {
  it("passes over a title and keeps rows after a blank row", () => {
    const found = log([["Trials of week 3"], [], ["Speed (mph)", "Bend (in)"], [8, 0.5], [9, 0.6], [], [10, 0.7]]);
    expect([found.headingRow, found.rows, found.blankRows]).toEqual([2, [3, 4, 6], 1]);
    expect(found.columns.map(({ heading }) => heading.name)).toEqual(["Speed", "Bend"]);
  });
  it("takes cells of nothing but blanks for blank: no trial, no gap's end, no entry", () => {
    const found = log([
      ["Speed (mph)", "Bend (in)", " "],
      [8, 0.5, "  "],
      [" ", "\t", null],
      [9, "  ", ""],
    ]);
    expect([found.rows, found.blankRows]).toEqual([[1, 3], 1]);
    expect(found.columns.map(({ heading }) => heading.name)).toEqual(["Speed", "Bend"]);
    expect(found.columns[1]!.readings[1]).toEqual({ kind: "blank" });
  });
  it("prefers what the sheet calls a table and finds a block beside it", () => {
    const found = findTrialLogs(
      sheetOf([["Speed", "Bend"], [8, 0.5], [9, 0.6], [], ["Cloth", "Weeks"], ["new", 3]], {
        tables: [{ name: "Trials", area: { row: 0, column: 0, rows: 3, columns: 2 } }],
      }),
    );
    expect(found.map(({ title, rows }) => [title, rows.length])).toEqual([
      ["Trials", 2],
      ["headings in row 5", 1],
    ]);
  });
  it("gives a column without a heading its letter", () =>
    expect(
      log([
        ["Speed", null, "Bend"],
        [8, 1, 0.5],
        [9, 2, 0.6],
      ]).columns[1].heading.text,
    ).toBe("column B"));
  it("finds nothing on an empty sheet, one row, or a sheet of numbers", () => {
    expect(findTrialLogs(sheetOf([]))).toEqual([]);
    expect(findTrialLogs(sheetOf([["Speed", "Bend"]]))).toEqual([]);
    expect(
      findTrialLogs(
        sheetOf([
          [1, 2],
          [3, 4],
        ]),
      ),
    ).toEqual([]);
  });
  it("keeps markup in a heading as text", () =>
    expect(
      log([
        ["<b>Bend</b> (in)", "x"],
        [1, 2],
      ]).columns[0].heading,
    ).toMatchObject({ name: "<b>Bend</b>", unit: "in" }));
  it("guesses bend against cloth, humidity, speed and spin", () => {
    const guess = guessChoice(
      log([
        ["Trial", "Spin", "Cloth", "Speed (mph)", "Humidity (%)", "Gap (in)", "Bend (in)"],
        [1, 0.2, "new", 8, 40, 0.5, 0.6],
        [2, 0.3, "worn", 9, 45, 0.4, 0.7],
      ]),
    );
    expect(guess).toMatchObject({
      response: "Bend (in)",
      drivers: [
        { heading: "Cloth", as: "category" },
        { heading: "Humidity (%)", as: "number" },
        { heading: "Speed (mph)" },
        { heading: "Spin" },
      ],
    });
  });
});

describe("checking rows", () => {
  it("lists every row left out with its cell and the reason, and counts hidden rows in", () => {
    const found = log(
      [
        ["Speed (mph)", "Bend (in)"],
        [8, 0.5],
        [null, 0.6],
        [9, "soon"],
        [10, { error: "#VALUE!" }],
        [11, 0.7],
      ],
      { hiddenRows: [1] },
    );
    const { used, leftOut } = checkRows(found, choice("Bend (in)", ["Speed (mph)", "number"]));
    expect(used).toEqual([0, 4]);
    expect(leftOut.map(({ address, reason }) => [address, reason])).toEqual([
      ["A3", "Speed (mph) is blank"],
      ["B4", 'Bend (in) is "soon", which is no number'],
      ["B5", "Bend (in) is the error #VALUE!"],
    ]);
    expect(found.hiddenRows).toBe(1);
  });
  it("leaves out a date among numbers and says what may have happened", () => {
    const rows: CellValue[][] = [
      ["Gap (in)", "Bend (in)"],
      [0.5, 1],
      [46030, 2],
      [0.25, 3],
      [0.3, 4],
      [0.4, 5],
    ];
    const data = sheetOf(rows);
    const formats = data.formats.map((row) => [...row]);
    formats[2][0] = "d-mmm";
    const { leftOut } = checkRows(findTrialLogs({ ...data, formats })[0], choice("Bend (in)", ["Gap (in)", "number"]));
    expect(toText(leftOut[0].reason)).toBe(
      "Gap (in) is the date 2026-01-08, which 1/8 is turned into: type 0 1/8 or =1/8 there",
    );
  });
  it("flags what looks wrong and still uses it", () => {
    const rows: CellValue[][] = [
      ["Humidity (%)", "Gap (in)", "Cloth", "Bend (in)", "Trial"],
      [45, 0.5, "worn", 0.6, 1],
      [450, 0.5, "Worn", 0.6, 2],
      [46, 3, "worn", -1.9, 3],
      [47, 0.25, "new", 0.9, 4],
      [47, 0.25, "new", 0.9, 4],
    ];
    const { used, suspicious } = checkRows(
      log(rows),
      choice("Bend (in)", ["Humidity (%)", "number"], ["Cloth", "category"]),
    );
    expect(used.length).toBe(5);
    const said = suspicious.map(({ address, reason }) => `${address} ${toText(reason)}`).join("\n");
    expect(said).toContain("A3 Humidity is 450 %; humidity lies between 0 and 100 %");
    expect(said).toContain("B4 Gap is 3 in, larger than a ball");
    expect(said).toContain('C3 Cloth is "Worn" here and "worn" above; they count as two');
    expect(said).toContain("the row is the same as row 5 in every column");
  });

  it("calls rows alike copies only where a count or a clock is alike too: a ruler makes honest repeats equal", () => {
    const said = (heading: string, ...tells: CellValue[]) =>
      checkRows(
        log([[heading, "Cloth", "Gap (in)"], ...tells.map((tell): CellValue[] => [tell, "worn", 0.25])]),
        choice("Gap (in)"),
      ).suspicious.map(({ address, reason }) => `${address} ${toText(reason)}`);
    const copy = "A4 the row is the same as row 3 in every column";
    expect(said("Trial", 1, 2, 2)).toEqual([copy]);
    expect(said("Time", "6:05 pm", "6:10 pm", "6:10 pm")).toEqual([copy]);
    expect(said("Trial", 1, 2, 3)).toEqual([]);
    expect(said("Date", "2026-05-01", "2026-05-01", "2026-05-01")).toEqual([]);
    expect(said("Table", "North", "North", "North")).toEqual([]);
  });
});

describe("sessions", () => {
  it("whose label stands on several tables are pointed out once, at the first cell of the second table", () => {
    const rows: CellValue[][] = [
      ["Session", "Table", "Bend (in)"],
      [1, "North", 0.5],
      [1, "North", 0.6],
      [1, "South", 0.7],
      [2, "South", 0.6],
      [2, "North", 0.4],
    ];
    const said = (sheetRows: CellValue[][]) =>
      checkRows(log(sheetRows), choice("Bend (in)")).suspicious.map(
        ({ address, reason }) => `${address}: ${toText(reason)}`,
      );
    expect(said(rows)).toEqual([
      'A4: Session is "1" on North and South, and 1 more so; if each table was a visit of its own, give each its own label, such as North 1: under one they count as one, unless table and session together are named as what makes a session',
    ]);
    expect(said(rows.map((row, r) => (r === 0 ? row : [`${row[1]} ${row[0]}`, ...row.slice(1)])))).toEqual([]);
  });
});

describe("asking", () => {
  const rows: CellValue[][] = [["Cloth", "Speed (mph)", "Bend (in)"]];
  for (let i = 0; i < 24; i++)
    rows.push([i % 2 ? "new" : "worn", 6 + (i % 7), 0.4 + (i % 2 ? 0.2 : 0) + 0.05 * (i % 7) + (i % 3 ? 0.01 : -0.02)]);
  const found = log(rows);

  it("answers in sentences with number, unit and interval, and calls nothing a cause", () => {
    const texts = answerSentences(
      analyse(found, choice("Bend (in)", ["Cloth", "category"], ["Speed (mph)", "number"])),
    ).map(({ text }) => toText(text));
    expect(texts[0]).toBe("Bend (in): 24 of 24 rows used.");
    expect(
      texts.some((text) =>
        /^With speed alike, cloth "new" goes with 0\.\d+ in more bend, 95 % interval 0\.\d+ to 0\.\d+, compared with cloth "worn"\.$/.test(
          text,
        ),
      ),
    ).toBe(true);
    expect(
      texts.some((text) =>
        /^With cloth alike, 2 mph more speed goes with 0\.\d+ in more bend, 95 % interval/.test(text),
      ),
    ).toBe(true);
    expect(texts.join(" ")).toContain("not what causes bend");
    expect(texts.join(" ")).not.toMatch(/\*|prove|significan/i);
  });
  it("is not surer than the interval", () => {
    const flat = log([
      ["Speed (mph)", "Bend (in)"],
      [6, 0.5],
      [7, 0.52],
      [8, 0.49],
      [9, 0.51],
      [10, 0.5],
    ]);
    expect(
      answerSentences(analyse(flat, choice("Bend (in)", ["Speed (mph)", "number"]))).map(({ kind }) => kind),
    ).toContain("open");
  });
  it("says nothing of a driver that never changed, of a response that never did, and one thing once", () => {
    const told = (rows: CellValue[][]) =>
      answerSentences(analyse(log(rows), choice("Bend (in)", ["Cloth", "category"], ["Speed (mph)", "number"]))).map(
        ({ text }) => toText(text),
      );
    const heads = ["Cloth", "Speed (mph)", "Bend (in)"];
    const same = told([heads, ...Array.from({ length: 8 }, (): CellValue[] => ["new", 8, 0.5])]).join(" ");
    expect(same).toContain("Bend is the same in every row");
    expect(same).not.toContain("more speed");
    const few = told([heads, ["new", 8, 0.5], ["worn", 9, 0.6]]).filter((text) => text.startsWith("Not estimated"));
    expect(new Set(few).size).toBe(few.length);
    // Bend is exactly 0.5, and 0.1 more on new cloth, whatever the speed.
    const exact = told([
      heads,
      ...Array.from({ length: 12 }, (_, i): CellValue[] => [i % 2 ? "new" : "worn", 6 + (i % 5), i % 2 ? 0.75 : 0.5]),
    ]).join(" ");
    expect(exact).not.toMatch(/NaN|Infinity|0\.0000 in less to 0\.0000/);
  });
  it("names an unknown column, a column named twice, and a question without rows", () => {
    expect(() => analyse(found, choice("Bend", ["Humidity", "number"]))).toThrow(
      'no column is headed "Humidity"; there are: "Cloth", "Speed (mph)", "Bend (in)".',
    );
    expect(() => analyse(found, choice("Bend", ["Bend (in)", "number"]))).toThrow(
      "both as the response and as a driver",
    );
    expect(() =>
      analyse(
        log([
          ["Speed", "Bend"],
          ["x", 1],
          ["y", 2],
        ]),
        choice("Bend", ["Speed", "number"]),
      ),
    ).toThrow(NoAnswer);
  });
});

describe("where a log stands", () => {
  it("does not matter: headings in a row that the user names are found on a sheet that begins below and beside A1", () => {
    const rows: CellValue[][] = [["Notes"], ["Speed (mph)", "Gap (in)"], [8, 0.5], [9, 0.25]];
    const found = trialLogAt(sheetOf(rows, { firstRow: 4, firstColumn: 2 }), 5)!;
    expect(found.title).toBe("headings in row 6");
    expect(found.columns.map(({ heading }) => heading.name)).toEqual(["Speed", "Gap"]);
    expect(found.rows).toEqual([6, 7]);
    // Above the sheet's first row there is none, nor in its last.
    expect(trialLogAt(sheetOf(rows, { firstRow: 4, firstColumn: 2 }), 3)).toBeUndefined();
    expect(trialLogAt(sheetOf(rows, { firstRow: 4, firstColumn: 2 }), 7)).toBeUndefined();
  });

  it("does not matter for a table without a heading row, whose first row is a row whatever it says", () => {
    const rows: CellValue[][] = [
      [null, null, "mph", "in"],
      [null, null, 8, 0.5],
      [null, null, 9, 0.25],
    ];
    const area = { row: 0, column: 2, rows: 3, columns: 2 };
    const tables = [{ name: "Trials", area, columns: ["Speed", "Gap"] }];
    const found = log(rows, { tables });
    expect(found.columns.map(({ heading }) => heading.name)).toEqual(["Speed", "Gap"]);
    expect(found.rows).toEqual([0, 1, 2]);
    expect(found.headingRow).toBe(-1);
  });
});

describe("a column of dates", () => {
  const of = (...values: CellValue[]) =>
    log([["Day", "Gap (in)"], ...values.map((value): CellValue[] => [value, 0.5])], {
      formats: [
        ["General", "General"],
        ...values.map((value) => [typeof value === "number" && value > 4e4 ? "d-mmm" : "General", "General"]),
      ],
    }).columns[0]!.kind;
  it("is one where three of four cells are dates, and not where fewer are", () => {
    expect(of(46030, 46031, 46032, 5)).toBe("date");
    expect(of(46030, 46031, 46032, 5, 6)).not.toBe("date");
    // Blanks and what cannot be read do not count.
    expect(of(46030, null, { error: "#N/A" }, null)).toBe("date");
    expect(of(1, 2, 3, "late", null)).toBe("number");
    expect(of(1, 2, "late")).toBe("category");
    expect(of(null, { error: "#N/A" })).toBe("empty");
  });
});
