/** What the rows of a range of conditions are called, and what else stands on the sheet of conditions. */
import type { Conditions } from "./conditions";

export const MODEL_LABEL = "cushion model";

export const CONDITION_LABELS: Readonly<Record<string, keyof Conditions>> = {
  "slip friction": "slipFriction",
  "roll friction": "rollFriction",
  "side friction": "sideFriction",
  "nose friction": "noseFriction",
  restitution: "restitution",
  "nose height": "noseHeight",
  "ball diameter": "ballDiameter",
  "ball mass": "ballMass",
  [MODEL_LABEL]: "cushionModel",
};

/** Says which units the range's lengths and masses are in: "us" (in, oz) or "si" (m, kg). */
export const UNITS_LABEL = "units";

/** Rows of the set-up that no shot follows from; a function passes over them. */
export const OTHER_LABELS: ReadonlySet<string> = new Set([
  UNITS_LABEL,
  "table length",
  "table breadth",
  "corner mouth",
  "side mouth",
  "obstacle diameter",
  "ruler division",
  "target",
]);

/** A label as it is compared. @example plainLabel("  Ball  Diameter ") === "ball diameter" */
export function plainLabel(text: string): string {
  return text.trim().toLowerCase().replace(/\s+/g, " ");
}
