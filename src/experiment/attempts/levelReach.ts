/** Tables, cloths and other categories compared by the bend at one half. */
import type { Estimated } from "../../statistics/censored/censoredFit";
import type { Setting } from "../../statistics/fit/designMatrix";
import type { ReachAnswer } from "./reach";

export interface LevelReach {
  readonly heading: string;
  readonly levels: readonly { readonly level: string; readonly rows: number; readonly half: Estimated }[];
  /** First less second; intervals that hold for all pairs at once (Bonferroni's bound). */
  readonly pairs: readonly { readonly first: string; readonly second: string; readonly difference: Estimated }[];
}

const NOTHING: Estimated = { estimate: null, low: null, high: null };

/** One entry for each category among the drivers. */
export function levelReaches({ fit, columns, settings }: ReachAnswer): LevelReach[] {
  return fit.question.drivers.flatMap((driver, index): LevelReach[] => {
    if (driver.kind !== "category" || driver.levels.length < 2) return [];
    const at = (setting: Setting) => settings.map((other, j) => (j === index ? setting : other));
    const together = 1 - (1 - fit.confidence) / ((driver.levels.length * (driver.levels.length - 1)) / 2);
    return [
      {
        heading: columns[index]?.heading.name ?? "",
        levels: driver.levels.map((level, place) => ({
          level,
          rows: Array.from(driver.values).filter((value) => value === place).length,
          half: fit.surpassed(at(place), 0.5) ?? NOTHING,
        })),
        pairs: driver.levels.flatMap((first, a) =>
          driver.levels.slice(a + 1).map((second, after) => ({
            first,
            second,
            difference: fit.difference(at(a), at(a + 1 + after), together) ?? NOTHING,
          })),
        ),
      },
    ];
  });
}
