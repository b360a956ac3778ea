/**
 * Conditions of a shot as a range of label and value, such as that of the set-up's sheet: what stands beyond the second
 * column (range, unit, source), and rows of the set-up that no shot follows from, are passed over.
 */
import {
  CONDITION_LABELS,
  MODEL_LABEL,
  modelProblem,
  OTHER_LABELS,
  plainLabel,
  UNITS_LABEL,
} from "../bank/conditionLabels";
import { conditionProblem, DEFAULT_CONDITIONS, type Conditions } from "../bank/conditions";
import { SYSTEMS } from "../bank/units";
import { there } from "../there";
import { isCellError } from "../workbook/book";
import { asMatrix, isBlank, shapeOf, argumentNumber } from "./arguments";
import { messages, shown } from "./messages";
import type { System } from "./system";

type Constant = keyof Conditions;
type Given = ReadonlyMap<Constant, { readonly label: string; readonly cell: unknown }>;

/** Reads the range; a label without a value, and what is left out, keeps its default. */
export function toConditions(argument: unknown, system: System): Conditions {
  const rows = asMatrix(argument);
  if (rows.every((row) => row.every(isBlank))) return DEFAULT_CONDITIONS;
  if (rows.some((row) => row.length < 2 || (row.length > 2 && !isOfSetup(rows))))
    throw messages.conditionsShape(shapeOf(rows));
  const own = ownSystem(rows) ?? system;
  const conditions: { -readonly [K in keyof Conditions]: Conditions[K] } = { ...DEFAULT_CONDITIONS };
  const given = new Map<Constant, { label: string; cell: unknown }>();
  for (const [labelCell, cell] of rows) {
    const label = toLabel(labelCell, cell);
    if (label === undefined) continue;
    const constant = there(CONDITION_LABELS[label], `a constant for ${label}`);
    if (given.has(constant)) throw messages.conditionTwice(label);
    if (isBlank(cell)) continue;
    given.set(constant, { label, cell });
    const value = argumentNumber(label, cell, "a number");
    conditions[constant] =
      constant === "ballDiameter" ? value * own.length : constant === "ballMass" ? value * own.mass : value;
  }
  check(conditions, given, own);
  return conditions;
}

/** The label of a constant; undefined of a row that no shot follows from. */
function toLabel(labelCell: unknown, cell: unknown): string | undefined {
  if (isCellError(labelCell)) throw messages.errorCell("conditions", labelCell.error, "");
  if (isBlank(labelCell)) {
    if (isBlank(cell)) return undefined;
    throw messages.conditionWithoutLabel(cell);
  }
  const label = plainLabel(String(labelCell));
  if (Object.hasOwn(CONDITION_LABELS, label)) return label;
  if (label === MODEL_LABEL) {
    checkModel(cell);
    return undefined;
  }
  // The set-up's headings and its other rows.
  if (OTHER_LABELS.has(label) || (label === "what" && cell === "Value")) return undefined;
  throw messages.conditionUnknown(labelCell, Object.keys(CONDITION_LABELS));
}

/** Whether a range is that of the set-up, which has more columns; any other with more than two is a mistake. */
function isOfSetup(rows: readonly (readonly unknown[])[]): boolean {
  return rows.some(([label]) => typeof label === "string" && OTHER_LABELS.has(plainLabel(label)));
}

/** The units that the range says its lengths and masses are in. */
function ownSystem(rows: readonly (readonly unknown[])[]): System | undefined {
  const row = rows.find(([label]) => typeof label === "string" && plainLabel(label) === UNITS_LABEL);
  const [, cell] = row ?? [];
  if (!row || isBlank(cell)) return undefined;
  const said = plainLabel(String(cell));
  if (said !== "us" && said !== "si") throw messages.outOfRange(UNITS_LABEL, cell, 'give "us" or "si"');
  return SYSTEMS[said];
}

function check(conditions: Conditions, given: Given, system: System): void {
  const problem = conditionProblem(conditions);
  if (problem) {
    const at = given.get(problem.constant);
    const label = Object.keys(CONDITION_LABELS).find((one) => CONDITION_LABELS[one] === problem.constant);
    throw messages.outOfRange(
      there(label, `a label for ${problem.constant}`),
      at ? at.cell : shown(conditions[problem.constant]),
      problem.mend,
    );
  }
  const { ballDiameter, ballMass } = conditions;
  // No ball is smaller than 2 cm or larger than 20 cm, lighter than 10 g or heavier than 2 kg: such a value is in other
  // units.
  if (ballDiameter < 0.02 || ballDiameter > 0.2)
    throw messages.outOfRange(
      "ball diameter",
      given.get("ballDiameter")?.cell,
      `no ball has that diameter in ${system.lengthName}; "units" says "${system.name}"`,
    );
  if (ballMass < 0.01 || ballMass > 2)
    throw messages.outOfRange(
      "ball mass",
      given.get("ballMass")?.cell,
      `no ball has that mass in ${system.massName}; "units" says "${system.name}"`,
    );
}

/** Earlier workbooks may name the cushion's model. */
function checkModel(cell: unknown): void {
  if (isBlank(cell)) return;
  if (isCellError(cell)) throw messages.errorCell(MODEL_LABEL, cell.error, "");
  const problem = modelProblem(String(cell));
  if (problem !== undefined) throw messages.outOfRange(MODEL_LABEL, cell, problem);
}
