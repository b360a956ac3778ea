/** A measurement's form with what the set-up says: units, ball, ruler, obstacle, target. */
import type { Setup } from "../setup/setup";
import { inUnits, type MeasureForm } from "./measureForm";

export function measureOfSetup(form: MeasureForm, setup: Setup): MeasureForm {
  const { ballDiameter, obstacleDiameter, rulerDivision, target } = setup;
  return {
    ...inUnits(form, setup.units),
    ballDiameter: ballDiameter.value,
    ballTolerance: Math.max(ballDiameter.high - ballDiameter.value, ballDiameter.value - ballDiameter.low),
    rulerDivision: rulerDivision.value,
    // Of the radius: half of what the diameter may be off.
    roundness:
      Math.max(obstacleDiameter.high - obstacleDiameter.value, obstacleDiameter.value - obstacleDiameter.low) / 2,
    target: target.value,
  };
}
