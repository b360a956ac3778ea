/** Which columns of a log hold what: attempts, corrections, the same marks read again, what stands beside a table. */
import { describe, expect, it } from "vitest";
import { asksOfObstacle, attemptColumns, attemptPlaces, isRequired } from "../../../src/experiment/log/attemptLog";
import { correctionAt, correctionColumn } from "../../../src/experiment/log/gateCorrection";
import { parseHeading, setByShot, unitAlone } from "../../../src/experiment/log/header";
import { outsideTable, outsideText } from "../../../src/experiment/log/outsideTable";
import { repeatedColumns } from "../../../src/experiment/log/repeatedColumns";
import { someRows } from "../../../src/experiment/log/someRows";
import { findColumns, findTrialLogs, logName } from "../../../src/experiment/log/trialLog";
import type { CellValue } from "../../../src/workbook/book";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { logOf } from "../logs";

describe("a log of attempts", () => {
  const columns = (rows: CellValue[][]) => {
    const found = attemptColumns(logOf(rows));
    return found && [found.position.as, found.position.column, found.outcome, found.measured].map(nameOf);
  };
  const nameOf = (one: string | { heading: { name: string } } | undefined) =>
    typeof one === "object" ? one.heading.name : one;

  it("has a position and an outcome with hits; the obstacle's gap goes before another, a gap before a bend", () => {
    expect(
      columns([
        [
          "Required bend (in)",
          "Gap (in)",
          "Gap at obstacle (in)",
          "Made",
          "Outcome",
          "Bend by camera (in)",
          "Bend (in)",
        ],
        [0.5, 0.4, 0.625, "yes", "hit", 0.52, 0.5],
        [0.5, 0.4, 0.625, "no", "made", 0.51, 0.5],
      ]),
    ).toEqual(["gap", "Gap at obstacle", "Outcome", "Bend by camera"]);
    expect(
      columns([
        ["Bend asked for (in)", "Outcome"],
        [0.5, "hit"],
        [0.5, "made"],
      ]),
    ).toEqual(["required", "Bend asked for", "Outcome", undefined]);
  });

  it("is none without hits, without an outcome, or without a position that is a number", () => {
    expect(
      columns([
        ["Gap (in)", "Outcome"],
        [0.5, "made"],
        [0.5, "missed"],
      ]),
    ).toBeUndefined();
    expect(
      columns([
        ["Gap (in)", "Made"],
        [0.5, "hit"],
        [0.5, "yes"],
      ]),
    ).toBeUndefined();
    expect(
      columns([
        ["Gap (in)", "Outcome"],
        ["wide", "hit"],
        ["narrow", "made"],
      ]),
    ).toBeUndefined();
    expect(
      columns([
        ["Speed (mph)", "Outcome"],
        [8, "hit"],
        [8, "made"],
      ]),
    ).toBeUndefined();
  });

  it("has places for attempts before any was shot, but not in a column of numbers", () => {
    const places = (rows: CellValue[][]) => attemptPlaces(logOf(rows))?.outcome.heading.name;
    expect(
      places([
        ["Trial", "Gap (in)", "Outcome"],
        [1, 0.5, null],
      ]),
    ).toBe("Outcome");
    expect(
      places([
        ["Trial", "Gap (in)", "Outcome"],
        ["a", null, null],
      ]),
    ).toBe("Outcome");
    expect(
      places([
        ["Trial", "Gap (in)", "Outcome"],
        ["a", 0.5, 1],
      ]),
    ).toBeUndefined();
    expect(
      places([
        ["Trial", "Gap (in)", "Outcome"],
        ["a", "wide", "made"],
      ]),
    ).toBeUndefined();
  });

  it("asks of the obstacle in its gap, the required bend, and a bend that is the radius less the gap", () => {
    const asks = (bends: readonly CellValue[], correction: readonly CellValue[] = []) => {
      const log = logOf([
        ["Gap (in)", "Bend (in)", "Outcome", "Required bend (in)", "Speed (mph)", "Gate correction (mm)"],
        ...bends.map((bend, i): CellValue[] => [0.25 * (i + 1), bend, i ? "made" : "hit", 1, 8, correction[i] ?? null]),
      ]);
      return log.columns.filter((column) => asksOfObstacle(log, column)).map(({ heading }) => heading.name);
    };
    expect(asks([0.875, 0.625, 0.375])).toEqual(["Gap", "Bend", "Required bend"]);
    expect(asks([0.875, 0.625, 0.376])).toEqual(["Gap", "Required bend"]);
    // A row that is not read does not count; one row alone shows nothing.
    expect(asks([0.875, null, 0.375])).toEqual(["Gap", "Bend", "Required bend"]);
    expect(asks([0.875, null, null])).toEqual(["Gap", "Required bend"]);
    // 2.54 mm is a tenth of an inch.
    expect(asks([0.775, 0.625, 0.275], [2.54, null, 2.54])).toEqual(["Gap", "Bend", "Required bend"]);
    const made = logOf([
      ["Gap (in)", "Bend (in)", "Made"],
      [0.25, 0.875, "yes"],
      [0.5, 0.625, "no"],
    ]);
    expect(made.columns.some((column) => asksOfObstacle(made, column))).toBe(false);
  });

  it.each([
    ["Required bend (in)", true],
    ["Bend needed", true],
    ["Set gap", false],
    ["Bend (in)", false],
  ])("%s is the bend asked for: %s", (text, required) =>
    expect(isRequired({ heading: parseHeading(text) })).toBe(required),
  );
});

describe("the gate's correction", () => {
  const correction = (heading: string, ...cells: CellValue[]) =>
    correctionColumn(logOf([[heading, "Bend (in)"], ...cells.map((cell): CellValue[] => [cell, 0.5])]));
  it("is in its heading's unit, or the one asked in where that says none; nothing written is none", () => {
    const column = correction("Gate correction (mm)", 2.54, null, "much");
    expect(correctionAt(column, 0, "in")).toBe(0.1);
    expect(correctionAt(column, 1, "in")).toBe(0);
    expect(correctionAt(column, 2, "in")).toBeNaN();
    expect(correctionAt(correction("Correction for the gate", 0.25), 0, "mm")).toBe(0.25);
    expect(correctionAt(correction("Gate correction (%)", 3), 0, "mm")).toBeNaN();
    expect(correctionAt(correction("Bend too", 3), 0, "mm")).toBe(0);
  });
});

describe("columns of the same marks", () => {
  it("share a name but for a number or a word for again, and a unit; gaps come first", () => {
    const log = logOf([
      ["Speed 1", "Speed 2", "Gap (in)", "Second gap (in)", "Gap again (mm)", "Note 1", "Note 2", "Gap #2 (in)"],
      [8, 9, 0.5, 0.5, 12, "a", "b", 0.5],
      [8, 9, 0.5, 0.5, 12, "a", "b", 0.5],
    ]);
    expect(repeatedColumns(log).map((group) => group.map(({ heading }) => heading.text))).toEqual([
      ["Gap (in)", "Second gap (in)", "Gap #2 (in)"],
      ["Speed 1", "Speed 2"],
    ]);
  });
});

describe("a column", () => {
  const log = logOf([
    ["Gap (in)", "Gap (mm)", "Cloth"],
    [0.5, 13, "new"],
    [0.25, 6, "worn"],
    [0.75, 19, "new"],
  ]);
  it("is found by its full heading, otherwise by its name, letter case aside", () => {
    const found = (heading: string) => findColumns(log, heading).map(({ heading: { text } }) => text);
    expect(found("gap (MM)")).toEqual(["Gap (mm)"]);
    expect(found("GAP")).toEqual(["Gap (in)", "Gap (mm)"]);
    expect(found(" cloth ")).toEqual(["Cloth"]);
    expect(found("Speed")).toEqual([]);
  });
  it("of some rows holds their readings in the order asked for", () => {
    const some = someRows(log, [2, 0]);
    expect(some.rows).toEqual([3, 1]);
    expect(some.columns[1]?.readings).toEqual([
      { kind: "number", value: 19 },
      { kind: "number", value: 13 },
    ]);
  });
  it("has a log that is named once where its sheet is named alike", () => {
    expect(logName({ sheet: "Log", title: "Log" })).toBe("Log");
    expect(logName({ sheet: "Log", title: "Trials" })).toBe("Log: Trials");
  });
  it("is set by the shot or not, whatever it is named", () => {
    expect([undefined, "speed", "spin", "gap"].map((meaning) => setByShot(meaning as "speed"))).toEqual(
      Array(4).fill(true),
    );
    expect(["cloth", "date", "trial", "humidity"].map((meaning) => setByShot(meaning as "cloth"))).toEqual(
      Array(4).fill(false),
    );
  });
  it("has its unit in brackets, or alone in a cell", () => {
    expect(["[km/h]", "( mm )", "inches", "deg", "Percent", "weeks", ""].map(unitAlone)).toEqual([
      "km/h",
      "mm",
      "in",
      "°",
      "%",
      undefined,
      undefined,
    ]);
  });
  it("takes the unit that the user says, and says so with its heading", () => {
    const data = sheetOf([
      ["Gap", "Speed (mph)"],
      [0.5, 8],
    ]);
    const units = findTrialLogs(data, { units: { Gap: "mm", "Speed (mph)": "km/h" } })[0]?.columns;
    expect(units?.map(({ heading }) => heading.unit)).toEqual(["mm", "km/h"]);
  });
});

describe("what stands around a table", () => {
  const area = { row: 0, column: 1, rows: 3, columns: 2 };
  const outside = (cells: CellValue[][], more: Parameters<typeof sheetOf>[1] = {}) =>
    outsideTable(sheetOf(cells, more), { name: "Trials", area });
  const inside: CellValue[][] = [
    [null, "Speed", "Cloth"],
    [null, 8, "new"],
    [null, 9, "worn"],
  ];

  it("below it is a row with a number where the table has numbers, whatever stands between", () => {
    const found = outside([
      ...inside,
      [],
      [null, 10, null],
      ["aside", null, null],
      [null, null, "a note"],
      [null, 7, "new"],
    ]);
    expect(found).toEqual({
      rows: [4, 7],
      lastRow: 7,
      columns: [],
      areas: [{ row: 3, column: 1, rows: 5, columns: 2 }],
    });
    expect(found && outsideText("Trials", found)).toBe("2 rows (5 to 8) below the table Trials are no part of it");
  });

  it("below it, in a table of words, is a row with more than half of its columns filled", () => {
    const words: CellValue[][] = [
      [null, "Table", "Cloth"],
      [null, "North", "new"],
      [null, "South", "worn"],
    ];
    expect(outside([...words, [null, "West", "new"], [null, "a note", null]])).toEqual({
      rows: [3],
      lastRow: 3,
      columns: [],
      areas: [{ row: 3, column: 1, rows: 1, columns: 2 }],
    });
    expect(outside([...words, [null, "a note", null]])).toBeUndefined();
  });

  it("ends where another block begins with headings after a blank row, and where another table stands", () => {
    expect(outside([...inside, [], [null, "Table", "Length"], [null, 5, 100]])).toBeUndefined();
    // Right below, words are no headings of something else.
    expect(outside([...inside, [null, "Table", "Length"], [null, 5, 100]])?.rows).toEqual([4]);
    const tables = [
      { name: "Other", area: { row: 4, column: 1, rows: 2, columns: 2 } },
      { name: "Third", area: { row: 0, column: 3, rows: 3, columns: 1 } },
    ];
    const cells = [...inside, [], [null, "Table", "Length"], [null, 5, 100]].map((row, r) => [
      ...row,
      ...Array.from({ length: 3 - row.length }, () => null),
      r < 3 ? ["Angle", 1, 2][r]! : null,
    ]);
    expect(outside(cells, { tables })).toBeUndefined();
    expect(outside(cells)?.columns).toEqual([{ column: 3, heading: "Angle" }]);
  });

  it("beside it are columns with a heading in words and an entry, without a gap", () => {
    const beside = (...columns: CellValue[][]) =>
      outside(inside.map((row, r) => [...row, ...columns.map((column) => column[r] ?? null)]));
    const found = beside(["Angle", null, 4], ["Spin", 1, null], [null, 1, 2], ["Far", 1, 2]);
    expect(found).toMatchObject({
      rows: [],
      lastRow: 2,
      areas: [{ row: 0, column: 3, rows: 3, columns: 2 }],
      columns: [
        { column: 3, heading: "Angle" },
        { column: 4, heading: "Spin" },
      ],
    });
    expect(found && outsideText("Trials", found)).toBe(
      'Columns D ("Angle"), E ("Spin") beside the table Trials are no part of it',
    );
    expect(beside([2026, 1, 2])).toBeUndefined();
    expect(beside(["Empty", null, null])).toBeUndefined();
    const one = beside(["Angle", 1, 2]);
    expect(one && outsideText("Trials", one)).toBe('Column D ("Angle") beside the table Trials is no part of it');
    const both = outside([...inside.map((row) => [...row, "Angle"]), [null, 10, "new"]]);
    expect(both && outsideText("Trials", both)).toBe(
      'Row 4 below the table Trials and column D ("Angle") beside it are no part of it',
    );
  });
});
