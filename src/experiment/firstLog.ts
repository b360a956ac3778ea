/**
 * A first log, made inside the panel, and how far its user is with it. May import: planSheet.ts, trialLog.ts, reading.ts,
 * layoutForm.ts, wording.ts, statistics/, workbook/port.ts.
 */
import { INCH } from "../bank/units";
import { spread } from "../statistics/spread";
import { cellAddress } from "../workbook/address";
import type { NewSheet } from "../workbook/port";
import { inchFraction } from "./layoutForm";
import { bendFormula } from "./planSheet";
import { numberOf } from "./reading";
import type { TrialLog } from "./trialLog";
import { decimalsFor, fixed, withUnit } from "./wording";

/** Rows whose bend is computed from the start. */
const ROWS = 60;
/** Shots after which a first answer is given. */
export const FIRST_SHOTS = 5;

/** An empty log: one row is one shot; the bend comes from the gap. */
export function firstLog(units: "us" | "si"): NewSheet {
  const small = units === "us" ? "in" : "mm";
  const headings = ["Trial", "Date", "Session", "Table", "Cloth", "Humidity (%)", units === "us" ? "Speed (mph)" : "Speed (m/s)", "Spin", `Gap (${small})`, "Outcome", `Bend (${small})`, "Remarks"];
  const bend = headings.indexOf(`Bend (${small})`);
  return {
    name: "Log",
    rows: [headings.map((value) => ({ value, bold: true })), ...Array.from({ length: ROWS }, (_, i) => headings.map((_heading, c) => (c === 0 ? { value: i + 1 } : c === bend ? { value: null, formula: bendFormula(headings, i + 1) } : { value: null })))],
    columnWidths: [8, 12, 12, 12, 10, 14, 14, 8, 12, 14, 12, 40],
  };
}

export interface FirstSteps {
  /** Shots with a gap or a bend. */
  readonly shots: number;
  /** Each measured shot: where, its gap as a ruler shows it, its bend. */
  readonly bends: readonly string[];
  /** Where the next gap goes; undefined when the log has no column for it. */
  readonly next: { readonly row: number; readonly column: number; readonly address: string } | undefined;
  /** The first answer, once there are enough shots. */
  readonly answer: string | undefined;
}

/** How far the log is. */
export function firstSteps(log: TrialLog): FirstSteps {
  const gaps = log.columns.filter(({ meaning }) => meaning === "gap");
  // The gap as it was read, not the one that the obstacle was set to.
  const gap = gaps.find(({ heading }) => /^gap\b/i.test(heading.name)) ?? gaps[0];
  const bend = log.columns.find(({ meaning, kind }) => meaning === "bend" && kind === "number");
  const measured = log.rows.flatMap((row, index) => {
    const value = bend ? numberOf(bend.readings[index]) : NaN;
    return Number.isFinite(value) ? [{ row, value, gap: gap ? numberOf(gap.readings[index]) : NaN }] : [];
  });
  const unit = bend?.heading.unit ?? "";
  const filled = log.rows.filter((_, index) => gap && Number.isFinite(numberOf(gap.readings[index])));
  const row = gap && (filled.length === 0 ? log.headingRow + 1 : filled[filled.length - 1] + 1);
  return {
    shots: measured.length,
    bends: measured.map(({ row: at, value, gap: read }) => `Row ${at + 1}: ${Number.isFinite(read) ? `gap ${unit === "in" ? inchFraction(read * INCH, 16) : read} ${unit}, ` : ""}bend ${withUnit(String(Number(value.toPrecision(5))), unit)}`),
    next: gap && row !== undefined ? { row, column: gap.column, address: cellAddress(row, gap.column) } : undefined,
    answer: measured.length < FIRST_SHOTS ? undefined : answerOf(measured.map(({ value }) => value), unit),
  };
}

function answerOf(values: readonly number[], unit: string): string {
  const { mean, meanInterval: { low, high }, standardDeviation, n } = spread(values, 0.95);
  const decimals = decimalsFor((high - low) / 4);
  const shown = (value: number) => fixed(value, decimals);
  return `Over ${n} shots the bend was ${withUnit(shown(mean), unit)} on average; the true average lies between ${shown(low)} and ${withUnit(shown(high), unit)} with 95 % confidence, if these shots are like those to come. Single shots scattered by ${withUnit(shown(standardDeviation), unit)} (standard deviation).`;
}
