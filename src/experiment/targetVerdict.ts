/**
 * Whether a target bend was beaten, by the claims that stand and by the rows, in sentences that are never surer than the
 * measurement. May import: bendUncertainty.ts, evidence.ts, measureForm.ts, shotSettings.ts, unitConversion.ts, wording.ts, statistics/.
 */
import { guardBand, probabilityAbove } from "../statistics/uncertainty";
import { bendUncertainty } from "./bendUncertainty";
import { standings, type Claim, type EvidenceRules } from "./evidence";
import { budgetOf, type MeasureForm } from "./measureForm";
import { unitOf } from "./shotSettings";
import { convertUnit } from "./unitConversion";
import { chanceText, counted, decimalsFor, fixed, listOf } from "./wording";

export interface TargetBends {
  /** Sizes of the rows' bends, in m. */
  readonly rows: readonly number[];
  readonly evidence: { readonly claims: readonly Claim[]; readonly rules: EvidenceRules } | undefined;
}

/** The verdict first, then what it rests on. @param form whose target, wanted certainty and budget of a single reading count */
export function targetSentences(form: MeasureForm, { rows, evidence }: TargetBends): string[] {
  const { target, sure } = form;
  const { name, size } = unitOf("small", form.units);
  // Of a single reading: the rows say nothing of how each was repeated.
  const single = bendUncertainty(budgetOf(form, [0]));
  const decimals = decimalsFor(single.standard / size);
  const shown = (length: number) => `${fixed(length / size, decimals)} ${name}`;
  const claims = (evidence ? standings(evidence.claims) : []).flatMap(({ side, standing }) => standing.map(({ claim }) => {
    const bend = Math.abs(convertUnit(claim.bend!, evidence!.rules.unit, "m"));
    const standard = convertUnit(claim.uncertainty, evidence!.rules.unit, "m");
    return { words: `${claim.label} (${shown(bend)} ${side})`, bend, chance: probabilityAbove(bend, { standard, df: Infinity }, target) };
  })).sort((a, b) => b.chance - a.chance);
  const beaten = claims.filter(({ chance }) => chance >= sure);
  const bar = target + guardBand(single, sure);
  const above = rows.filter((bend) => bend >= bar).length;
  const verdict = beaten.length > 0 ? "beaten" : claims.some(({ chance }) => chance > 1 - sure) || above > 0 ? "not shown to be beaten" : "not reached";
  return [
    `The target of ${shown(target)} was ${verdict}, at the ${chanceText(sure)} that were asked for.`,
    ...(claims.length === 0
      ? ["No claim of a single bend stands, so no shot that can be checked speaks for it."]
      : beaten.length > 0
        ? [`Of ${counted(claims.length, "claim that stands", "claims that stand")}, ${beaten.length} ${beaten.length === 1 ? "beats" : "beat"} it: ${listOf(beaten.map(({ words, chance }) => `${words} with a probability of ${chanceText(chance)}`))}.`]
        : [`Of ${counted(claims.length, "claim that stands", "claims that stand")} none beats it; the nearest is ${claims[0].words} with a probability of ${chanceText(claims[0].chance)}.`]),
    ...(rows.length === 0 ? [] : [rowsSentence(rows, above, single.standard, bar, shown)]),
  ];
}

function rowsSentence(rows: readonly number[], above: number, standard: number, bar: number, shown: (length: number) => string): string {
  const largest = rows.reduce((a, b) => Math.max(a, b));
  const mean = rows.reduce((a, b) => a + b) / rows.length;
  const enough = `${shown(bar)}, which one reading must show to beat it so surely (standard uncertainty ${shown(standard)})`;
  const reached = above === 0 ? `none reached ${enough}` : `${above} reached ${enough}`;
  return `Of ${counted(rows.length, "row")} with a bend ${reached}; the largest was ${shown(largest)}, the mean ${shown(mean)}. The largest of many is partly luck, and a row that records no checks is no evidence for others.`;
}
