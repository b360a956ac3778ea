/**
 * Conditions of a shot as a two-column range of label and value.
 */
import {
  conditionProblem,
  CUSHION_MODELS,
  DEFAULT_CONDITIONS,
  type Conditions,
  type CushionModel,
} from "../bank/conditions";
import { there } from "../there";
import { isCellError } from "../workbook/book";
import { asMatrix, isBlank, shapeOf, argumentNumber } from "./arguments";
import { messages, shown } from "./messages";
import type { System } from "./system";

type Constant = keyof Conditions;

const MODEL = "cushion model";
const LABELS: Record<string, Constant> = {
  "slip friction": "slipFriction",
  "roll friction": "rollFriction",
  "side friction": "sideFriction",
  "nose friction": "noseFriction",
  restitution: "restitution",
  "nose height": "noseHeight",
  "ball diameter": "ballDiameter",
  "ball mass": "ballMass",
  [MODEL]: "cushionModel",
};

/** Reads the range; a label without a value, and what is left out, keeps its default. */
export function toConditions(argument: unknown, system: System): Conditions {
  const rows = asMatrix(argument);
  if (rows.every((row) => row.every(isBlank))) return DEFAULT_CONDITIONS;
  if (rows.some((row) => row.length !== 2)) throw messages.conditionsShape(shapeOf(rows));
  const conditions: { -readonly [K in keyof Conditions]: Conditions[K] } = { ...DEFAULT_CONDITIONS };
  const given = new Map<Constant, { label: string; cell: unknown }>();
  for (const [labelCell, cell] of rows) {
    if (isCellError(labelCell)) throw messages.errorCell("conditions", labelCell.error, "");
    if (isBlank(labelCell)) {
      if (isBlank(cell)) continue;
      throw messages.conditionWithoutLabel(cell);
    }
    const label = String(labelCell).trim().toLowerCase().replace(/\s+/g, " ");
    const constant = Object.hasOwn(LABELS, label) ? LABELS[label] : undefined;
    if (!constant) throw messages.conditionUnknown(labelCell, Object.keys(LABELS));
    if (given.has(constant)) throw messages.conditionTwice(label);
    if (isBlank(cell)) continue;
    if (constant === "cushionModel") {
      given.set(constant, { label, cell });
      conditions.cushionModel = toModel(cell);
      continue;
    }
    const value = argumentNumber(label, cell, "a number");
    given.set(constant, { label, cell });
    conditions[constant] =
      constant === "ballDiameter" ? value * system.length : constant === "ballMass" ? value * system.mass : value;
  }
  const problem = conditionProblem(conditions);
  if (problem) {
    const at = given.get(problem.constant);
    const label = Object.keys(LABELS).find((one) => LABELS[one] === problem.constant);
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
  return conditions;
}

function toModel(cell: unknown): CushionModel {
  if (isCellError(cell)) throw messages.errorCell(MODEL, cell.error, "");
  const text = String(cell).trim().toLowerCase().replace(/\s+/g, " ");
  const model = CUSHION_MODELS.find((one) => one === text);
  if (!model) throw messages.outOfRange(MODEL, cell, `give ${CUSHION_MODELS.map((one) => `"${one}"`).join(" or ")}`);
  return model;
}
