/**
 * Whether a target bend was beaten, by the claims that stand and by the rows, in sentences that are never surer than
 * the measurement.
 */
import { say, listOf, type Said, joinTexts } from "../language/said";
import { guardBand } from "../../statistics/measure/uncertainty";
import { bendUncertainty, type BendUncertainty } from "../measure/bendUncertainty";
import { chanceReached, triesText } from "./claimWords";
import { standings, type Claim, type EvidenceRules } from "./evidence";
import { budgetOf, type MeasureForm } from "../measure/measureForm";
import { unitOf } from "../shot/shotSettings";
import { convertUnit } from "../language/unitConversion";
import { chanceText, counted, decimalsFor, fixed } from "../language/wording";

export interface TargetBends {
  /** Sizes of the rows' bends, in m. */
  readonly rows: readonly number[];
  readonly evidence: { readonly claims: readonly Claim[]; readonly rules: EvidenceRules } | undefined;
}

interface Judged {
  readonly words: Said;
  /** That the bend is above the target. */
  readonly chance: number;
}

/**
 * The verdict first, then what it rests on.
 * @param form whose target, wanted certainty and budget of a single reading count
 */
export function targetSentences(form: MeasureForm, { rows, evidence }: TargetBends): Said[] {
  const { target, sure } = form;
  const { name, size } = unitOf("small", form.units);
  // Of a single reading: the rows say nothing of how each was repeated.
  const single = bendUncertainty(budgetOf(form, [0]));
  const decimals = decimalsFor(single.standard / size);
  const shown = (length: number) => say`${fixed(length / size, decimals)} ${name}`;
  const claims = evidence ? judged(evidence, target, shown) : [];
  const bar = target + guardBand(single, sure);
  const above = rows.filter((bend) => bend >= bar).length;
  const open = claims.some(({ chance }) => chance > 1 - sure) || above > 0;
  const beaten = claims.some(({ chance }) => chance >= sure);
  const verdict = beaten ? "beaten" : open ? "not shown to be beaten" : "not reached";
  return [
    say`The target of ${shown(target)} was ${verdict}, at the ${chanceText(sure)} that were asked for.`,
    claimsSentence(claims, sure),
    ...(rows.length === 0 ? [] : [rowsSentence(rows, above, single, bar, shown)]),
  ];
}

/** The claims that stand, the likeliest first. */
function judged(
  { claims, rules }: NonNullable<TargetBends["evidence"]>,
  target: number,
  shown: (length: number) => Said,
): Judged[] {
  const metres = (length: number) => convertUnit(length, rules.unit, "m");
  const found = standings(claims).flatMap(({ side, standing }) =>
    standing.map(({ claim }): Judged => {
      const bend = Math.abs(metres(claim.bend));
      const chance = chanceReached(claim, convertUnit(target, "m", rules.unit));
      return {
        words: say`${claim.label} (${shown(bend)} ${side}, ${triesText(claim)}) with a probability of ${chanceText(chance)}`,
        chance,
      };
    }),
  );
  return found.sort((a, b) => b.chance - a.chance);
}

function claimsSentence(claims: readonly Judged[], sure: number): Said {
  const [nearest] = claims;
  if (!nearest) return "No claim of a single bend stands, so no shot that can be checked speaks for it.";
  const lead = `Of ${counted(claims.length, "claim that stands", "claims that stand")}`;
  const beaten = claims.filter(({ chance }) => chance >= sure);
  if (beaten.length === 0) return say`${lead} none beats it; the nearest is ${nearest.words}.`;
  const verb = beaten.length === 1 ? "beats" : "beat";
  return say`${lead}, ${beaten.length} ${verb} it: ${listOf(beaten.map(({ words }) => words))}.`;
}

function rowsSentence(
  rows: readonly number[],
  above: number,
  { standard, scatterKnown }: BendUncertainty,
  bar: number,
  shown: (length: number) => Said,
): Said {
  const largest = rows.reduce((a, b) => Math.max(a, b));
  const mean = rows.reduce((a, b) => a + b) / rows.length;
  const wanted = say`which one reading must show to beat it so surely (standard uncertainty ${scatterKnown ? "" : "at least "}${shown(standard)}${scatterKnown ? "" : ", since how readings scatter is not known"})`;
  const said = [
    say`Of ${counted(rows.length, "row")} with a bend ${above === 0 ? "none" : above} reached ${shown(bar)}, ${wanted};`,
    say`the largest was ${shown(largest)}, the mean ${shown(mean)}.`,
    "The largest of many is partly luck, and a row that records no checks is no evidence for others.",
  ];
  return joinTexts(said, " ");
}
