/**
 * Claims as intervals, the largest first: each alone, and under it with what the other attempts let expect; beside it
 * its rank and what was checked. Claims that overlap are tied where the standing says so.
 */
import { say, listOf } from "../../experiment/language/said";
import { sizesOf, triesText } from "../../experiment/evidence/claimWords";
import { CHECK_KINDS, type Claim, type EvidenceRules, type SideStanding } from "../../experiment/evidence/evidence";
import { confidenceText, significant, withUnit } from "../../experiment/language/wording";
import type { Figure, FigureInterval } from "./figure";

const MARKS = { holds: "✓", fails: "✕", "not recorded": "–" } as const;

/**
 * @param target in the unit of the rules
 * @param fallen claims that do not stand, drawn hollow after the others
 * @returns undefined where no claim has a bend
 */
export function claimsFigure(
  sides: readonly SideStanding[],
  { unit, confidence }: EvidenceRules,
  target: number | undefined,
  fallen: readonly Claim[] = [],
): Figure | undefined {
  const standing = sides.flatMap(({ side, standing: of }) =>
    of.flatMap(({ claim, rank, tiedWith }) =>
      claimIntervals(claim, confidence, side, `${rank}.${tiedWith.length > 0 ? " tied" : ""} ${checksOf(claim)}`),
    ),
  );
  const others = fallen.flatMap((claim) => {
    const side = (claim.bend ?? 0) < 0 ? "long" : "short";
    return claimIntervals(claim, confidence, side, `falls ${checksOf(claim)}`)
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
    caption: say`${confidenceText(confidence)} % intervals, by the reading or obstacle alone and with what the other attempts let expect${target === undefined ? "" : say`; upright: the target of ${withUnit(significant(target, 4), unit)}`}. At the end of a line: rank, and whether ${listOf(asked)} (✓ yes, ✕ no, – not recorded).`,
    xLabel: `Bend (${unit})`,
    yLabel: "",
    points: [],
    intervals,
    ...(target !== undefined && { rule: target, ruleName: "target" }),
  };
}

const checksOf = ({ checks }: Claim) => checks.map(({ verdict }) => MARKS[verdict]).join("");

function claimIntervals(
  claim: Claim,
  confidence: number,
  side: SideStanding["side"],
  beside: string,
): FigureInterval[] {
  const sizes = sizesOf(claim, confidence);
  if (!sizes) return [];
  const by = claim.shows === "measured" ? "reading" : "obstacle";
  return [
    { name: `${claim.label}, ${side} (${triesText(claim)}): ${by} alone`, ...sizes.alone, beside },
    ...(sizes.together ? [{ name: `${claim.label}: with the other attempts`, ...sizes.together }] : []),
  ];
}
