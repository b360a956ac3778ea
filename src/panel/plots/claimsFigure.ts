/** Claims that stand as intervals: each alone, and under it with what the other attempts let expect. */
import { beliefOf, triesText } from "../../experiment/evidence/claimWords";
import type { EvidenceRules, SideStanding } from "../../experiment/evidence/evidence";
import { significant, withUnit } from "../../experiment/language/wording";
import type { Figure, FigureInterval } from "./figure";

/** Half of a 95 % interval in standard uncertainties. */
const HALF_95 = 1.959963984540054;

/** @param target in the unit of the rules @returns undefined where no claim stands */
export function claimsFigure(
  sides: readonly SideStanding[],
  { unit }: EvidenceRules,
  target: number | undefined,
): Figure | undefined {
  const intervals = sides.flatMap(({ side, standing }) =>
    standing.flatMap(({ claim }): FigureInterval[] => {
      const { together } = beliefOf(claim);
      const value = Math.abs(claim.bend);
      const half = HALF_95 * claim.uncertainty;
      const name = `${claim.label}, ${side} (${triesText(claim)})`;
      return [
        {
          name: `${name}: ${claim.shows === "measured" ? "reading" : "obstacle"} alone`,
          value,
          low: value - half,
          high: value + half,
        },
        ...(together
          ? [
              {
                name: `${claim.label}: with the other attempts`,
                value: together.value,
                low: together.quantile(0.025),
                high: together.quantile(0.975),
              },
            ]
          : []),
      ];
    }),
  );
  if (intervals.length === 0) return undefined;
  return {
    id: "claims",
    title: "Claimed bends",
    caption: `95 % intervals, by the reading or obstacle alone and with what the other attempts let expect${target === undefined ? "" : `; upright: the target of ${withUnit(significant(target, 4), unit)}`}.`,
    xLabel: `Bend (${unit})`,
    yLabel: "",
    points: [],
    intervals,
    ...(target !== undefined && { rule: target }),
  };
}
