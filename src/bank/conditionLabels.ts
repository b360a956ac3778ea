/** What the rows of a range of conditions are called, and what else stands on the sheet of conditions. */
import type { Conditions } from "./conditions";

export const CONDITION_LABELS: Readonly<Record<string, keyof Conditions>> = {
  "slip friction": "slipFriction",
  "roll friction": "rollFriction",
  "side friction": "sideFriction",
  "nose friction": "noseFriction",
  restitution: "restitution",
  "nose height": "noseHeight",
  "ball diameter": "ballDiameter",
  "ball mass": "ballMass",
};

/** Says which units the range's lengths and masses are in: "us" (in, oz) or "si" (m, kg). */
export const UNITS_LABEL = "units";

/** A row of earlier workbooks, when there were two models of the cushion. */
export const MODEL_LABEL = "cushion model";

/**
 * What is wrong with the value of such a row; undefined of the one model that there is.
 * @example modelProblem("Nose and  bed") === undefined
 */
export function modelProblem(value: string): string | undefined {
  const text = plainLabel(value);
  if (text === "nose and bed") return undefined;
  return text === "nose alone"
    ? "that model was taken out, as it could not be checked against its publication; clear the row, and the shot is computed with friction at nose and bed, which gives another bend"
    : 'there is one model, "nose and bed"; clear the row';
}

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
