/**
 * Tables, cloths or other levels compared with each other, and what the comparison says in words.
 */
import { say, listOf, capital, type Said } from "../language/said";
import {
  compare,
  compareSlopes,
  type Comparison,
  type Pairing,
  type SlopeComparison,
} from "../../statistics/compare/comparison";
import { withoutIntervals } from "../../statistics/fit/withoutIntervals";
import { analyse, NoAnswer, type Analysis } from "./analysis";
import { groupingSentences, scatterSentence, usualStep, type Sentence } from "./answer";
import type { Choice } from "./choice";
import { columnNamed, UnknownColumn } from "./rowCheck";
import { sessionAware, type SessionAware } from "./sessionAware";
import type { LogColumn, TrialLog } from "../log/trialLog";
import {
  allOf,
  confidenceText,
  counted,
  decimalsShowing,
  fixed,
  inSentence,
  moreOf,
  pText,
  significant,
  withUnit,
} from "../language/wording";
import { there } from "../../there";

export interface ComparisonQuestion extends Omit<Choice, "joint" | "constant"> {
  /** Heading of the column whose levels are compared. */
  readonly among: string;
  /** Largest difference that counts as none, in the response's unit. */
  readonly margin?: number;
  /** Level that the others are compared with; all pairs where it is left out. */
  readonly reference?: string;
  /** Heading of a number: asks whether its effect differs between the levels. */
  readonly slope?: string;
}

export interface ComparisonAnswer {
  readonly analysis: Analysis;
  readonly among: string;
  readonly margin: number | undefined;
  /** Level that the others are compared with; absent for all pairs. */
  readonly reference?: string;
  readonly comparison: Comparison;
  /** How the effect of a number differs between the levels; absent where it was not asked. */
  readonly slope?: { readonly column: LogColumn; readonly found: SlopeComparison };
}

/**
 * Compares the levels, with the drivers alike.
 * @throws UnknownColumn when a column is not there or has two parts in the question
 * @throws NoAnswer when there is nothing to compare
 */
export function compareLevels(
  log: TrialLog,
  { among, margin, reference, slope, ...choice }: ComparisonQuestion,
): ComparisonAnswer {
  const column = columnNamed(log, among);
  if (choice.drivers.some(({ heading }) => columnNamed(log, heading) === column)) {
    throw new UnknownColumn(
      `"${column.heading.text}" is asked for both as a driver and as what is compared: take it out of one.`,
    );
  }
  const number = slope === undefined ? undefined : columnNamed(log, slope);
  if (number === column)
    throw new UnknownColumn(
      `"${column.heading.text}" is asked for both as the slope and as what is compared: take it out of one.`,
    );
  const asNumber = number && choice.drivers.find(({ heading }) => columnNamed(log, heading) === number);
  if (number && asNumber?.as === "category")
    throw new UnknownColumn(
      `"${number.heading.text}" is asked for as a category, which has no slope: take it as a number.`,
    );
  const others = choice.drivers.filter((driver) => driver !== asNumber);
  const drivers = [
    { heading: column.heading.text, as: "category", degree: 1 } as const,
    ...(number ? [{ heading: number.heading.text, as: "number", degree: 1 } as const] : []),
    ...others,
  ];
  const analysis = analyse(log, {
    ...choice,
    drivers,
    joint: number ? [[column.heading.text, number.heading.text]] : [],
    constant: true,
  });
  const driver = there(analysis.regression.question.drivers[0], "a driver");
  if (driver.kind === "category" && driver.levels.length < 2) {
    throw new NoAnswer(
      `"${column.heading.text}" has one level only in the rows used (${there(driver.levels[0], "a level")}): at least two are needed to compare.`,
      analysis.check,
    );
  }
  return answerFrom(analysis, margin, reference?.trim());
}

/**
 * The comparison of an analysis whose first driver is what is compared, and whose second, if they act jointly, is the
 * slope.
 */
function answerFrom(analysis: Analysis, margin: number | undefined, reference: string | undefined): ComparisonAnswer {
  const { regression, columns, check } = analysis;
  const driver = there(regression.question.drivers[0], "a driver");
  const levels = driver.kind === "category" ? driver.levels : [];
  const place = reference === undefined ? undefined : levels.indexOf(reference);
  if (place === -1)
    throw new NoAnswer(
      `No row used has the level "${reference ?? ""}" of "${there(columns[0], "a column").heading.text}"; there are: ${listOf(levels.map((level) => `"${level}"`))}.`,
      check,
    );
  return {
    analysis,
    among: there(columns[0], "a column").heading.text,
    margin,
    ...(reference !== undefined && { reference }),
    comparison: compare(regression, 0, margin, place),
    ...(analysis.choice.joint.length > 0 && {
      slope: { column: there(columns[1], "the number of the slope"), found: compareSlopes(regression, 0, 1, place) },
    }),
  };
}

/** What a session column says of a plain comparison. */
export interface SessionsInComparison {
  readonly aware: SessionAware;
  /** The comparison to read. */
  readonly better: ComparisonAnswer;
  /** The plain one as it may stand beside it: without intervals where the sessions allow none. */
  readonly plain: ComparisonAnswer;
}

/** @returns undefined when sessions give no reason to doubt the plain comparison */
export function sessionAwareComparison(answer: ComparisonAnswer): SessionsInComparison | undefined {
  const { analysis, margin, reference } = answer;
  const aware = sessionAware(analysis);
  if (!aware?.lead) return undefined;
  const better = answerFrom(aware.recommended, margin, reference);
  const bare = better.comparison.pairs.some(({ standardError }) => standardError === null);
  return {
    aware,
    better,
    plain: bare
      ? answerFrom({ ...analysis, regression: withoutIntervals(analysis.regression) }, margin, reference)
      : answer,
  };
}

/** The comparison in sentences, the pairs in their order. */
export function comparisonSentences(answer: ComparisonAnswer): Sentence[] {
  const { analysis, margin, comparison, reference } = answer;
  const { response, columns, regression, check, log } = analysis;
  const unit = response.heading.unit;
  const percent = say`${confidenceText(regression.confidence)} %`;
  const others = columns.slice(1).map(({ heading }) => inSentence(heading));
  const alike =
    others.length === 0 ? "" : `, with ${listOf(others)} alike (numbers at their mean, categories with equal weight)`;
  const sentences: Sentence[] = [
    {
      kind: "summary",
      text: `${response.heading.text} among the ${comparison.means.length} levels of ${inSentence(there(columns[0], "a column").heading)}${alike}: ${check.used.length} of ${counted(log.rows.length, "row")} used.`,
    },
    ...comparison.pairs.map((pair) => pairSentence(pair, unit, percent, margin)),
    ...slopeSentences(answer, percent),
    ...regression.unestimated.map(({ reason }): Sentence => ({ kind: "missing", text: `Not estimated: ${reason}.` })),
  ];
  if (regression.residual.sd !== null) {
    sentences.push({
      kind: "caution",
      text:
        reference === undefined
          ? say`The ${percent} intervals and p-values of the pairs hold for ${allOf(comparison.pairs.length, "pair")} (studentised range after Tukey, 1953, and Kramer, 1956); the intervals of the means hold one at a time.`
          : say`The ${percent} intervals and p-values hold for ${allOf(comparison.pairs.length, "comparison", ` with "${reference}"`)} (after Dunnett, 1955), and say nothing of the other levels among each other; the intervals of the means hold one at a time.`,
    });
    if (margin === undefined)
      sentences.push({
        kind: "caution",
        text: "A difference that is not seen is not shown to be none: name a margin to ask whether levels are alike within it.",
      });
    sentences.push({ kind: "caution", text: scatterSentence(analysis) }, ...groupingSentences(analysis));
  }
  return sentences;
}

/** Whether the number's effect differs between the levels, what it is at each, and which differ. */
function slopeSentences(answer: ComparisonAnswer, percent: Said): Sentence[] {
  const { analysis, slope, reference } = answer;
  if (!slope) return [];
  const { regression, response, columns } = analysis;
  const { heading } = slope.column;
  const driver = there(regression.question.drivers[1], "a driver");
  const step = driver.kind === "number" ? usualStep(driver, heading.unit) : 1;
  const names: SlopeNames = {
    number: inSentence(heading),
    category: inSentence(there(columns[0], "a column").heading),
    response: inSentence(response.heading),
    unit: response.heading.unit,
    percent,
    step,
    more: moreOf(step, heading),
  };
  const { slopes, pairs, test } = slope.found;
  return [
    dependsSentence(names, test, regression.confidence),
    ...slopes.map((one) => slopeSentence(names, one)),
    ...pairs.flatMap((pair) => slopePairSentence(names, pair)),
    ...(regression.residual.sd === null
      ? []
      : [
          {
            kind: "caution" as const,
            text: `The slopes' own intervals hold one at a time, those of their differences for all ${reference === undefined ? "pairs" : "comparisons"} at once. Means are compared at the mean of ${names.number}; where its effect differs between levels, so does how far apart they are.`,
          },
        ]),
  ];
}

/** What the sentences of slopes call things, and the step that they speak of. */
interface SlopeNames {
  readonly number: string;
  readonly category: string;
  readonly response: string;
  /** Of the response. */
  readonly unit: string;
  readonly percent: Said;
  readonly step: number;
  /** "2 mph more speed". */
  readonly more: Said;
}

type Slopes = NonNullable<ComparisonAnswer["slope"]>["found"];

function dependsSentence(
  { number, category, response }: SlopeNames,
  { p, df2 }: Slopes["test"],
  confidence: number,
): Sentence {
  if (p === null)
    return {
      kind: "missing",
      text: `Whether the effect of ${number} depends on ${category} cannot be said from these rows.`,
    };
  const depends = say`the effect of ${number} on ${response} depends on ${category} (${pText(p, df2)}).`;
  return p < 1 - confidence
    ? { kind: "finding", text: capital(depends) }
    : { kind: "open", text: say`These rows do not show that ${depends}` };
}

const way = (value: number) => (value < 0 ? "less" : "more");

function slopeSentence(
  { number, response, unit, percent, step, more }: SlopeNames,
  { level, estimate }: Slopes["slopes"][number],
): Sentence {
  if (!estimate)
    return { kind: "missing", text: `The effect of ${number} with "${level}" cannot be told from these rows.` };
  const lead = say`${capital(more)} with "${level}"`;
  const { standardError } = estimate;
  const value = step * estimate.value;
  if (standardError === null || estimate.low === null || estimate.high === null)
    return {
      kind: "open",
      text: say`${lead}: ${withUnit(significant(Math.abs(value), 4), unit)} ${way(value)} ${response} in these rows, with no spread to judge it by.`,
    };
  const [low, high] = [step * estimate.low, step * estimate.high];
  const size = sizeTo(decimalsShowing(step * standardError, low, high));
  const [near, far] = bySize(low, high);
  return low > 0 || high < 0
    ? {
        kind: "finding",
        text: say`${lead}: ${withUnit(size(value), unit)} ${way(value)} ${response}, ${percent} interval ${size(near)} to ${size(far)}.`,
      }
    : {
        kind: "open",
        text: say`${lead}: from ${withUnit(size(low), unit)} less to ${withUnit(size(high), unit)} more ${response} (${percent} interval).`,
      };
}

function slopePairSentence(
  { number, response, unit, percent, step, more }: SlopeNames,
  { a, b, difference, standardError, df, low: least, high: most, p }: Slopes["pairs"][number],
): Sentence[] {
  if (difference === null || standardError === null || least === null || most === null || p === null) return [];
  const [low, high] = [step * least, step * most];
  const size = sizeTo(decimalsShowing(step * standardError, low, high));
  const [near, far] = bySize(low, high);
  return [
    low > 0 || high < 0
      ? {
          kind: "finding",
          text: say`${capital(more)} changes ${response} by ${withUnit(size(step * difference), unit)} ${way(difference)} with "${a}" than with "${b}", ${percent} interval ${size(near)} to ${size(far)} (${pText(p, df)}).`,
        }
      : {
          kind: "open",
          text: say`The effect of ${number} cannot be told apart between "${a}" and "${b}": with "${a}", ${more} may change ${response} by from ${withUnit(size(low), unit)} less to ${withUnit(size(high), unit)} more than with "${b}" (${pText(p, df)}).`,
        },
  ];
}

/** Sizes without their sign, to so many decimals. */
const sizeTo = (decimals: number) => (value: number) => fixed(Math.abs(value), decimals);

/** Both ends, the nearer to 0 first. */
const bySize = (low: number, high: number) =>
  (Math.abs(low) < Math.abs(high) ? [low, high] : [high, low]) as [number, number];

function pairSentence(
  { a, b, difference, standardError, df, low, high, p, equivalent }: Pairing,
  unit: string,
  percent: Said,
  margin: number | undefined,
): Sentence {
  const pair = `"${a}" and "${b}"`;
  if (difference === null) return { kind: "missing", text: `${pair} cannot be compared from these rows.` };
  const amount = (value: number, decimals: number) => withUnit(fixed(Math.abs(value), decimals), unit);
  const more = difference < 0 ? "less" : "more";
  if (standardError === null || low === null || high === null || p === null) {
    return {
      kind: "open",
      text: say`"${a}" has ${withUnit(significant(Math.abs(difference), 4), unit)} ${more} than "${b}" in these rows, without an interval: too little is there to judge it by.`,
    };
  }
  const decimals = decimalsShowing(standardError, low, high);
  const within =
    margin === undefined
      ? ""
      : equivalent
        ? say`; they are the same to ${withUnit(significant(margin, 4), unit)}`
        : say`; that they are the same to ${withUnit(significant(margin, 4), unit)} is not shown`;
  if (low > 0 || high < 0) {
    const [near, far] = low > 0 ? [low, high] : [-high, -low];
    return {
      kind: "finding",
      text: say`"${a}" has ${amount(difference, decimals)} ${more} than "${b}", ${percent} interval ${fixed(near, decimals)} to ${fixed(far, decimals)} (${pText(p, df)})${within}.`,
    };
  }
  return {
    kind: "open",
    text: say`${pair} cannot be told apart: "${a}" may have from ${amount(low, decimals)} less to ${amount(high, decimals)} more than "${b}" (${pText(p, df)})${within}.`,
  };
}
