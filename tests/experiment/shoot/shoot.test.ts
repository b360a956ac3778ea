/** Attempts that are pressed in: which row they go into, what stays as it was, what is taken back. */
import { describe, expect, it } from "vitest";
import { findTrialLogs } from "../../../src/experiment/log/trialLog";
import { makePlan } from "../../../src/experiment/plan/plan";
import { planSheet } from "../../../src/experiment/plan/planSheet";
import { attemptSheet } from "../../../src/experiment/shoot/attemptSheet";
import { dayOf, eveningOf, nextLabel } from "../../../src/experiment/shoot/evening";
import { NEW_SHOOT, parseShoot, type Pressed } from "../../../src/experiment/shoot/shootForm";
import { shootLog, type ShootLog } from "../../../src/experiment/shoot/shootLog";
import {
  gapProblem,
  proposedGap,
  readLength,
  rowsBefore,
  sessionCounts,
  sessionReach,
  sessionRows,
  stepOf,
} from "../../../src/experiment/shoot/shootNow";
import { pressCells, type Press } from "../../../src/experiment/shoot/shootRow";
import { answerLine } from "../../../src/experiment/shoot/shootWords";
import { areasOf, filledBefore, staysBecause } from "../../../src/experiment/shoot/takeBack";
import type { BookSheet, CellValue } from "../../../src/workbook/book";
import { serialOfIso } from "../../../src/workbook/cellText";
import { FilePort } from "../../../src/workbook/file/filePort";
import { toText } from "../../../src/experiment/language/said";

const TODAY = serialOfIso("2026-04-02")!;
const DAY = serialOfIso("2026-04-01")!;

function sheetOf(name: string, values: readonly (readonly CellValue[])[], more: Partial<BookSheet> = {}): BookSheet {
  return {
    name,
    rows: values.map((row) => row.map((value) => ({ value }))),
    hiddenRows: [],
    merged: [],
    tables: [],
    validations: [],
    columnWidths: [],
    ...more,
  };
}

const portOf = (...sheets: BookSheet[]) => new FilePort({ sheets, styles: [], names: [] });

async function read(port: FilePort, sheet: string, takeIn: readonly string[] = []) {
  const data = await port.read(sheet);
  return shootLog(findTrialLogs(data, { takeIn })[0]!, data);
}

async function shootable(port: FilePort, sheet: string, takeIn?: readonly string[]): Promise<ShootLog> {
  const shoot = await read(port, sheet, takeIn);
  if (!shoot || "problem" in shoot) throw new Error(shoot?.problem ?? "no log of attempts");
  return shoot;
}

async function press(port: FilePort, sheet: string, wanted: Partial<Press>): Promise<Pressed> {
  const shoot = await shootable(port, sheet);
  const cells = pressCells(shoot, {
    outcome: "cleared",
    gap: 0.5,
    session: eveningOf(shoot, {}, TODAY).session,
    today: TODAY,
    changed: {},
    ...wanted,
  });
  if ("problem" in cells) throw new Error(cells.problem);
  const beside = filledBefore(shoot);
  const done = await port.fillRow({ sheet, row: shoot.open.row, cells });
  if ("filled" in done) throw new Error(`column ${done.filled} is filled`);
  const written = new Set(done.written);
  return {
    sheet,
    row: shoot.open.row,
    cells: cells.flatMap(({ column, value }) =>
      written.has(column) ? [[column, value as string | number] as const] : [],
    ),
    beside,
  };
}

const lines = async (port: FilePort, sheet: string) => (await port.read(sheet)).values;

describe("a log made for attempts", () => {
  it("is shootable while it is empty, and numbers, dates and names the session by itself", async () => {
    const port = portOf(sheetOf("Notes", [["hello"]]));
    const sheet = await port.addSheet(attemptSheet("us"));
    const empty = await shootable(port, sheet);
    expect([empty.open, empty.shot, empty.unit]).toEqual([{ row: 1, index: undefined, hidden: false }, [], "in"]);
    await press(port, sheet, { gap: 0.5, changed: { Table: "North", "Humidity (%)": "61" } });
    await press(port, sheet, { gap: 13 / 32, outcome: "hit obstacle" });
    const [, first, second] = await lines(port, sheet);
    // The required bend is a formula, which this host does not compute.
    expect(first).toEqual([1, TODAY, "S1", "North", null, 61, 0.5, null, "cleared", null, null]);
    expect(second).toEqual([2, TODAY, "S1", "North", null, 61, 13 / 32, null, "hit obstacle", null, null]);
    expect(port.book.sheets[1]!.rows[2]![7]!.formula).toBe('IF(G3="","",BANK.BEND(G3))');
  });

  it("takes readings in millimetres, too", async () => {
    const port = portOf(sheetOf("Notes", [["hello"]]));
    const sheet = await port.addSheet(attemptSheet("si"));
    await press(port, sheet, { gap: 12 });
    const shoot = await shootable(port, sheet);
    const next = proposedGap(shoot, shoot.shot, stepOf("mm", ""));
    expect(next.gap).toBe(Math.round(next.gap));
    expect(shoot.ballDiameter).toBeCloseTo(57.15, 8);
  });
});

describe("a log of one's own", () => {
  const own = (...rows: CellValue[][]) =>
    sheetOf("Nights", [
      ["No.", "Night", "Who", "Hall humidity (%)", "Gap of the obstacle, mm", "Outcome", "Chalk", "Video"],
      ...rows,
    ]);

  it("keeps its names, its words, its units and what stayed the same", async () => {
    const port = portOf(
      own([1, 7, "Ada", 44, 12, "Hit", "dry", "a.mp4"], [2, 7, "Ada", 45, 13, "Cleared", "dry", "b.mp4"]),
    );
    await press(port, "Nights", { gap: 11, outcome: "hit obstacle", session: "7" });
    await press(port, "Nights", {
      gap: 12,
      outcome: "cleared",
      session: "7",
      changed: { "Hall humidity (%)": "47,5", Who: "Bo" },
    });
    await press(port, "Nights", { gap: 12, outcome: "missed", session: "7" });
    const [, , , third, fourth, fifth] = await lines(port, "Nights");
    expect(third).toEqual([3, 7, "Ada", 45, 11, "Hit", "dry", null]);
    expect(fourth).toEqual([4, 7, "Bo", 47.5, 12, "Cleared", "dry", null]);
    expect(fifth).toEqual([5, 7, "Bo", 47.5, 12, "missed", "dry", null]);
  });

  it("names what cannot be a setting at its column, and writes nothing", async () => {
    const port = portOf(own([1, 7, "Ada", 44, 12, "Hit", "dry", "a.mp4"]));
    await expect(press(port, "Nights", { changed: { "Hall humidity (%)": "dry" } })).rejects.toThrow(
      'Hall humidity (%) is "dry": column D holds numbers, so give one.',
    );
    expect(await lines(port, "Nights")).toHaveLength(2);
  });

  it("with required bends alone gets these, and an attempt number where it has one", async () => {
    const port = portOf(
      sheetOf("Log", [
        ["Session", "Required bend (in)", "Attempt", "Outcome"],
        ["a", 0.625, 1, "cleared"],
      ]),
    );
    await press(port, "Log", { gap: 0.5, session: "a" });
    await press(port, "Log", { gap: 0.375, session: "a", outcome: "made" });
    expect((await lines(port, "Log")).slice(2)).toEqual([
      ["a", 0.625, 2, "cleared"],
      ["a", 0.75, 1, "made"],
    ]);
  });

  it("with shares shown as percent keeps them so", async () => {
    const sheet = sheetOf("Log", []);
    const port = new FilePort({
      sheets: [
        {
          ...sheet,
          rows: [
            ["Humidity (%)", "Gap (in)", "Outcome"].map((value) => ({ value })),
            [{ value: 0.45, style: 1 }, { value: 0.5 }, { value: "cleared" }],
          ],
        },
      ],
      styles: [{}, { format: "0%" }],
      names: [],
    });
    await press(port, "Log", { changed: { "Humidity (%)": "52" } });
    expect((await lines(port, "Log"))[2]![0]).toBe(0.52);
  });
});

describe("what cannot take attempts", () => {
  it("is no log of attempts, or has no row left; both are said", async () => {
    expect(
      await read(
        portOf(
          sheetOf("Log", [
            ["Bend (in)", "Cloth"],
            [0.5, "new"],
          ]),
        ),
        "Log",
      ),
    ).toBeUndefined();
    const feet = await read(
      portOf(
        sheetOf("Log", [
          ["Gap (ft)", "Outcome"],
          [0.05, "cleared"],
        ]),
      ),
      "Log",
    );
    expect(feet).toEqual({ problem: expect.stringContaining('"Gap (ft)" is in ft') });
    const values = [
      ["Gap (in)", "Outcome"],
      [0.5, "cleared"],
      [0.4, "hit"],
      [0.3, "hit"],
    ];
    const table = { name: "Table1", area: { row: 0, column: 0, rows: 3, columns: 2 } };
    const below = portOf(sheetOf("Log", values, { tables: [table] }));
    expect(await read(below, "Log")).toEqual({
      problem:
        "The table Table1 is full. Row 4 below the table Table1 is no part of it: take them in, or move them, then go on.",
    });
    expect((await shootable(below, "Log", ["Table1"])).open.row).toBe(4);
    const sum = [...values.slice(0, 3), ["Total", null]] as CellValue[][];
    const totals = { ...table, area: { ...table.area, rows: 4 }, totals: true as const };
    expect(await read(portOf(sheetOf("Log", sum, { tables: [totals] })), "Log")).toEqual({
      problem: expect.stringContaining("a row of totals ends it"),
    });
  });

  it("grows where a table ends, and says when the next row is hidden", async () => {
    const values = [
      ["Gap (in)", "Outcome"],
      [0.5, "cleared"],
    ];
    const table = { name: "Table1", area: { row: 0, column: 0, rows: 2, columns: 2 } };
    const port = portOf(sheetOf("Log", values, { tables: [table], hiddenRows: [2] }));
    expect((await shootable(port, "Log")).open).toEqual({ row: 2, index: undefined, hidden: true });
    await press(port, "Log", { gap: 0.25 });
    expect(port.book.sheets[0]!.tables[0]!.area.rows).toBe(3);
    expect((await shootable(port, "Log")).shot).toHaveLength(2);
  });

  it.each([
    [
      2,
      "2 in is more than a ball's radius: a straight ball passes there without touching, so it asks for no bend.",
      true,
    ],
    [5, "5 in is more than a ball's diameter. Is a point missing, or another unit meant?", true],
    [-0.25, "-1/4 in is past the near mark, a bend of more than a ball's radius. That is rare; it counts.", false],
  ])("has something to say of a gap of %d in", async (gap, text, out) => {
    const shoot = await shootable(
      portOf(
        sheetOf("Log", [
          ["Gap (in)", "Outcome"],
          [0.5, "hit"],
        ]),
      ),
      "Log",
    );
    expect(gapProblem(shoot, gap)).toEqual({ text, out });
    expect(gapProblem(shoot, 0.375)).toBeUndefined();
  });
});

describe("a planned log", () => {
  it("is filled row by row: what was planned stands, the rest is carried", async () => {
    const plan = makePlan({
      kind: "all",
      factors: [{ heading: "Speed (mph)", levels: [5, 8] }],
      records: "attempts",
      replicates: 1,
      tables: ["North"],
      sessions: 1,
      warmUps: 1,
      seed: 3,
    });
    const port = portOf(sheetOf("Notes", [["hello"]]));
    const sheet = await port.addSheet(planSheet(plan, "us"));
    const headings = (await lines(port, sheet))[0]!;
    expect(headings).toEqual([
      ...["Trial", "Session", "Table", "Speed (mph)"],
      ...["Gap (in)", "Required bend (in)", "Attempt", "Outcome", "Film bend (in)", "Remarks"],
    ]);
    const before = (await lines(port, sheet)).map((row) => row.slice(0, 4));
    for (const gap of [0.5, 0.375, 0.375]) await press(port, sheet, { gap, outcome: "cleared" });
    const after = await lines(port, sheet);
    expect(after.slice(1, 4).map((row) => row.slice(0, 3))).toEqual(before.slice(1, 4).map((row) => row.slice(0, 3)));
    expect(after.slice(2, 4).map((row) => row[3])).toEqual(before.slice(2, 4).map((row) => row[3]));
    expect(after.slice(1, 4).map((row) => [row[4], row[6], row[7]])).toEqual([
      [0.5, 1, "cleared"],
      [0.375, 1, "cleared"],
      [0.375, 2, "cleared"],
    ]);
    // Past the plan the log simply goes on.
    await press(port, sheet, { gap: 0.25, outcome: "missed" });
    expect((await lines(port, sheet))[4]!.slice(1, 3)).toEqual(before[3]!.slice(1, 3));
  });
});

describe("an evening", () => {
  const log = (session: CellValue, day: CellValue) =>
    shootable(
      portOf(
        sheetOf("Log", [
          ["Date", "Session", "Gap (in)", "Outcome"],
          [day, session, 0.5, "hit"],
        ]),
      ),
      "Log",
    );

  it("asks when the last attempt is of an earlier day, and never twice on a day", async () => {
    const shoot = await log("S8", "2026-04-01");
    const asked = eveningOf(shoot, {}, TODAY);
    expect(asked).toEqual({ session: "S8", asks: { lastDay: "2026-04-01", before: "S8", next: "S9" } });
    expect(eveningOf(shoot, { evening: { day: TODAY, session: "S9" } }, TODAY)).toEqual({ session: "S9" });
    expect(eveningOf(shoot, { evening: { day: DAY, session: "S8" } }, TODAY).asks).toBeDefined();
    expect(eveningOf(await log("S8", "2026-04-02"), {}, TODAY)).toEqual({ session: "S8" });
    expect(sessionRows(shoot, "S9", TODAY)).toEqual([]);
    expect(rowsBefore(shoot, [])).toEqual([0]);
  });

  it.each([
    ["S8", ["S8"], "S9"],
    ["S8", ["S8", "S9"], "S10"],
    ["North 2", ["North 2"], "North 3"],
    ["spring", ["spring"], "spring 2"],
    ["", [], "S1"],
    ["41", ["41"], "42"],
  ])("after %j is named anew", (before, used, next) => {
    expect(nextLabel(before, used)).toBe(next);
  });

  it("has the day of this machine's clock", () => {
    expect(dayOf(new Date(2026, 3, 2, 0, 30))).toBe(TODAY);
    expect(dayOf(new Date(2026, 3, 2, 23, 30))).toBe(TODAY);
  });
});

describe("taking back", () => {
  const fresh = () =>
    portOf(
      sheetOf("Log", [
        ["No.", "Session", "Gap (in)", "Outcome", "Film bend (in)", "Remarks"],
        [1, "a", 0.5, "cleared", null, null],
      ]),
    );

  it("empties just what was written, as long as the row is as it was and the last", async () => {
    const port = fresh();
    const before = await lines(port, "Log");
    const pressed = await press(port, "Log", { session: "a" });
    expect(staysBecause(await shootable(port, "Log"), pressed)).toBeUndefined();
    for (const area of areasOf(pressed)) await port.clearCells("Log", area);
    expect(await lines(port, "Log")).toEqual(before);
  });

  it.each([
    ["an outcome", 3, "hit", 'Row 3 of the sheet "Log" was changed since it was pressed in, so it stays.'],
    ["a remark", 5, "swerved", 'Row 3 of the sheet "Log" has something under Remarks since it was pressed in'],
  ])("leaves a row that got %s since", async (_, column, value, why) => {
    const port = fresh();
    const pressed = await press(port, "Log", { session: "a" });
    await port.setCell("Log", 2, column, value);
    expect(staysBecause(await shootable(port, "Log"), pressed)).toContain(why);
  });

  it("leaves a row under which others stand", async () => {
    const port = fresh();
    const pressed = await press(port, "Log", { session: "a" });
    await press(port, "Log", { session: "a" });
    expect(staysBecause(await shootable(port, "Log"), pressed)).toContain("is not the last attempt any more");
  });
});

describe("what is said", () => {
  it("grows from a bound to an interval, of this session alone, and the next gap keeps to the ruler", async () => {
    const other = Array.from({ length: 30 }, (): CellValue[] => ["old", 0.1, "cleared"]);
    const port = portOf(sheetOf("Log", [["Session", "Gap (in)", "Outcome"], ...other]));
    const now = async () => {
      const shoot = await shootable(port, "Log");
      const rows = sessionRows(shoot, "new", TODAY);
      return { shoot, rows, reach: sessionReach(shoot, rows) };
    };
    expect((await now()).reach).toBeUndefined();
    await press(port, "Log", { session: "new", gap: 0.5 });
    const one = (await now()).reach!;
    expect(toText(answerLine(one))).not.toBe("");
    // Invented: bends of 0.7 in with a scatter of 0.13, by an even sequence.
    for (let i = 0; i < 24; i++) {
      const { shoot, rows } = await now();
      const { gap } = proposedGap(shoot, rows, stepOf("in", "1/16"));
      expect((gap * 16) % 1).toBe(0);
      const bend = 0.7 + 0.45 * (((i * 0.618) % 1) - 0.5);
      await press(port, "Log", { session: "new", gap, outcome: bend >= 1.125 - gap ? "cleared" : "hit obstacle" });
    }
    const { shoot, rows, reach } = await now();
    expect(rows).toHaveLength(25);
    const half = reach!.reach[0]!;
    expect(half.low!).toBeLessThan(0.7);
    expect(half.high!).toBeGreaterThan(0.7);
    expect(toText(answerLine(reach!))).toMatch(
      /^Half of the attempts bend 0\.\d+ in or more \(95 % interval 0\.\d+ to 0\.\d+ in\)\.$/,
    );
    expect(sessionCounts(shoot, reach!, "new")).toMatch(/^25 attempts in session new: \d+ got by, \d+ hit\.$/);
    expect(proposedGap(shoot, rows, 1 / 32).sentences.map((one) => toText(one))).toHaveLength(2);
  });

  it("reads lengths as rulers have them", () => {
    expect([readLength("13/32", "in"), readLength("1 1/8", "in"), readLength("0,5", "mm")]).toEqual([
      13 / 32,
      1.125,
      0.5,
    ]);
    expect([readLength("far", "in"), readLength("1/2", "mm")]).toEqual([
      { why: "is no number and no fraction" },
      { why: "is no number" },
    ]);
    expect([stepOf("in", ""), stepOf("in", "1/16"), stepOf("mm", ""), stepOf("cm", "")]).toEqual([
      1 / 32,
      1 / 16,
      1,
      0.1,
    ]);
  });

  it("is kept with the workbook, and read back whatever stands there", () => {
    const form = {
      ...NEW_SHOOT,
      target: "1",
      evening: { day: TODAY, session: "S9" },
      pressed: [{ sheet: "Log", row: 3, cells: [[1, "S9"] as const, [2, 0.5] as const], beside: [0] }],
      waiting: [
        {
          id: 7,
          sheet: "Log",
          outcome: "cleared" as const,
          gap: 0.5,
          session: "S9",
          today: 46000,
          changed: { Cloth: "old" },
        },
      ],
    };
    expect(parseShoot(JSON.parse(JSON.stringify(form)))).toEqual(form);
    expect(
      parseShoot({
        pressed: [{ sheet: 1 }, null],
        waiting: [{ id: 1, outcome: "perhaps" }],
        evening: { day: "x" },
        changed: { a: 1, b: "2" },
      }),
    ).toEqual({
      ...NEW_SHOOT,
      changed: { b: "2" },
    });
    expect(parseShoot(null)).toEqual(NEW_SHOOT);
  });
});
