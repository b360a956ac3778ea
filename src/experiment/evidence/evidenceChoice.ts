/** How strictly claims are judged and where they stand, as it is kept with the workbook. */
import { asRecord } from "../language/keptObject";
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import { INCH } from "../../bank/units";
import { bendUncertainty } from "../measure/bendUncertainty";
import { budgetOf, type MeasureForm } from "../measure/measureForm";
import { FIRST_RULES, type EvidenceRules } from "./evidence";
import { unitOf } from "../shot/shotSettings";
import type { SheetSummary } from "../../workbook/port";

export interface EvidenceChoice {
  readonly sheet?: string;
  readonly units: "us" | "si";
  /** Metres. */
  readonly tolerance: number;
  readonly uncertainty: number;
  /** Whether the Measure view's budget of a single reading takes the place of that uncertainty, where one is kept. */
  readonly byBudget: boolean;
  readonly ballDiameter: number;
  readonly certainty: number;
}

export const FIRST_EVIDENCE: EvidenceChoice = {
  units: "us",
  tolerance: FIRST_RULES.tolerance * INCH,
  uncertainty: FIRST_RULES.uncertainty * INCH,
  byBudget: true,
  ballDiameter: STANDARD_BALL_DIAMETER.mm / 1000,
  certainty: 0.95,
};

/** Reads a kept choice; what is missing or of the wrong kind is the usual. */
export function parseEvidence(raw: unknown): EvidenceChoice {
  const given = asRecord(raw);
  const number = (name: "tolerance" | "uncertainty" | "ballDiameter" | "certainty") =>
    typeof given[name] === "number" && given[name] > 0 ? given[name] : FIRST_EVIDENCE[name];
  return {
    ...(typeof given.sheet === "string" ? { sheet: given.sheet } : {}),
    units: given.units === "si" ? "si" : "us",
    tolerance: number("tolerance"),
    uncertainty: number("uncertainty"),
    byBudget: given.byBudget !== false,
    ballDiameter: number("ballDiameter"),
    certainty: Math.min(0.9999, Math.max(0.5001, number("certainty"))),
  };
}

/** The sheet of claims that was chosen, else one that is named so; undefined where neither is there. */
export function claimsSheetOf(choice: EvidenceChoice | undefined, sheets: readonly SheetSummary[]): string | undefined {
  const visible = sheets.filter(({ hidden }) => !hidden).map(({ name }) => name);
  return visible.find((name) => name === choice?.sheet) ?? visible.find((name) => /^claims?\b/i.test(name));
}

/** The standard uncertainty in m of one gap read once, by the Measure view's budget. */
export function budgetUncertainty(measure: MeasureForm): number {
  return bendUncertainty(budgetOf(measure, [0])).standard;
}

/**
 * The choice as rules in the unit that is read.
 * @param measure the budget as it is kept with the workbook; undefined where none is
 * @param confidence of every interval: the person's, who has one for all views
 */
export function rulesOf(
  { units, tolerance, uncertainty: typed, byBudget, ballDiameter, certainty }: EvidenceChoice = FIRST_EVIDENCE,
  measure?: MeasureForm,
  confidence = FIRST_RULES.confidence,
): {
  readonly rules: EvidenceRules;
  readonly certainty: number;
} {
  const uncertainty = byBudget && measure ? budgetUncertainty(measure) : typed;
  const { size } = unitOf("small", units);
  const unit = units === "us" ? "in" : "mm";
  return {
    rules: {
      unit,
      tolerance: tolerance / size,
      uncertainty: uncertainty / size,
      ballDiameter: ballDiameter / size,
      confidence,
    },
    certainty,
  };
}
