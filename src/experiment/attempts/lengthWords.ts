/** Bends in sentences: to the digits that their interval leaves, with the unit once. */
import { say, type Said } from "../language/said";
import type { Estimated } from "../../statistics/censored/censoredFit";
import { decimalsFor, fixed, significant, withUnit } from "../language/wording";

/** Decimals for a figure: two significant digits of a quarter of its interval, no finer than a ruler is read. */
function decimalsOf({ estimate, low, high }: Estimated, unit: string): number {
  const half = low !== null && high !== null ? (high - low) / 4 : Math.abs(estimate ?? high ?? low ?? 1) / 20;
  return Math.max(unit === "mm" ? 1 : 2, Math.min(unit === "mm" ? 2 : 4, decimalsFor(half)));
}

/** "1.03 in". @example toText(lengthText({ estimate: 1.0312, low: 0.97, high: 1.09 }, "in")) === "1.031 in" */
export function lengthText(figure: Estimated, unit: string, value: number | null = figure.estimate): Said {
  return value === null ? "not told" : withUnit(fixed(value, decimalsOf(figure, unit)), unit);
}

/** "1.03", where the unit stands beside another figure. */
export function lengthAlone(figure: Estimated, unit: string, value: number): Said {
  return fixed(value, decimalsOf(figure, unit));
}

/** "95 % interval 0.97 to 1.09 in", with open ends said. */
export function intervalText(figure: Estimated, unit: string, confidence: number): Said {
  const { low, high } = figure;
  const percent = say`${significant(100 * confidence, 4)} %`;
  const end = (value: number) => fixed(value, decimalsOf(figure, unit));
  if (low !== null && high !== null) return say`${percent} interval ${end(low)} to ${withUnit(end(high), unit)}`;
  if (low !== null) return say`${percent} interval from ${withUnit(end(low), unit)} up, with no upper end`;
  if (high !== null) return say`${percent} interval up to ${withUnit(end(high), unit)}, with no lower end`;
  return "the rows give no interval";
}
