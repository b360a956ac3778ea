/**
 * Tables, cloths or other levels compared with each other, and what the comparison says in words.
 * May import: analysis.ts, answer.ts, choice.ts, rowCheck.ts, sessionAware.ts, trialLog.ts, wording.ts, statistics/.
 */
import { compare, type Comparison, type Pairing } from "../statistics/comparison";
import { analyse, NoAnswer, type Analysis } from "./analysis";
import { scatterSentence, type Sentence } from "./answer";
import type { Choice } from "./choice";
import { columnNamed, UnknownColumn } from "./rowCheck";
import { sessionAware, type SessionAware } from "./sessionAware";
import type { TrialLog } from "./trialLog";
import { counted, decimalsFor, fixed, inSentence, listOf, pText, significant, withUnit } from "./wording";

export interface ComparisonQuestion extends Omit<Choice, "joint" | "constant"> {
  /** Heading of the column whose levels are compared. */
  readonly among: string;
  /** Largest difference that counts as none, in the response's unit. */
  readonly margin?: number;
}

export interface ComparisonAnswer {
  readonly analysis: Analysis;
  readonly among: string;
  readonly margin: number | undefined;
  readonly comparison: Comparison;
}

/**
 * Compares the levels, with the drivers alike.
 * @throws UnknownColumn when a column is not there or has two parts in the question
 * @throws NoAnswer when there is nothing to compare
 */
export function compareLevels(log: TrialLog, { among, margin, ...choice }: ComparisonQuestion): ComparisonAnswer {
  const column = columnNamed(log, among);
  if (choice.drivers.some(({ heading }) => columnNamed(log, heading) === column)) {
    throw new UnknownColumn(`"${column.heading.text}" is asked for both as a driver and as what is compared: take it out of one.`);
  }
  const analysis = analyse(log, { ...choice, drivers: [{ heading: column.heading.text, as: "category", degree: 1 }, ...choice.drivers], joint: [], constant: true });
  const [driver] = analysis.regression.question.drivers;
  if (driver.kind === "category" && driver.levels.length < 2) {
    throw new NoAnswer(`"${column.heading.text}" has one level only in the rows used (${driver.levels[0]}): at least two are needed to compare.`, analysis.check);
  }
  return { analysis, among: column.heading.text, margin, comparison: compare(analysis.regression, 0, margin) };
}

/**
 * What a session column says of a plain comparison, and the comparison to read in its place.
 * @returns undefined when sessions give no reason to doubt the plain one
 */
export function sessionAwareComparison({ analysis, among, margin }: ComparisonAnswer): { readonly aware: SessionAware; readonly better: ComparisonAnswer | undefined } | undefined {
  const aware = sessionAware(analysis);
  if (!aware?.lead) return undefined;
  const { recommended } = aware;
  return { aware, better: recommended && { analysis: recommended, among, margin, comparison: compare(recommended.regression, 0, margin) } };
}

/** The comparison in sentences, the pairs in their order. */
export function comparisonSentences({ analysis, margin, comparison }: ComparisonAnswer): Sentence[] {
  const { response, columns, regression, check, log } = analysis;
  const unit = response.heading.unit;
  const percent = `${significant(100 * regression.confidence, 4)} %`;
  const others = columns.slice(1).map(({ heading }) => inSentence(heading));
  const alike = others.length === 0 ? "" : `, with ${listOf(others)} alike (numbers at their mean, categories with equal weight)`;
  const sentences: Sentence[] = [
    {
      kind: "summary",
      text: `${response.heading.text} among the ${comparison.means.length} levels of ${inSentence(columns[0].heading)}${alike}: ${check.used.length} of ${counted(log.rows.length, "row")} used.`,
    },
    ...comparison.pairs.map((pair) => pairSentence(pair, unit, percent, margin)),
    ...regression.unestimated.map(({ reason }): Sentence => ({ kind: "missing", text: `Not estimated: ${reason}.` })),
  ];
  if (regression.residual.sd !== null) {
    sentences.push({
      kind: "caution",
      text: `The ${percent} intervals and p-values of the pairs hold for all ${counted(comparison.pairs.length, "pair")} at once (studentised range after Tukey, 1953, and Kramer, 1956); the intervals of the means hold one at a time.`,
    });
    if (margin === undefined) sentences.push({ kind: "caution", text: "A difference that is not seen is not shown to be none: name a margin to ask whether levels are alike within it." });
    sentences.push({ kind: "caution", text: scatterSentence(analysis) });
  }
  return sentences;
}

function pairSentence({ a, b, difference, standardError, low, high, p, equivalent }: Pairing, unit: string, percent: string, margin: number | undefined): Sentence {
  const pair = `"${a}" and "${b}"`;
  if (difference === null) return { kind: "missing", text: `${pair} cannot be compared from these rows.` };
  const amount = (value: number, decimals: number) => withUnit(fixed(Math.abs(value), decimals), unit);
  const more = difference < 0 ? "less" : "more";
  if (standardError === null || low === null || high === null || p === null) {
    return { kind: "open", text: `"${a}" has ${withUnit(significant(Math.abs(difference), 4), unit)} ${more} than "${b}" in these rows, with no spread to judge it by.` };
  }
  const decimals = decimalsFor(standardError);
  const within = margin === undefined ? "" : equivalent ? `; they are the same to ${withUnit(significant(margin, 4), unit)}` : `; that they are the same to ${withUnit(significant(margin, 4), unit)} is not shown`;
  if (low > 0 || high < 0) {
    const [near, far] = low > 0 ? [low, high] : [-high, -low];
    return { kind: "finding", text: `"${a}" has ${amount(difference, decimals)} ${more} than "${b}", ${percent} interval ${fixed(near, decimals)} to ${fixed(far, decimals)} (${pText(p)})${within}.` };
  }
  return { kind: "open", text: `${pair} cannot be told apart: "${a}" may have from ${amount(low, decimals)} less to ${amount(high, decimals)} more than "${b}" (${pText(p)})${within}.` };
}
