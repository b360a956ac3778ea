/** Drivers read to a coarse step and once only: what rounding by itself does to their effects. */
import { regress } from "../../statistics/fit/regression";
import { capital, inSentence, listOf, significant, withUnit } from "../language/wording";
import type { Analysis } from "./analysis";
import type { Sentence } from "./answer";

/** Fewer different values than this were set rather than read. */
const READ = 6;
/** Less than this share of an effect does not matter. */
const MATTERS = 0.005;

/**
 * A caution for the numbers whose rounding takes half a percent or more off their effects: rounding that spreads evenly
 * over a step d has variance d²/12 (see readingErrors for what a variance does).
 * @param twice indices of drivers that were read twice, which say more
 */
export function roundedSentences(analysis: Analysis, twice: readonly number[]): Sentence[] {
  const { columns, regression } = analysis;
  const { drivers, joint = [] } = regression.question;
  const parts = drivers.flatMap((driver, index) => {
    const column = columns[index];
    const acts = driver.kind === "number" && driver.degree === 1 && !joint.some((pair) => pair.includes(index));
    if (!column || !acts || twice.includes(index)) return [];
    const step = stepOf(driver.values);
    if (step === undefined) return [];
    const left = regress({ response: driver.values, drivers: drivers.filter((_, other) => other !== index) }).residual
      .sd;
    const share = left !== null && left > 0 ? step ** 2 / 12 / left ** 2 : 0;
    if (share < MATTERS || share >= 1) return [];
    return [
      `${inSentence(column.heading)} (to ${withUnit(significant(step, 3), column.heading.unit)}, ${significant(100 * share, 2)} %)`,
    ];
  });
  if (parts.length === 0) return [];
  const verb = parts.length > 1 ? "are" : "is";
  return [
    {
      kind: "caution",
      text: `${capital(listOf(parts))} ${verb} read coarsely: if these were read and not set, rounding alone makes the effect look smaller by the share that stands beside it, and other errors of reading add to that. Read each twice, in two columns, to know how much.`,
    },
  ];
}

/**
 * The largest usual step of which all values are multiples; undefined where there is none, or too few values to tell.
 */
function stepOf(values: ArrayLike<number>): number | undefined {
  const distinct = [...new Set(Array.from(values))];
  if (distinct.length < READ) return undefined;
  return [10, 5, 2, 1, 0.5, 0.25, 0.2, 0.1, 0.05, 0.02, 0.01].find((step) =>
    distinct.every((value) => Math.abs(value / step - Math.round(value / step)) < 1e-6),
  );
}
