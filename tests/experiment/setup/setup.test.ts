/** The set-up on its sheet: written, read back, changed by hand; what every view takes of it. */
import { describe, expect, it } from "vitest";
import { DEFAULT_CONDITIONS } from "../../../src/bank/conditions";
import {
  BALL_PRESETS,
  conditionsOfSetup,
  DEFAULT_SETUP,
  presetOf,
  SETUP_NAMES,
  setupProblem,
  TABLE_PRESETS,
  type Setup,
} from "../../../src/experiment/setup/setup";
import { changedRows, isSetupName, readSetup, setupSheet } from "../../../src/experiment/setup/setupSheet";
import { toText } from "../../../src/experiment/language/said";
import { givenSentence, setupLine } from "../../../src/experiment/setup/setupWords";
import { layoutOfSetup } from "../../../src/experiment/layout/setupForm";
import { laidShot } from "../../../src/experiment/layout/layoutCheck";
import { firstLayout } from "../../../src/experiment/layout/layoutForm";
import { FIRST_MEASURE } from "../../../src/experiment/measure/measureForm";
import { measureOfSetup } from "../../../src/experiment/measure/setupMeasure";
import { conditionsOfShot, DEFAULT_SHOT, shotOfSetup } from "../../../src/experiment/shot/shotSettings";
import { IMPACT } from "../../../src/functions/functions";
import { setupOfKept, withSetup } from "../../../src/panel/frame/setupSettings";
import { undoOver } from "../../../src/panel/frame/undo";
import type { Book } from "../../../src/workbook/book";
import { FilePort } from "../../../src/workbook/file/filePort";
import type { SheetData } from "../../../src/workbook/port";
import { sheetOf } from "../../../scripts/evidence/sheetOf";

const INCH = 0.0254;
const data = (values: SheetData["values"], sheet = "Conditions"): SheetData => sheetOf(values, { sheet });
const written = (setup: Setup) => {
  return data(setupSheet(setup).rows.map((row) => row.map(({ value }) => value)));
};
const newBook = (): Book => ({
  sheets: [{ name: "Log", rows: [], hiddenRows: [], merged: [], tables: [], validations: [], columnWidths: [] }],
  styles: [{}],
  names: [],
});
const preset = (name: string) => TABLE_PRESETS.find((one) => one.name === name)!.values;

describe("the set-up", () => {
  it("can be, as it comes and with every preset, and is the conditions that the functions take when nothing is said", () => {
    expect(setupProblem(DEFAULT_SETUP)).toBeUndefined();
    expect(conditionsOfSetup(DEFAULT_SETUP)).toEqual(DEFAULT_CONDITIONS);
    for (const { values } of [...TABLE_PRESETS, ...BALL_PRESETS]) {
      const setup = { ...DEFAULT_SETUP, ...values };
      expect(setupProblem(setup)).toBeUndefined();
      expect(readSetup(written(setup))!.problems).toEqual([]);
    }
    expect(presetOf(DEFAULT_SETUP, TABLE_PRESETS)!.name).toBe("9 ft");
    expect(presetOf({ ...DEFAULT_SETUP, ...preset("7 ft") }, TABLE_PRESETS)!.name).toBe("7 ft");
  });

  it.each(["us", "si"] as const)("stands on its sheet and is read back: %s", (units) => {
    const setup: Setup = { ...DEFAULT_SETUP, ...preset("8 ft"), units, target: { low: 0.03, value: 0.03, high: 0.03 } };
    const read = readSetup(written(setup))!;
    expect(read.problems).toEqual([]);
    expect(read.setup.units).toBe(units);
    for (const name of SETUP_NAMES)
      for (const end of ["low", "value", "high"] as const)
        expect(read.setup[name][end]).toBeCloseTo(setup[name][end], 9);
  });

  it("is read from a short list as well, and what is blank or wrong there keeps its usual value and is named", () => {
    const read = readSetup(
      data([
        ["For all trials", "Value", "Unit"],
        ["Ball diameter", 57, "mm"],
        ["Smallest ruler division", "1/32", "in"],
        ["Slip friction", null, null],
        ["Restitution", "high", null],
        ["Nose friction", 7, null],
        ["Cushion model", "soft", null],
      ]),
    )!;
    expect(read.setup.ballDiameter.value).toBeCloseTo(0.057, 12);
    expect(read.setup.rulerDivision.value).toBeCloseTo(INCH / 32, 12);
    expect(read.setup.slipFriction).toEqual(DEFAULT_SETUP.slipFriction);
    expect(read.setup.restitution).toEqual(DEFAULT_SETUP.restitution);
    expect(read.problems.join(" ")).toMatch(
      /B7: cushion model is "soft": there is one model.* B6: nose friction is beyond .* B5: restitution is "high"/,
    );
    expect(
      readSetup(
        data([
          ["Table", "About"],
          ["North", "new cloth"],
        ]),
      ),
    ).toBeUndefined();
    expect(["Conditions", "conditions 2", "Conditional"].map(isSetupName)).toEqual([true, true, false]);
  });

  it("changes only the rows that changed, adds what is not there, and is taken back as one", async () => {
    const port = new FilePort(newBook());
    const undo = undoOver(
      port,
      () => false,
      () => {},
      () => {},
    );
    const sheet = await undo.port.addSheet(setupSheet(DEFAULT_SETUP));
    const { place, setup } = readSetup(await port.read(sheet))!;
    const next = { ...setup, target: { low: 0.02, value: 0.02, high: 0.02 } };
    const rows = changedRows(place, setup, next);
    expect(rows).toHaveLength(1);
    await undo.port.changeRows(sheet, rows);
    const after = readSetup(await port.read(sheet))!;
    expect(after.setup.target.value).toBeCloseTo(0.02, 9);
    expect(undo.next).toBe('the change of the sheet "Conditions"');
    await undo.back();
    expect(readSetup(await port.read(sheet))!.setup.target.value).toBeCloseTo(setup.target.value, 9);
    // All lengths and masses stand in the other units at once.
    expect(changedRows(place, setup, { ...setup, units: "si" }).length).toBe(SETUP_NAMES.length + 1);
  });

  it("is one range of conditions for the functions, whatever stands beside it", () => {
    const soft = { ...DEFAULT_SETUP, restitution: { low: 0.8, value: 0.8, high: 0.8 } };
    const range = (setup: Setup) => written(setup).values.slice(2) as unknown[][];
    const cell = (value: unknown) => [[value]];
    const by = (conditions: unknown[][]) => IMPACT(cell(5), cell(20), cell(1), cell(0), conditions as never);
    expect(by(range(DEFAULT_SETUP))).toEqual(by([[null]]));
    expect(by(range(soft))).toEqual(by([["restitution", 0.8]]));
    // The range says its own units; the function's are of its speeds.
    const si = by(range({ ...soft, units: "si" }))[0]!;
    by(range(soft))[0]!.forEach((value, i) => expect(si[i]).toBeCloseTo(value as number, 9));
    expect(() =>
      by([
        ["units", "feet"],
        ["restitution", 0.8],
      ]),
    ).toThrow(/units/);
  });
});

describe("the views", () => {
  const setup: Setup = { ...DEFAULT_SETUP, ...preset("7 ft"), ...BALL_PRESETS[1]!.values, units: "si" };

  it("take table, ball, obstacle, target and units from it", () => {
    const shot = shotOfSetup(DEFAULT_SHOT, setup);
    expect(conditionsOfShot(shot).ballDiameter).toBe(0.0525);
    expect(shot.table.length).toBeCloseTo(76 * INCH, 12);
    expect(shot.across).toBeLessThanOrEqual(38 * INCH - 0.0525 + 1e-12);
    const layout = layoutOfSetup(firstLayout("en-US"), setup);
    expect([layout.railLength, layout.tableWidth, layout.ballDiameter, layout.units]).toEqual([
      76 * INCH,
      38 * INCH,
      0.0525,
      "si",
    ]);
    // The first layout of the smaller table is refused where its arrival is no pocket any more, and a mend works.
    expect(laidShot(layout).amiss.length).toBeGreaterThan(0);
    const measure = measureOfSetup(FIRST_MEASURE, setup);
    expect([measure.units, measure.target, measure.ballDiameter]).toEqual(["si", DEFAULT_SETUP.target.value, 0.0525]);
    expect(measure.readings).toBe("7.9375, 6.35, 7.9375");
    const { evidence } = withSetup({ units: {} }, setup, "en-US");
    expect([evidence.units, evidence.ballDiameter]).toEqual(["si", 0.0525]);
  });

  it("begin from what earlier versions kept in them, while no sheet stands", () => {
    const kept = setupOfKept({
      units: {},
      shot: {
        ...DEFAULT_SHOT,
        constants: { ...DEFAULT_SHOT.constants, slipFriction: { low: 0.1, value: 0.12, high: 0.2 } },
      },
      layout: { ...firstLayout("en-US"), railLength: 38 * INCH, tableWidth: 76 * INCH },
      measure: { ...FIRST_MEASURE, units: "si", target: 0.02 },
    });
    expect(kept.slipFriction.value).toBe(0.12);
    expect([kept.length.value, kept.breadth.value]).toEqual([76 * INCH, 38 * INCH]);
    expect([kept.units, kept.target.value]).toEqual(["si", 0.02]);
    expect(setupOfKept({ units: {} })).toEqual({ ...DEFAULT_SETUP });
  });

  it("say in a line what it is, and how much of it nobody measured", () => {
    expect(toText(setupLine(DEFAULT_SETUP))).toBe(
      "Table 100 in by 50 in, ball 2.25 in, obstacle 2 in, ruler to 0.0625 in, target 1 in.",
    );
    expect(givenSentence(DEFAULT_SETUP)).toContain("15 values of 15 are still the usual ones");
  });
});
