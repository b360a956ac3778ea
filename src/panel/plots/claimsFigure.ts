/**
 * Claims as intervals, the largest first: each alone, and under it with what the other attempts let expect; beside it
 * its rank and what was checked. Claims that overlap are tied where the standing says so.
 */
import { say, listOf } from "../../experiment/language/said";
import { beliefOf, triesText } from "../../experiment/evidence/claimWords";
import { CHECK_KINDS, type Claim, type EvidenceRules, type SideStanding } from "../../experiment/evidence/evidence";
import { significant, withUnit } from "../../experiment/language/wording";
import type { Figure, FigureInterval } from "./figure";

/** Half of a 95 % interval in standard uncertainties. */
const HALF_95 = 1.959963984540054;

const MARKS = { holds: "✓", fails: "✕", "not recorded": "–" } as const;

/**
 * @param target in the unit of the rules
 * @param fallen claims that do not stand, drawn hollow after the others
 * @returns undefined where no claim has a bend
 */
export function claimsFigure(
  sides: readonly SideStanding[],
  { unit }: EvidenceRules,
  target: number | undefined,
  fallen: readonly Claim[] = [],
): Figure | undefined {
  const standing = sides.flatMap(({ side, standing: of }) =>
    of.flatMap(({ claim, rank, tiedWith }) =>
      claimIntervals(claim, side, `${rank}.${tiedWith.length > 0 ? " tied" : ""} ${checksOf(claim)}`),
    ),
  );
  const others = fallen.flatMap((claim) => {
    const side = (claim.bend ?? 0) < 0 ? "long" : "short";
    return claimIntervals(claim, side, `falls ${checksOf(claim)}`)
      .slice(0, 1)
      .map((one) => ({ ...one, hollow: true }));
  });
  const intervals = [...standing, ...others];
  const [first] = [...sides.flatMap(({ standing: of }) => of.map(({ claim }) => claim)), ...fallen];
  if (intervals.length === 0 || !first) return undefined;
  const asked = first.checks.map(({ name }) => CHECK_KINDS[name].asks);
  return {
    id: "claims",
    title: "Claimed bends",
    caption: say`95 % intervals, by the reading or obstacle alone and with what the other attempts let expect${target === undefined ? "" : say`; upright: the target of ${withUnit(significant(target, 4), unit)}`}. At the end of a line: rank, and whether ${listOf(asked)} (✓ yes, ✕ no, – not recorded).`,
    xLabel: `Bend (${unit})`,
    yLabel: "",
    points: [],
    intervals,
    ...(target !== undefined && { rule: target, ruleName: "target" }),
  };
}

const checksOf = ({ checks }: Claim) => checks.map(({ verdict }) => MARKS[verdict]).join("");

function claimIntervals(claim: Claim, side: SideStanding["side"], beside: string): FigureInterval[] {
  if (claim.bend === undefined) return [];
  const { together } = beliefOf(claim);
  const value = Math.abs(claim.bend);
  const half = HALF_95 * claim.uncertainty;
  const by = claim.shows === "measured" ? "reading" : "obstacle";
  return [
    {
      name: `${claim.label}, ${side} (${triesText(claim)}): ${by} alone`,
      value,
      low: value - half,
      high: value + half,
      beside,
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
}
