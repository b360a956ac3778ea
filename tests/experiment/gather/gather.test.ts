/**
 * Many logs as one tidy set: columns that belong together, units, and everything that is listed rather than decided.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  gatherPlan,
  holdsTrials,
  knownColumns,
  sourceOf,
  type GatherWishes,
} from "../../../src/experiment/gather/gatherPlan";
import { keptRows, RowTidier, type KeptRow, type TidyValue } from "../../../src/experiment/gather/gatherRows";
import type { TrialLog } from "../../../src/experiment/log/trialLog";
import { convertUnit, kindOfUnit } from "../../../src/experiment/language/unitConversion";
import type { CellValue } from "../../../src/workbook/book";
import { logOf } from "../logs";

function gathered(logs: Record<string, TrialLog>, wishes: GatherWishes = {}) {
  const sources = Object.entries(logs).map(([origin, one]) => sourceOf(origin, one));
  const plan = gatherPlan(sources, wishes);
  const tidier = new RowTidier(sources, plan);
  // Through JSON, as the rows are put aside.
  const rows = Object.values(logs).flatMap((one, s) =>
    [...keptRows(one)].map((row): TidyValue[] => tidier.tidy(s, JSON.parse(JSON.stringify(row)) as KeptRow)),
  );
  return {
    headings: plan.columns.map(({ heading }) => heading),
    plan,
    rows,
    conflicts: [...plan.conflicts, ...tidier.conflicts()],
    leftBlank: tidier.leftBlank(),
  };
}

const many = (n: number, row: (i: number) => CellValue[]) => Array.from({ length: n }, (_, i) => row(i));

describe("columns", () => {
  it("of one name and one kind of unit become one, in the unit that most rows have", () => {
    const { headings, rows, plan } = gathered({
      "a.csv": logOf([
        ["Session", "Bend (in)", "Temp (°F)"],
        ["s1", 1, 68],
        ["s1", "1/2", 50],
        ["s2", null, 32],
      ]),
      "b.csv": logOf([
        ["bend [mm]", "Session", "temp (°C)"],
        [25.4, "s9", 20],
        [12.7, "s9", 0],
      ]),
    });
    expect(headings).toEqual(["Session", "Bend (in)", "Temp (°F)"]);
    expect(rows).toEqual([
      ["s1", 1, 68],
      ["s1", 0.5, 50],
      ["s2", null, 32],
      ["s9", 1, 68],
      ["s9", 0.5, 32],
    ]);
    expect(plan.conversions).toEqual([
      '"bend [mm]" of b.csv was turned from mm into in.',
      '"temp (°C)" of b.csv was turned from °C into °F.',
    ]);
    expect(plan.conflicts).toEqual([]);
  });

  it("follow the system of units that is asked for", () => {
    const { headings, rows } = gathered(
      {
        "a.csv": logOf([
          ["Bend (in)", "Speed (mph)"],
          [1, 10],
        ]),
      },
      { units: "si" },
    );
    expect(headings).toEqual(["Bend (mm)", "Speed (m/s)"]);
    expect(rows[0]).toEqual([25.4, 4.4704]);
  });

  it("whose units cannot be turned into each other are kept apart and listed", () => {
    const { headings, conflicts } = gathered({
      "a.csv": logOf([
        ["Bend (in)", "Speed (mph)"],
        [1, 10],
      ]),
      "b.csv": logOf([
        ["Bend (in)", "Speed"],
        [1, 3],
      ]),
    });
    expect(headings).toEqual(["Bend (in)", "Speed (mph)", "Speed"]);
    expect(conflicts[0]).toContain('"Speed" of b.csv says no unit and "Speed (mph)" of a.csv says mph');
  });

  it("named twice in one log are both kept", () => {
    const { headings, rows, conflicts } = gathered({
      "a.csv": logOf([
        ["Bend (in)", "Bend (mm)"],
        [1, 26],
      ]),
    });
    expect(headings).toEqual(["Bend (in)", "Bend (mm)"]);
    expect(rows).toEqual([[1, 26]]);
    expect(conflicts[0]).toContain("has two columns");
  });

  it("that look alike are joined only when told to", () => {
    const logs = {
      "a.csv": logOf([
        ["Bend (in)", "Humidity (%)"],
        [1, 40],
      ]),
      "b.csv": logOf([
        ["Bend (in)", "RH (%)"],
        [1, 50],
      ]),
    };
    expect(gathered(logs).headings).toEqual(["Bend (in)", "Humidity (%)", "RH (%)"]);
    expect(gathered(logs).conflicts[0]).toContain('--same "Humidity" "RH"');
    const joined = gathered(logs, { same: [["humidity", "RH"]] });
    expect(joined.headings).toEqual(["Bend (in)", "Humidity (%)"]);
    expect(joined.rows.map((row) => row[1])).toEqual([40, 50]);
  });

  it("are joined by their names when --same gives whole headings, and turned into one unit; what cannot be joined is said", () => {
    const logs = {
      "a.csv": logOf([
        ["Session", "Bogen (mm)"],
        ["s1", 25.4],
      ]),
      "b.csv": logOf([
        ["Session", "Bend (in)"],
        ["s2", 0.5],
        ["s2", 0.25],
      ]),
    };
    const { headings, rows, plan, conflicts } = gathered(logs, { same: [["Bogen (mm)", "Bend (in)"]] });
    expect(headings).toEqual(["Session", "Bogen (in)"]);
    expect(rows).toEqual([
      ["s1", 1],
      ["s2", 0.5],
      ["s2", 0.25],
    ]);
    expect(plan.conversions).toEqual(['"Bogen (mm)" of a.csv was turned from mm into in.']);
    expect(conflicts).toEqual([]);
    // A log whose bend has another name holds trials, once it is said what the name means.
    expect(holdsTrials(logs["a.csv"])).toBe(false);
    expect(holdsTrials(knownColumns(logs["a.csv"], [["Bend (in)", "bogen"]]))).toBe(true);
    expect(gathered(logs, { same: [["Bogn (mm)", "Bend (in)"]] }).conflicts).toContain(
      '--same "Bogn (mm)" "Bend (in)" joins nothing: no log has a column named "Bogn".',
    );
    const apart = gathered(
      {
        ...logs,
        "a.csv": logOf([
          ["Session", "Bogen (°)"],
          ["s1", 3],
        ]),
      },
      { same: [["Bogen (°)", "Bend (in)"]] },
    );
    expect(apart.conflicts[0]).toContain(
      '"Bend (in)" of b.csv says in and "Bogen (°)" of a.csv says °, which cannot be turned into each other',
    );
  });

  it("never take the headings that say where a row is from", () => {
    expect(
      gathered({
        "a.csv": logOf([
          ["Origin", "Bend (in)"],
          ["hall", 1],
        ]),
      }).headings,
    ).toEqual(["Origin 2", "Bend (in)"]);
  });
});

describe("cells", () => {
  it("of mostly numbers stay numbers; words among them are left blank and listed with their row", () => {
    const { rows, leftBlank, conflicts } = gathered({
      "a.csv": logOf([["Bend (in)", "Speed (mph)"], ...many(8, (i) => [i / 8, 5 + i])]),
      "b.csv": logOf([
        ["Bend (in)", "Speed (mph)"],
        [0.5, "hard"],
        ["#REF!", "soft"],
      ]),
    });
    expect(rows[8]).toEqual([0.5, null]);
    expect(conflicts[0]).toContain('"Speed" holds numbers in a.csv, words in b.csv. It is kept as numbers');
    expect(leftBlank).toEqual([
      '1 cell of b.csv, "Bend (in)", the first A3: the error #REF!',
      '2 cells of b.csv, "Speed (mph)", the first in row 2: "hard" in a column of numbers',
    ]);
  });

  it("of made and missed become TRUE and FALSE however they are spelled; blanks stay blank", () => {
    const { rows, plan } = gathered({
      "a.csv": logOf([
        ["Made", "Session"],
        ["yes", "a"],
        ["missed", "a"],
        [1, "a"],
        [null, "a"],
        [true, "a"],
      ]),
    });
    expect(plan.columns[0].kind).toBe("made");
    // TRUE and FALSE would lose why a shot was not made, within one log and between two.
    const worded = logOf([
      ["Made", "Session"],
      ["made", "a"],
      ["hit obstacle", "a"],
      ["hit", "a"],
      ["cleared", "a"],
    ]);
    expect(gathered({ "a.csv": worded }).rows.map(([cell]) => cell)).toEqual([
      "made",
      "hit obstacle",
      "hit",
      "cleared",
    ]);
    const both = gathered({
      "a.csv": logOf([["Made", "Session"], ...Array.from({ length: 30 }, (): CellValue[] => ["made", "b"])]),
      "b.csv": worded,
    });
    expect(both.rows.slice(30).map(([cell]) => cell)).toEqual(["made", "hit obstacle", "hit", "cleared"]);
    expect(rows.map((row) => row[0])).toEqual([true, false, true, null, true]);
  });

  it("of dates are serial days, and calendar text where the column is text", () => {
    const dated = logOf(
      [
        ["Date", "Bend (in)"],
        [46030, 1],
      ],
      ["yyyy-mm-dd"],
    );
    expect(gathered({ "a.xlsx": dated }).rows[0][0]).toBe(46030);
    expect(
      gathered({
        "a.xlsx": dated,
        "b.csv": logOf([
          ["Date", "Bend (in)"],
          ["spring", 1],
        ]),
      }).rows,
    ).toEqual([
      ["2026-01-08", 1],
      ["spring", 1],
    ]);
  });
});

describe("rows", () => {
  it("that stand in two files, and spellings that differ, are listed", () => {
    const rows: CellValue[][] = [
      ["Trial", "Session", "Cloth", "Bend (in)"],
      [1, "s1", "new", 1],
      [2, "s1", "new", 0.75],
    ];
    const { conflicts } = gathered({ "a.csv": logOf(rows), "b.csv": logOf([...rows, [3, "s1", "New", 0.5]]) });
    expect(conflicts).toContain('Cloth is spelled "new" in a.csv and "New" in b.csv; they count as 2.');
    expect(
      conflicts.some((text) => text.startsWith("2 rows stand both in a.csv and in b.csv (row 2 there is the first)")),
    ).toBe(true);
  });

  it("of one trial that say different things are listed", () => {
    const head = ["Trial", "Session", "Bend (in)"];
    const { conflicts } = gathered({ "a.csv": logOf([head, [1, "s1", 1]]), "b.csv": logOf([head, [1, "s1", 0.5]]) });
    expect(conflicts[0]).toContain(
      "1 row alike in Trial, Session say different things in a.csv and in b.csv (rows 2 and 2 are the first)",
    );
  });
});

describe("what is gathered", () => {
  it("is measured, not predicted, wanted or a list of gaps", () => {
    expect(holdsTrials(logOf([["Bend (in)"], [1]]))).toBe(true);
    expect(
      holdsTrials(
        logOf([
          ["Gap (in)", "Humidity (%)"],
          [1, 40],
        ]),
      ),
    ).toBe(true);
    expect(
      holdsTrials(
        logOf([
          ["Speed (mph)", "Predicted bend (in)", "Gap (in)"],
          [5, 1, 1],
        ]),
      ),
    ).toBe(false);
    expect(
      holdsTrials(
        logOf([
          ["Note", "Wanted bend (in)", "Gap (in)"],
          ["x", 1, 1],
        ]),
      ),
    ).toBe(false);
  });
});

describe("units", () => {
  it("come back when turned there and back, to the last two digits", () => {
    const units = [
      "mm",
      "cm",
      "m",
      "in",
      "ft",
      "mph",
      "km/h",
      "m/s",
      "in/s",
      "ft/s",
      "g",
      "kg",
      "oz",
      "°C",
      "°F",
      "°",
      "rad",
      "rpm",
      "rad/s",
    ];
    fc.assert(
      fc.property(
        fc.constantFrom(...units),
        fc.constantFrom(...units),
        fc.double({ min: -1e3, max: 1e3, noNaN: true }),
        (from, to, value) => {
          if (kindOfUnit(from) !== kindOfUnit(to))
            expect(() => convertUnit(value, from, to)).toThrow("cannot be turned");
          // Each turn is rounded to 15 digits, which is 5e-15 of the value at most; near 0 °F a degree Celsius has the
          // rounding of 18.
          else
            expect(Math.abs(convertUnit(convertUnit(value, from, to), to, from) - value)).toBeLessThan(
              2e-14 * (Math.abs(value) + 100),
            );
        },
      ),
    );
  });
});
