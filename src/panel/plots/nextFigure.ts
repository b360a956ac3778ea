/** What is predicted over the settings that may change, with the rows that were shot and the proposals. */
import { say } from "../../experiment/language/said";
import type { ReachAnswer } from "../../experiment/attempts/reach";
import { gapText } from "../../experiment/shoot/shootWords";
import type { NextAttempts } from "../../experiment/next/nextAttempts";
import type { NextMap } from "../../experiment/next/nextMap";
import { PROPOSAL_TITLES, type ProposalName } from "../../experiment/next/nextWords";
import type { Proposal, WhatNext } from "../../experiment/next/whatNext";
import { convertUnit } from "../../experiment/language/unitConversion";
import type { Figure, FigurePlace } from "./figure";
import { reachFigures } from "./reachFigures";

const ORDER: readonly ProposalName[] = ["highest", "trade", "teaching"];

/** Undefined where nothing may change. */
export function nextFigure(next: WhatNext): Figure | undefined {
  const { map, analysis } = next;
  if (!map) return undefined;
  const { name, text } = analysis.response.heading;
  const held = map.up && next.highest.settings.filter(({ free }) => free).length > 2;
  const common = {
    id: "next",
    title: `Predicted ${name.toLowerCase()} and the next shots`,
    xLabel: map.across.heading,
    points: map.rows.map(({ across, up }, row) => ({ x: across, y: up, row })),
    places: placesOf(next, map),
  };
  if (!map.up)
    return {
      ...common,
      yLabel: text,
      caption: "Line: predicted mean; shaded: its interval at each place by itself. Dots: rows shot.",
      line: {
        x: map.across.values,
        y: map.means,
        ...(map.low.every(Number.isFinite) && { low: map.low, high: map.high }),
      },
    };
  return {
    ...common,
    yLabel: map.up.heading,
    caption: `Lines join settings of equal predicted ${name.toLowerCase()} (${text}); darker is more. Dots: settings of the rows shot; far from them a prediction says little.${held ? " What else may change is as for the highest." : ""}`,
    surface: { x: map.across.values, y: map.up.values, z: map.means },
  };
}

/** Proposals at the same place are named together. */
function placesOf(next: WhatNext, { across, up }: NextMap): FigurePlace[] {
  const places = new Map<string, FigurePlace>();
  for (const name of ORDER) {
    const proposal = next[name];
    if (!proposal) continue;
    const [x, y] = [settingOf(proposal, across.heading), up ? settingOf(proposal, up.heading) : proposal.mean.value];
    const key = `${x.toPrecision(3)} ${y.toPrecision(3)}`;
    const before = places.get(key);
    places.set(key, {
      x,
      y,
      name: before ? say`${before.name}, ${PROPOSAL_TITLES[name].toLowerCase()}` : PROPOSAL_TITLES[name],
    });
  }
  return [...places.values()];
}

const settingOf = ({ settings }: Proposal, heading: string) =>
  Number(settings.find((one) => one.heading === heading)?.value ?? NaN);

/** The chance to get by against the required bend, with the place of the next attempt. */
export function nextAttemptsFigure(answer: ReachAnswer, { gap }: NextAttempts): Figure {
  const [chance] = reachFigures(answer);
  const unit = answer.attempts.unit === "mm" ? "mm" : "in";
  const required = convertUnit(gap.required, unit, answer.attempts.unit);
  const figure = chance?.make();
  return {
    ...(figure ?? { xLabel: "Required bend", yLabel: "Chance", points: [], caption: "" }),
    id: "next",
    title: "Where the next attempt goes",
    caption: say`Diamond: the bend that the next gap asks for, and the chance to get by there as far as is known. ${figure?.caption ?? ""}`,
    places: [{ x: required, y: gap.chance, name: say`next: gap ${gapText(gap.gap, unit)}` }],
  };
}
