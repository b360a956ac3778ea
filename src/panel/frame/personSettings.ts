/** What is kept with the workbook, with what the person prefers in the place of it. */
import type { Setup } from "../../experiment/setup/setup";
import { usualUnits, type UnitSystem } from "./preferences";
import type { PanelSettings } from "./settings";
import type { SetupState } from "./useSetup";

/** Every interval with the one confidence; each question's own where the person chose none. */
export function withConfidence(settings: PanelSettings, confidence: number | undefined): PanelSettings {
  return confidence === undefined ? settings : { ...settings, confidence };
}

/** The units in force: the person's, the workbook's where it says any, else those of the browser's language. */
export function unitsInForce(
  chosen: UnitSystem | undefined,
  { sheet, setup }: SetupState,
  { shot, layout, measure }: PanelSettings,
): UnitSystem {
  return chosen ?? (sheet === undefined && !shot && !layout && !measure ? usualUnits() : setup.units);
}

/** The set-up said in the person's units; its sheet keeps those that it was written in. */
export function setupInUnits(state: SetupState, units: UnitSystem): SetupState {
  const { setup } = state;
  if (units === setup.units) return state;
  return {
    ...state,
    setup: { ...setup, units },
    change: (next: Setup) => state.change({ ...next, units: setup.units }),
  };
}
