/** BANK.REACH and BANK.NEXTGAP: attempts in cells, figures out. */
import { evidenceOf } from "../experiment/log/outcomeWords";
import { nextSetting, rulerStep, type AttemptsSoFar } from "../experiment/attempts/nextSetting";
import { censoredFit } from "../statistics/censored/censoredFit";
import { isCellError } from "../workbook/book";
import {
  asMatrix,
  isBlank,
  single,
  toBallDiameter,
  argumentConfidence,
  toLength,
  argumentNumber,
  toUnits,
} from "./arguments";
import type { LengthUnit } from "./arguments";
import { messages } from "./messages";

/**
 * Bend that an attempt gets at least with the probability, with its interval and the scatter; "" for what the rows do
 * not tell.
 */
export function reachTable(
  required: unknown,
  outcomes: unknown,
  probability: unknown,
  confidence: unknown,
  misjudged: unknown,
): unknown[][] {
  const share = toProbability(single("probability", probability));
  const level = argumentConfidence(single("confidence", confidence));
  const { bounds, known } = attemptsOf(required, outcomes, "in");
  if (bounds.length === 0) throw messages.tooFew("outcomes", 0, 1);
  const fit = censoredFit({
    bounds,
    known,
    drivers: [],
    confidence: level,
    misjudged: toMisjudged(single("misjudged", misjudged)),
  });
  const found = fit.surpassed([], share);
  return [
    ["bend", "low", "high", "scatter"],
    [found?.estimate ?? "", found?.low ?? "", found?.high ?? "", fit.scatter.estimate ?? ""],
  ];
}

/** Gap to set next, the bend that it asks for, the chance to get by, and how many attempts about halve what is open. */
export function nextGapTable(
  required: unknown,
  outcomes: unknown,
  step: unknown,
  probability: unknown,
  ballDiameter: unknown,
  units: unknown,
  misjudged: unknown,
): unknown[][] {
  const unit = toUnits(single("units", units));
  const division = single("step", step);
  const size = isBlank(division) ? rulerStep(unit) : toLength("step", division, unit);
  const diameter = toBallDiameter(single("ballDiameter", ballDiameter), unit);
  if (!(size > 0 && size <= diameter / 4))
    throw messages.outOfRange("step", division, `give the ruler's division in ${unit}, such as ${rulerStep(unit)}`);
  const next = nextSetting(attemptsOf(required, outcomes, unit), {
    unit,
    step: size,
    probability: toProbability(single("probability", probability)),
    ballDiameter: diameter,
    misjudged: toMisjudged(single("misjudged", misjudged)),
  });
  return [
    ["gap", "required bend", "chance to get by", "attempts to halve"],
    [next.gap, next.required, next.chance, Number.isFinite(next.toHalve) ? next.toHalve : ""],
  ];
}

function toProbability(cell: unknown): number {
  if (isBlank(cell)) return 0.5;
  const share = argumentNumber("probability", cell, "a share such as 0.5 or 90%");
  if (!(share > 0 && share < 1))
    throw messages.outOfRange("probability", cell, "give a share between 0 and 1, such as 0.5 or 90%");
  return share;
}

function toMisjudged(cell: unknown): number {
  if (isBlank(cell)) return 0;
  const share = argumentNumber("misjudged", cell, "a share such as 0.02 or 2%");
  if (!(share >= 0 && share < 0.5))
    throw messages.outOfRange("misjudged", cell, "give a share from 0 to below 0.5, such as 0.02 or 2%");
  return share;
}

/** The attempts that say something; a row without an outcome is not shot yet, one that missed says nothing. */
function attemptsOf(required: unknown, outcomes: unknown, unit: LengthUnit): AttemptsSoFar {
  const asked = asMatrix(required).flat();
  const ends = asMatrix(outcomes).flat();
  if (asked.length !== ends.length) throw messages.columnsDiffer("required", asked.length, "outcomes", ends.length);
  const told = ends.flatMap((cell, index) => {
    if (isBlank(cell)) return [];
    const row = index + 1;
    if (isCellError(cell)) throw messages.errorCell("outcomes", cell.error, ` in row ${row}`);
    const text = typeof cell === "boolean" ? String(cell) : (cell as string | number);
    const evidence = evidenceOf(
      typeof text === "number" ? { kind: "number", value: text } : { kind: "word", text: text.trim() },
      true,
    );
    if ("problem" in evidence) throw messages.refused(`outcomes, row ${row}, is ${evidence.problem}`);
    if (evidence.says === "nothing") return [];
    const bound = toLength(`required, row ${row},`, asked[index], unit);
    return [{ bound, known: evidence.says === "got by" ? ("at least" as const) : ("less than" as const) }];
  });
  return { bounds: told.map(({ bound }) => bound), known: told.map(({ known }) => known) };
}
