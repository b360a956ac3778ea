/** Drivers read to a coarse step and once only: what rounding by itself does to their effects. */
import { say, listOf, capital } from "../language/said";
import { inSentence, significant, withUnit } from "../language/wording";
import type { Analysis } from "./analysis";
import type { Sentence } from "./answer";
import { readingStep } from "./readingStep";

/** Less than this share of an effect does not matter. */
const MATTERS = 0.005;

/**
 * A caution for the numbers whose rounding, to a step or to whole frames of a film, takes half a percent or more off
 * their effects: rounding that spreads evenly over a step d has variance d²/12 (see readingErrors for what a variance
 * does).
 * @param twice indices of drivers that were read twice, which say more
 * @param leftOf how much a driver varies with the others alike
 */
export function roundedSentences(
  analysis: Analysis,
  twice: readonly number[],
  leftOf: (analysis: Analysis, driver: number) => number | undefined,
): Sentence[] {
  const { columns, regression } = analysis;
  const { drivers, joint = [] } = regression.question;
  const parts = drivers.flatMap((driver, index) => {
    const column = columns[index];
    const acts = driver.kind === "number" && driver.degree === 1 && !joint.some((pair) => pair.includes(index));
    if (!column || !acts || twice.includes(index)) return [];
    const read = readingStep(driver.values);
    const left = leftOf(analysis, index);
    if (read === undefined || left === undefined) return [];
    const share = read.variance / left ** 2;
    if (share < MATTERS || share >= 1) return [];
    const step = withUnit(significant(read.step, read.kind === "frames" ? 2 : 3), column.heading.unit);
    const to = read.kind === "frames" ? say`by frames, one more or less is about ${step}` : say`to ${step}`;
    return [say`${inSentence(column.heading)} (${to}, ${significant(100 * share, 2)} %)`];
  });
  if (parts.length === 0) return [];
  const verb = parts.length > 1 ? "are" : "is";
  return [
    {
      kind: "caution",
      text: say`${capital(listOf(parts))} ${verb} read coarsely: if these were read and not set, rounding alone makes the effect look smaller by the share that stands beside it, and other errors of reading add to that. Read each twice, in two columns, to know how much.`,
    },
  ];
}
