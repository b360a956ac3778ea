/** What a calibration leaves of the constants: which values and ranges to take over. */
import { CONSTANT_KINDS, type ShotSettings, type UncertainName } from "../shot/shotSettings";
import type { Calibration } from "./calibration";

type Constants = ShotSettings["constants"];

/**
 * Fitted values with their intervals as ranges; what the rows do not tell, or drive into a limit, keeps its value
 * and range.
 */
export function adopted(fit: Calibration, before: Constants): Constants {
  return Object.fromEntries(
    fit.constants.map(({ name, estimate, standardError, atBound }): [UncertainName, Constants[UncertainName]] => {
      if (standardError === null || fit.t === null || atBound) return [name, before[name]];
      const { low, high } = CONSTANT_KINDS[name].bounds;
      const tidy = (value: number) => Number(Math.min(high, Math.max(low, value)).toPrecision(4));
      const value = tidy(estimate);
      return [
        name,
        {
          low: Math.min(value, tidy(estimate - fit.t * standardError)),
          value,
          high: Math.max(value, tidy(estimate + fit.t * standardError)),
        },
      ];
    }),
  ) as Record<UncertainName, Constants[UncertainName]>;
}
