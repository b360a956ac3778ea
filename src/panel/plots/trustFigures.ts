/** Intervals of the same effect side by side: under other choices, and from rows drawn anew. */
import { say, capital, toText } from "../../experiment/language/said";
import { confidenceText, moreOf } from "../../experiment/language/wording";
import type { Analysis } from "../../experiment/question/analysis";
import { usualStep } from "../../experiment/question/answer";
import type { ChangedChoices } from "../../experiment/trust/changedChoices";
import type { Figure, FigureInterval } from "./figure";

/** One effect as asked and with every choice made otherwise. @param effect its index */
export function changedFigure(
  { effects, rows, none, unit }: ChangedChoices,
  effect: number,
  confidence: number,
): Figure {
  const name = effects[effect]?.name ?? "";
  const percent = say`${confidenceText(confidence)} %`;
  const ratio = none === 1;
  return {
    id: "changed",
    title: `${toText(name)} under other choices`,
    caption: say`One choice at a time, the rest as asked; ${percent} intervals, one at a time. Hollow and grey: the interval holds ${none}, so the direction is open.`,
    xLabel: ratio ? "Ratio of the odds of making the shot" : `Difference${unit ? ` (${unit})` : ""}`,
    yLabel: "",
    points: [],
    rule: none,
    ruleName: "no effect",
    ratios: ratio,
    intervals: rows.flatMap(({ change, effects: found }): FigureInterval[] => {
      const one = found[effect];
      return one ? [{ name: change, ...one }] : [];
    }),
  };
}

/** What rows drawn anew found of one term. */
interface DrawnTerm {
  readonly low: number | null;
  readonly high: number | null;
}

/**
 * Each effect of a usual step by the answer, and under it from the draws. Terms that are no effect of one step (a
 * constant, a curve, a joint effect) are left to the table.
 */
export function drawnFigure(analysis: Analysis, drawn: readonly DrawnTerm[]): Figure {
  const { regression, response, columns } = analysis;
  const { unit } = response.heading;
  const percent = say`${confidenceText(regression.confidence)} %`;
  const intervals = regression.terms.flatMap(({ label, drivers, estimate, low, high }, place): FigureInterval[] => {
    const again = drawn[place];
    const [index] = drivers;
    const driver = index === undefined ? undefined : regression.question.drivers[index];
    const heading = index === undefined ? undefined : columns[index]?.heading;
    if (!again || !driver || !heading || drivers.length !== 1 || estimate === null) return [];
    if (driver.kind === "number" && driver.degree > 1) return [];
    const step = driver.kind === "number" ? usualStep(driver, heading.unit) : 1;
    const name = driver.kind === "number" ? capital(moreOf(step, heading)) : label;
    const times = (value: number | null) => (value === null ? null : value * step);
    return [
      { name, value: estimate * step, low: times(low), high: times(high), beside: "answer" },
      { name: "", value: estimate * step, low: times(again.low), high: times(again.high), beside: "draws" },
    ];
  });
  return {
    id: "drawn",
    title: "Intervals of the answer and of rows drawn anew",
    caption: say`${percent} intervals of the effect of a usual step: above as the answer gives them, below from the draws, both about the fitted value. Where the two differ much, believe the wider.`,
    xLabel: `Difference${unit ? ` (${unit})` : ""}`,
    yLabel: "",
    points: [],
    rule: 0,
    ruleName: "no effect",
    intervals,
  };
}
