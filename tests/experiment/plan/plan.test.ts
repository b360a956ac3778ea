/** Plans as their users meet them: shots in blocks, what they tell, sheets, continuing and changing. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../scripts/samples/random";
import { makePlan, type PlanWish } from "../../../src/experiment/plan/plan";
import { differenceOf, firstDraft, parseDraft, spreadTexts, wishOf } from "../../../src/experiment/plan/planDraft";
import { planPower, replicatesNeeded } from "../../../src/experiment/plan/planPower";
import { changedPlan, planNotes, planProgress, planSheet, WARM_UP } from "../../../src/experiment/plan/planSheet";
import { findTrialLogs } from "../../../src/experiment/log/trialLog";
import { panelView } from "../../../src/panel/frame/view";
import { effectPower, power } from "../../../src/statistics/design/power";
import { analyse } from "../../../src/experiment/question/analysis";
import { chanceWords } from "../../../src/experiment/plan/chanceWords";
import { earlierSpreads } from "../../../src/experiment/plan/earlierSpreads";
import type { CellValue } from "../../../src/workbook/book";
import type { NewSheet, SheetData } from "../../../src/workbook/port";
import { sheetOf } from "../../../scripts/evidence/sheetOf";
import { toText } from "../../../src/experiment/language/said";

const speed = { heading: "Speed (mph)", levels: [5, 8] };
const spin = { heading: "Spin", levels: [0, 0.5] };
const angle = { heading: "Angle (°)", levels: [10, 30] };
const side = { heading: "Side", levels: [-0.5, 0.5] };
const wish: PlanWish = {
  kind: "all",
  factors: [speed, spin],
  replicates: 2,
  tables: ["North", "South"],
  sessions: 1,
  warmUps: 3,
  seed: 5,
};

function dataOf(sheet: NewSheet): SheetData {
  return sheetOf(
    sheet.rows.map((row) => row.map((cell) => cell?.value ?? null)),
    { sheet: sheet.name },
  );
}
function measured(data: SheetData, rows: readonly number[], bend = 1): SheetData {
  const c = data.values[0].indexOf("Bend (in)");
  return {
    ...data,
    values: data.values.map((row, r) => (rows.includes(r) ? row.map((cell, i) => (i === c ? bend : cell)) : row)),
  };
}

describe("makePlan", () => {
  it("gives every block the whole plan, warm-ups first, each block in an order of its own; the same for the same seed", () => {
    const plan = makePlan(wish);
    expect(plan.shots).toHaveLength(2 * (3 + 4));
    expect(plan.shots.slice(0, 3).every(({ settings, table }) => settings === undefined && table === "North")).toBe(
      true,
    );
    for (const table of ["North", "South"]) {
      const settings = plan.shots
        .filter((shot) => shot.table === table && shot.settings)
        .map((shot) => String(shot.settings))
        .sort();
      expect(settings).toEqual(["5,0", "5,0.5", "8,0", "8,0.5"]);
    }
    expect(makePlan(wish)).toEqual(plan);
    expect(Array.from({ length: 20 }, (_, seed) => JSON.stringify(makePlan({ ...wish, seed }).shots))).not.toEqual(
      Array.from({ length: 20 }, () => JSON.stringify(plan.shots)),
    );
    expect(plan.tells.join(" ")).toContain("no curve can be seen in Speed (mph) and Spin");
    expect(plan.tells.join(" ")).toContain(
      "Each table has one session, so what the table does cannot be told from what that session did.",
    );
  });

  it("parts one set among blocks and names what that costs", () => {
    const plan = makePlan({ ...wish, factors: [speed, spin, angle], replicates: 1 });
    expect(plan.shots.filter(({ table, settings }) => table === "North" && settings)).toHaveLength(4);
    expect(plan.tells.join(" ")).toContain(
      "the joint effect Speed (mph) × Spin × Angle (°) cannot be told from differences between them",
    );
  });

  it("says what a fraction mixes up", () => {
    const four = makePlan({ ...wish, kind: "fraction", factors: [speed, spin, angle, side], runs: 8 });
    expect(four.tells.filter((text) => text.includes("cannot be told from each other"))).toHaveLength(3);
    expect(four.tells[0]).toContain("Every setting's effect can be told from the others and from joint effects of two");
    const three = makePlan({ ...wish, kind: "fraction", factors: [speed, spin, angle], runs: 4 });
    expect(three.tells).toContain("Speed (mph) cannot be told from Spin × Angle (°).");
  });

  it("keeps a composite plan within the limits and parts it into cube and star", () => {
    const plan = makePlan({ ...wish, kind: "composite", reach: "blocks", centres: [3, 3], replicates: 1 });
    const speeds = plan.shots.flatMap(({ settings }) => (settings ? [settings[0] as number] : []));
    expect(Math.min(...speeds)).toBe(5);
    expect(Math.max(...speeds)).toBe(8);
    expect(plan.tells.join(" ")).toContain("the parting touches no effect");
  });

  it("gives the cube's settings to six digits, which no table is set finer than", () => {
    const plan = makePlan({ ...wish, kind: "composite", reach: "turning", centres: [1, 1], replicates: 1 });
    const speeds = new Set(plan.shots.flatMap(({ settings }) => (settings ? [settings[0] as number] : [])));
    // 6.5 ± 1.5/√2, since the star of two settings reaches √2 (Box and Wilson, J. R. Stat. Soc. B 13 (1951) 1).
    expect([...speeds].sort((a, b) => a - b)).toEqual([5, 5.43934, 6.5, 7.56066, 8]);
  });

  it("makes Latin squares of rounds, tables and levels, and writes the round beside each shot", () => {
    const plan = makePlan({
      ...wish,
      kind: "square",
      factors: [{ heading: "Cloth", levels: ["a", "b", "c"] }],
      tables: ["T1", "T2", "T3"],
      sessions: 3,
      replicates: 1,
      warmUps: 0,
    });
    expect(plan.shots).toHaveLength(9);
    expect(new Set(plan.shots.map(({ session }) => session)).size).toBe(9);
    const { values } = dataOf(planSheet(plan, "us"));
    expect([values[0][3], ...values.slice(1).map((row) => row[3])]).toEqual([
      "Round",
      ...plan.shots.map(({ round }) => round),
    ]);
    for (const part of ["round", "table"] as const)
      for (const name of new Set(plan.shots.map((shot) => shot[part])))
        expect(
          plan.shots
            .filter((shot) => shot[part] === name)
            .map(({ settings }) => settings![0])
            .sort(),
        ).toEqual(["a", "b", "c"]);
  });

  it.each([
    [{ factors: [] }, "varies nothing yet"],
    [{ factors: [{ heading: " ", levels: [1, 2] }] }, "has no heading"],
    [{ factors: [{ heading: "Speed", levels: [4] }] }, "Speed has the level 4 only: give at least two"],
    [{ factors: [{ heading: "Speed", levels: [6, 6] }] }, "Speed has the level 6 only: give at least two"],
    [{ factors: [{ heading: "Speed", levels: [] }] }, "Speed has no level: give at least two"],
    [{ factors: [{ heading: "Gap (in)", levels: [0.25, 0.5] }] }, "Gap (in) is measured after each shot"],
    [{ factors: [{ heading: "Speed", levels: [4, 4, 5] }] }, "names a level twice"],
    [{ factors: [speed, speed] }, "planned twice"],
    [{ factors: [{ heading: "session", levels: [1, 2] }] }, "a column that plans have"],
    [
      { kind: "composite", factors: [speed, { heading: "Cloth", levels: ["a", "b"] }] },
      "Cloth has levels that are no numbers",
    ],
    [
      { replicates: 3 },
      "3 replicates cannot be shared out evenly over 2 blocks (2 tables × 1 session): the smallest number of replicates that works is 1.",
    ],
    [{ replicates: 0 }, "Replicates is 0"],
    [
      { replicates: 1, factors: [{ heading: "Speed", levels: [1, 2, 3] }] },
      "which it cannot be when settings have more than two levels: the smallest number of replicates that works is 2.",
    ],
    [{ tables: [] }, "No table is named"],
    [{ tables: ["A", "A"] }, "named twice"],
    [{ seed: 1.5 }, "The seed is 1.5"],
    [{ kind: "fraction", runs: 5 }, "Runs is 5"],
    [{ kind: "square" }, "A Latin square varies one setting"],
    [{ kind: "square", factors: [speed], sessions: 3 }, "needs 2 tables and 2 sessions"],
    [{ replicates: 1000, factors: [speed, spin, angle, side] }, "5000 is the most"],
  ] as [Partial<PlanWish>, string][])("refuses %j and says why", (change, words) =>
    expect(() => makePlan({ ...wish, ...change })).toThrow(words),
  );
});

describe("advice on replicates", () => {
  it("names the smallest number that works, whatever was typed", () => {
    const three = { heading: "Speed (mph)", levels: [5, 6, 8] };
    const eight: Partial<PlanWish> = { factors: [three], tables: ["N", "S"], sessions: 4 };
    for (const replicates of [1, 2, 3, 4, 5, 7, 12])
      expect(() => makePlan({ ...wish, ...eight, replicates }), String(replicates)).toThrow(
        "the smallest number of replicates that works is 8.",
      );
  });

  it("can be followed, and no smaller number can be planned", () => {
    const kinds = fc.oneof(
      fc.record({
        kind: fc.constant("all" as const),
        factors: fc.constantFrom(
          [speed],
          [speed, spin],
          [speed, spin, angle],
          [{ heading: "Speed", levels: [1, 2, 3] }],
          [{ heading: "Speed", levels: [1, 2, 3] }, spin],
        ),
      }),
      fc.record({
        kind: fc.constant("fraction" as const),
        factors: fc.constant([speed, spin, angle, side]),
        runs: fc.constant(8),
      }),
      fc.record({ kind: fc.constant("composite" as const), factors: fc.constant([speed, spin]) }),
    );
    let advised = 0;
    fc.assert(
      fc.property(
        kinds,
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 1, max: 20 }),
        (kind, tables, sessions, replicates) => {
          const asked: PlanWish = {
            ...wish,
            ...kind,
            tables: ["A", "B", "C", "D"].slice(0, tables),
            sessions,
            replicates,
          };
          const problem = (n: number) => {
            try {
              makePlan({ ...asked, replicates: n });
              return undefined;
            } catch (found) {
              return (found as Error).message;
            }
          };
          const said = problem(replicates);
          if (said === undefined) return;
          const smallest = Number(/: the smallest number of replicates that works is (\d+)\.$/.exec(said)![1]);
          advised++;
          expect(problem(smallest), said).toBeUndefined();
          for (let n = 1; n < smallest; n++) expect(problem(n), `${said} ${n}`).toBeDefined();
        },
      ),
      { numRuns: 300, seed: 1 },
    );
    expect(advised).toBeGreaterThan(100);
  });

  it("says so where no number does", () => {
    expect(() =>
      makePlan({
        ...wish,
        factors: [{ heading: "Speed", levels: Array.from({ length: 30 }, (_, i) => i) }],
        tables: ["N", "S"],
        sessions: 100,
        replicates: 3,
      }),
    ).toThrow("no number of replicates fits so many blocks");
  });
});

describe("the labels of sessions", () => {
  it("let tables that do not differ pass for different no more often than the level says", () => {
    // Three tables that are alike, four visits to each, every visit with a shift of its own as large as the scatter;
    // the plan's own sheet filled in and compared as the panel does. Of 300 comparisons at 5 % 15 are expected, with a
    // standard deviation of 3.8; the bounds are three of them away. Under the label "1" on every table 108 are called.
    const random = seededRandom(11);
    let alarms = 0;
    for (let seed = 0; seed < 300; seed++) {
      const blank = dataOf(
        planSheet(
          makePlan({ ...wish, tables: ["North", "South", "Bar"], sessions: 4, replicates: 12, warmUps: 0, seed }),
          "us",
        ),
      ).values;
      const [session, bend] = ["Session", "Bend (in)"].map((heading) => blank[0].indexOf(heading));
      const shifts = new Map<CellValue, number>();
      const values = blank.map((row, r) => {
        if (r === 0) return row;
        if (!shifts.has(row[session])) shifts.set(row[session], 0.1 * random.normal());
        const found = 0.5 + shifts.get(row[session])! + 0.1 * random.normal();
        return row.map((cell, c) => (c === bend ? found : cell));
      });
      expect(shifts.size).toBe(12);
      const data = sheetOf(values, { sheet: "Plan" });
      const { comparison } = panelView(data, { units: {}, ask: "compare" });
      if (comparison!.comparison.pairs.some(({ p }) => p! < 0.05)) alarms++;
    }
    expect(alarms).toBeGreaterThanOrEqual(4);
    expect(alarms).toBeLessThanOrEqual(26);
  });
});

describe("power of a plan", () => {
  it("of one setting at two levels in one block is that of two tables", () => {
    const plan = makePlan({ ...wish, factors: [speed], tables: ["North"], replicates: 17, warmUps: 2 });
    const [one] = planPower(plan, { difference: 1, spread: 1 });
    expect(one.power).toBeCloseTo(power({ difference: 1, spread: 1 }, 17), 12);
  });
  it("has none to speak of without degrees of freedom", () =>
    expect(
      planPower(makePlan({ ...wish, replicates: 1, tables: ["N"], factors: [speed] }), { difference: 1, spread: 1 })[0]
        .power,
    ).toBeNull());
  it("by whole sessions where a setting never changes within one, which without their spread cannot be said", () => {
    const square = makePlan({
      ...wish,
      kind: "square",
      factors: [{ heading: "Cloth", levels: ["a", "b", "c"] }],
      tables: ["N", "O", "S"],
      sessions: 3,
      replicates: 4,
    });
    expect(planPower(square, { difference: 1, spread: 1 })).toEqual([
      { heading: "Cloth", by: "sessions", power: null },
    ]);
    // Nine visits less three tables, two rounds and two levels: two degrees of freedom; each level is in three visits.
    const [one] = planPower(square, { difference: 1, spread: 1, sessionSpread: 0.3 });
    expect(one.power).toBeCloseTo(
      effectPower({ difference: 1, spread: Math.hypot(0.3, 1 / Math.sqrt(4)) }, Math.sqrt(2 / 3), 2),
      10,
    );
    expect(toText(chanceWords(square.wish, one.power, "sessions", 0.3))).toContain("the 9 sessions tell of it");
    expect(toText(chanceWords(square.wish, null, "sessions", undefined))).toContain("give the spread of sessions");
  });
  it("takes both spreads from earlier rows with sessions, in the plan's unit", () => {
    const values = [0, 1, 2, 3].flatMap((s) =>
      Array.from({ length: 6 }, (_, i) => [`s${s}`, 20 + ((7 * s) % 4) + ((5 * i) % 3)]),
    );
    const log = findTrialLogs({
      ...{ sheet: "Log", firstRow: 0, firstColumn: 0, hiddenRows: [], merged: [], tables: [] },
      values: [["Session", "Bend (mm)"], ...values],
      formats: [["General", "General"], ...values.map(() => ["General", "General"])],
    })[0];
    const found = earlierSpreads(log, "mm")!;
    const fit = analyse(log, {
      response: "Bend (mm)",
      drivers: [],
      joint: [],
      constant: true,
      confidence: 0.95,
      scatter: { as: "random", heading: "Session" },
    });
    expect([found.shots, found.sessions]).toEqual([fit.regression.spread!.within, fit.regression.spread!.between]);
    expect(earlierSpreads(log, "in")!.shots).toBeCloseTo(found.shots / 25.4, 12);
    expect(toText(found.sentence)).toMatch(/^From 24 earlier rows of 4 sessions: single shots scatter .* mm/);
    expect(firstDraft(log, 1)).toMatchObject(spreadTexts(earlierSpreads(log, "in")!));
  });
  it("finds the fewest replicates, in the steps that the blocks allow", () => {
    expect(
      replicatesNeeded({ ...wish, factors: [speed], tables: ["North"] }, { difference: 1, spread: 1 }, 0.8),
    ).toEqual({ replicates: 17, shots: 37 });
    const two = replicatesNeeded(wish, { difference: 1, spread: 1 }, 0.8)!;
    expect(two.replicates % 2).toBe(0);
    const chance = (replicates: number) =>
      Math.min(...planPower(makePlan({ ...wish, replicates }), { difference: 1, spread: 1 }).map((one) => one.power!));
    expect(chance(two.replicates)).toBeGreaterThanOrEqual(0.8);
    expect(chance(two.replicates - 2)).toBeLessThan(0.8);
    expect(replicatesNeeded(wish, { difference: 0.0001, spread: 1 }, 0.8)).toBeUndefined();
  });
});

describe("sheets of a plan", () => {
  const plan = makePlan(wish);
  const data = dataOf(planSheet(plan, "us"));

  it("read as a log, with the seed and the recipe written down", () => {
    const [log] = findTrialLogs(measured(data, [4, 5]));
    expect(log.columns.map(({ heading }) => heading.text)).toEqual([
      "Trial",
      "Session",
      "Table",
      "Speed (mph)",
      "Spin",
      "Gap (in)",
      "Outcome",
      "Bend (in)",
      "Remarks",
    ]);
    const notes = planNotes(plan, "Plan", new Date(0), "1").rows.map((row) => row.map(({ value }) => value));
    expect(notes).toContainEqual(["Seed of the order", 5]);
    const recipe = notes.find(([what]) => what === "Recipe")![1] as string;
    expect(makePlan(JSON.parse(recipe) as PlanWish).shots).toEqual(plan.shots);
  });

  it("say how far they are, and what comes next", () => {
    expect(planProgress(data)).toMatchObject({ planned: 8, shot: 0, next: { row: 4, column: 5 } });
    const progress = planProgress(measured(data, [4, 5]));
    expect(progress).toMatchObject({ planned: 8, shot: 2, next: { row: 6 } });
    expect(progress.next!.words).toMatch(/^Trial 3, Session North 1, Table North, Speed \(mph\) [58], Spin 0/);
    expect(planProgress(measured(data, data.values.map((_, r) => r).slice(1))).next).toBeUndefined();
    expect(() => planProgress({ ...data, values: [["a"], [1]] })).toThrow("no headings of a plan");
  });

  it("keep every row already shot when the plan is changed, and plan only what is still wanted", () => {
    const half = measured(data, [4, 5, 6, 7]);
    const more = makePlan({ ...wish, factors: [speed, spin, angle], replicates: 2 });
    const other = changedPlan(half, more, "us");
    expect(other).toMatchObject({ kept: 4, covered: 0, remaining: 16 });
    const again = changedPlan(half, makePlan({ ...wish, replicates: 4, seed: 9 }), "us");
    expect(again).toMatchObject({ kept: 4, covered: 4, remaining: 12 });
    const rows = dataOf(again.sheet);
    for (let r = 1; r <= 4; r++) expect(rows.values[r]).toEqual(half.values[r + 3]);
    expect(planProgress(rows)).toMatchObject({ planned: 16, shot: 4 });
    // On North all of one copy was shot, so warming up is planned only where shots are left.
    expect(rows.values.filter((row) => row[0] === WARM_UP)).toHaveLength(6);
  });

  it("keep columns that the user added", () => {
    const added = {
      ...data,
      values: data.values.map((row, r) => [...row, r === 0 ? "Chalk" : r === 4 ? "blue" : null]),
    };
    const changed = dataOf(changedPlan(measured(added, [4]), plan, "us").sheet);
    expect(changed.values[0]).toContain("Chalk");
    expect(changed.values[1]).toContain("blue");
  });
});

describe("the form", () => {
  it("reads levels, with decimal commas where semicolons part them", () => {
    const draft = {
      ...firstDraft(undefined, 3),
      factors: [
        { heading: " Spin ", levels: "0,5; -0,5" },
        { heading: "Cloth", levels: "worn, new" },
      ],
    };
    expect(wishOf(draft).factors).toEqual([
      { heading: "Spin", levels: [0.5, -0.5] },
      { heading: "Cloth", levels: ["worn", "new"] },
    ]);
    expect(wishOf(draft).seed).toBe(3);
  });
  it.each([
    [{ replicates: "two" }, 'Replicates is "two"'],
    [{ seed: "" }, 'The seed is ""'],
    [{ kind: "fraction", runs: "x" }, 'Runs is "x": give a whole number, 4.'],
    [{ kind: "composite", centres: "2" }, 'Centres is "2"'],
  ] as [object, string][])("%j gives %s", (change, words) =>
    expect(() => wishOf({ ...firstDraft(undefined, 1), ...change })).toThrow(words),
  );
  it("names what is wrong with the difference", () => {
    expect(() => differenceOf({ ...firstDraft(undefined, 1), spread: "0" })).toThrow(
      'The spread of single shots is "0"',
    );
    expect(differenceOf(firstDraft(undefined, 1))).toEqual({ difference: 0.125, spread: 0.1, power: 0.8 });
  });
  it("survives being kept, and anything else kept in its place", () => {
    const draft = { ...firstDraft(undefined, 1), sheet: "Plan" };
    expect(parseDraft(JSON.parse(JSON.stringify(draft)))).toEqual(draft);
    for (const odd of [null, 3, [], { kind: "x", factors: [3, {}], seed: 4 }])
      expect(() => parseDraft(odd)).not.toThrow();
  });
  it("begins with the settings of the log that a shot can set, and their limits", () => {
    const [log] = findTrialLogs({
      sheet: "Log",
      firstRow: 0,
      firstColumn: 0,
      values: [
        ["Table", "Cloth", "Humidity (%)", "Speed (mph)", "Bend (in)"],
        ["N", "worn", 40, 4, 1],
        ["S", "new", 45, 9.25, 0.5],
      ],
      formats: [],
      hiddenRows: [],
      merged: [],
      tables: [],
    });
    const draft = firstDraft(log, 1);
    expect(draft.factors).toEqual([{ heading: "Speed (mph)", levels: "4, 9.25" }]);
    expect(draft.tables).toBe("N, S");
  });
});
