/** The chance to see the difference against the number of shots. */
import type { ChancePlace } from "../../experiment/plan/chanceCurve";
import type { Figure } from "./figure";

/**
 * @param now the plan as it is
 * @param wanted chance, as a share
 */
export function chanceFigure(places: readonly ChancePlace[], now: ChancePlace | undefined, wanted: number): Figure {
  const known = places.flatMap(({ shots, chance }) => (chance === null ? [] : [{ x: shots, y: 100 * chance }]));
  return {
    id: "chance",
    title: "Chance to see the difference",
    caption:
      "Line: the chance of the setting that is hardest to see, for the same plan shot more or less often; ring: this plan. It rests on the spread given.",
    xLabel: "Shots",
    yLabel: "Chance (%)",
    points: now && now.chance !== null ? [{ x: now.shots, y: 100 * now.chance, row: 0 }] : [],
    rule: 100 * wanted,
    ruleName: "wanted",
    line: { x: [0, ...known.map(({ x }) => x)], y: [NaN, ...known.map(({ y }) => y)] },
    ...(now && now.chance !== null && { pointName: `${now.shots} shots: ${Math.round(100 * now.chance)} %` }),
    low: 0,
    high: 100,
    short: true,
  };
}
