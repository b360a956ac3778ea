/**
 * The answer in sentences: numbers, units and intervals, never surer than the interval, never a cause.
 */
import { say, joinTexts, listOf, capital, type Said } from "../language/said";
import { middleSettings } from "../../statistics/fit/adjustedMeans";
import { widenings } from "../../statistics/checks/collinearity";
import type { CategoryDriver, NumberDriver, Setting } from "../../statistics/fit/designMatrix";
import type { Estimate } from "../../statistics/fit/estimates";
import { curveTest, termTests } from "../../statistics/fit/wholeTerms";
import type { Analysis } from "./analysis";
import { headingsOf } from "./choice";
import { noticedSentence, noticedSession, sessionColumn, structureSentences } from "./sessions";
import { asksOfObstacle, obstacleSentence } from "../log/attemptLog";
import { parseHeading } from "../log/header";
import {
  chanceText,
  confidenceText,
  counted,
  decimalsShowing,
  fixed,
  inSentence,
  measured,
  moreOf,
  pText,
  roundStep,
  severalOf,
  significant,
  withUnit,
} from "../language/wording";
import { columnSummary, neverChanges } from "../../statistics/numeric/columnSummary";
import { memo } from "../../statistics/numeric/memo";
import { there } from "../../there";

export interface Sentence {
  readonly kind: "summary" | "finding" | "open" | "missing" | "caution";
  readonly text: Said;
}

/** All sentences in reading order. */
export function answerSentences(analysis: Analysis): readonly Sentence[] {
  return said(analysis, [], () => sentencesOf(analysis));
}

const said = memo<readonly Sentence[]>(1);

function sentencesOf(analysis: Analysis): Sentence[] {
  const { regression, log, response } = analysis;
  return [
    ...(asksOfObstacle(log, response) ? [{ kind: "caution" as const, text: obstacleSentence(response) }] : []),
    ...summary(analysis),
    // Of a response that is the same in every row the summary says all there is to say.
    ...(regression.residual.sd !== null && regression.rSquared === null ? [] : effects(analysis)),
    ...[...new Set(regression.unestimated.map(({ reason }) => reason))].map((reason): Sentence => ({
      kind: "missing",
      text: `Not estimated: ${reason}.`,
    })),
    ...cautions(analysis),
  ];
}

function effects(analysis: Analysis): Sentence[] {
  const { drivers, joint = [] } = analysis.regression.question;
  const wide = widenings(analysis.regression);
  return [
    ...drivers.flatMap((driver, index) => {
      const widening = wide[index];
      if (widening !== undefined && widening > TOGETHER) return [togetherSentence(analysis, index, widening)];
      return driver.kind === "number"
        ? numberSentences(analysis, driver, index)
        : categorySentences(analysis, driver, index);
    }),
    ...joint.map(([a, b]) => jointSentence(analysis, a, b)),
  ];
}

/**
 * From this widening on no rows show what a usual step of one driver does with the others alike: the step is about a
 * standard deviation of the rows, which is then more than three of what is left of the driver (a variance inflation of
 * 10; common practice, no source).
 */
const TOGETHER = Math.sqrt(10);

/** Of a driver that goes along with the others: no comparison that the rows never show, and what that costs. */
function togetherSentence({ columns, regression }: Analysis, index: number, widening: number): Sentence {
  const name = inSentence(there(columns[index], "a column").heading);
  const others = listOf(columns.filter((_, other) => other !== index).map(({ heading }) => inSentence(heading)));
  const { p, df2 } = termTests(regression)[index]?.test ?? { p: null, df2: null };
  const told = p !== null && p < 1 - regression.confidence;
  const standing =
    p === null
      ? ""
      : told
        ? say` Its coefficient is told from 0 (${pText(p, df2)}) only as far as the fit holds where no shots are.`
        : say` The rows do not tell one from the other (${pText(p, df2)}).`;
  return {
    kind: "open",
    text: say`${capital(name)} and ${others} go together in these rows: ${chanceText(1 - 1 / widening ** 2)} of the variation of ${name} goes with ${others}, so nothing shows what ${name} does with ${columns.length > 2 ? "the others" : others} alike.${standing} Had they varied apart, the interval of its coefficient would be 1/${significant(widening, 2)} as wide: shoot the combinations that are missing.`,
  };
}

function summary({ log, choice, check, response, regression, columns }: Analysis): Sentence[] {
  const unit = response.heading.unit;
  const { sd, df } = regression.residual;
  const rows = `${check.used.length} of ${counted(log.rows.length, "row")} used`;
  const hidden =
    log.hiddenRows > 0 ? `; ${counted(log.hiddenRows, "hidden or filtered row")} counted like the others` : "";
  const out = check.leftOut.length > 0 ? `, ${check.leftOut.length} left out (listed under the rows)` : "";
  const sentences: Sentence[] = [{ kind: "summary", text: `${response.heading.text}: ${rows}${out}${hidden}.` }];
  const names = listOf(columns.map(({ heading }) => inSentence(heading)));
  if (sd === null) {
    sentences.push({
      kind: "missing",
      text: `No spread can be judged: ${counted(check.used.length, "row")} for ${counted(regression.fit.kept.length, "coefficient")}. More rows are needed for any interval.`,
    });
  } else if (regression.rSquared === null) {
    sentences.push({
      kind: "missing",
      text: `${response.heading.name} is the same in every row, so nothing can be said of what drives it.`,
    });
  } else if (columns.length > 0) {
    const share = say`${capital(names)} ${columns.length > 1 ? "together account" : "accounts"} for ${regression.rSquared > 0 ? say`${significant(100 * regression.rSquared, 3)} %` : "none"} of the variation of ${inSentence(response.heading)} ${choice.constant ? "in these rows" : "about 0 in these rows (without a constant it is not measured about the mean, and is no share of what differs between rows)"}`;
    sentences.push({
      kind: "summary",
      text: say`${share}; ${choice.weight === undefined ? "a single shot" : "a shot of weight 1"} scatters ${withUnit(measured(sd, 2), unit)} (standard deviation${regression.spread ? " within one group" : say`, ${df} degrees of freedom`}) about the fit.`,
    });
  }
  if (choice.weight !== undefined) {
    sentences.push({
      kind: "summary",
      text: `Rows count by ${choice.weight}: a row of weight 2 is taken to scatter with half the variance of a row of weight 1, such as the mean of two shots beside a single one.`,
    });
  }
  return sentences;
}

/** "With speed, spin and cloth alike, " or nothing when there is one driver. */
function othersAlike({ columns }: Analysis, ...except: number[]): string {
  const others = columns.filter((_, index) => !except.includes(index)).map(({ heading }) => inSentence(heading));
  return others.length === 0 ? "" : `With ${listOf(others)} alike, `;
}

/** A step for "… more humidity": ten points of %, otherwise a round number about one standard deviation of the rows. */
export function usualStep(driver: NumberDriver, unit: string): number {
  const { low, high, squares } = columnSummary(driver.values);
  if (unit === "%" && high - low >= 10) return 10;
  return roundStep(Math.sqrt(squares / Math.max(1, driver.values.length - 1)));
}

function numberSentences(analysis: Analysis, driver: NumberDriver, index: number): Sentence[] {
  const { regression, columns } = analysis;
  const heading = there(columns[index], "a column").heading;
  if (neverChanges(driver.values)) return [];
  if (driver.degree > 1) return curveSentences(analysis, driver, index);
  const step = usualStep(driver, heading.unit);
  const middle = middleSettings(regression);
  const at = middle[index] as number;
  const effect = regression.difference(replace(middle, index, at), replace(middle, index, at + step));
  if (!effect) return [];
  const jointly = (regression.question.joint ?? []).some((pair) => pair.includes(index)) ? " on average" : "";
  const verb = heading.unit === "%" && step !== 1 ? "go" : "goes";
  return [
    effectSentence(
      analysis,
      capital(say`${othersAlike(analysis, index)}${moreOf(step, heading)}`),
      effect,
      `${verb}${jointly}`,
    ),
  ];
}

/** "… go with 0.08 in less bend, 95 % interval 0.03 to 0.13", or that the rows do not tell which way. */
function effectSentence(analysis: Analysis, subject: Said, effect: Estimate, verb: string): Sentence {
  const { text, told } = effectText(analysis, effect);
  if (unheld(analysis, effect)) return { kind: "missing", text: say`${subject}: ${text}.` };
  return told
    ? { kind: "finding", text: say`${subject} ${verb} with ${text}.` }
    : {
        kind: "open",
        text: say`${subject}: the rows do not tell whether ${inSentence(analysis.response.heading)} changes; ${text}.`,
      };
}

/** Whether rows that do scatter give no interval, because too few groups of them bear on it. */
function unheld({ regression }: Analysis, { standardError }: Estimate): boolean {
  return standardError === null && regression.residual.sd !== null;
}

/** "2 sessions" are too few, in the words of the column that groups the rows. */
function tooFewGroups({ choice: { scatter } }: Analysis): string {
  return scatter && scatter.as !== "robust"
    ? `too few ${severalOf(inSentence(parseHeading(scatter.heading)))}`
    : "too few rows";
}

/** An effect in words, and whether they name a direction. */
export function effectText(analysis: Analysis, estimate: Estimate): { text: Said; told: boolean } {
  const { response, regression } = analysis;
  if (unheld(analysis, estimate)) {
    const { value } = estimate;
    return {
      text: say`${withUnit(significant(Math.abs(value), 4), response.heading.unit)} ${value < 0 ? "less" : "more"} ${inSentence(response.heading)} in these rows, without an interval (${tooFewGroups(analysis)} bear on it)`,
      told: true,
    };
  }
  return judgedText({ response, regression }, estimate);
}

function judgedText(
  { response, regression }: Pick<Analysis, "response" | "regression">,
  { value, standardError, low, high }: Estimate,
): { text: Said; told: boolean } {
  const unit = response.heading.unit;
  const name = inSentence(response.heading);
  const percent = say`${confidenceText(regression.confidence)} %`;
  const amount = (x: number, decimals: number) => withUnit(fixed(Math.abs(x), decimals), unit);
  const direction = (x: number) => (x < 0 ? "less" : "more");
  if (standardError === null || low === null || high === null) {
    return {
      text: say`${withUnit(significant(Math.abs(value), 4), unit)} ${direction(value)} ${name} in these rows, with no spread to judge it by`,
      told: true,
    };
  }
  if (standardError === 0 && value === 0) return { text: `no change of ${name}, exactly in these rows`, told: true };
  if (standardError < 1e-9 * Math.abs(value))
    return {
      text: say`${withUnit(significant(Math.abs(value), 6), unit)} ${direction(value)} ${name}, exactly in these rows`,
      told: true,
    };
  const decimals = decimalsShowing(standardError, low, high);
  if (low > 0 || high < 0) {
    const [near, far] = low > 0 ? [low, high] : [-high, -low];
    return {
      text: say`${amount(value, decimals)} ${direction(value)} ${name}, ${percent} interval ${fixed(near, decimals)} to ${fixed(far, decimals)}`,
      told: true,
    };
  }
  return {
    text: say`the ${percent} interval runs from ${amount(low, decimals)} less to ${amount(high, decimals)} more`,
    told: false,
  };
}

function curveSentences(analysis: Analysis, driver: NumberDriver, index: number): Sentence[] {
  const { regression, columns, response } = analysis;
  const heading = there(columns[index], "a column").heading;
  const middle = middleSettings(regression);
  const sorted = Float64Array.from(driver.values as ArrayLike<number>).sort();
  const quantile = (share: number) => there(sorted[Math.round(share * (sorted.length - 1))], "a value");
  const [low, half, high] = [quantile(0.1), quantile(0.5), quantile(0.9)];
  const steps = [
    { from: low, to: half },
    { from: half, to: high },
  ];
  const parts = steps.flatMap(({ from, to }) => {
    const effect =
      from < to ? regression.difference(replace(middle, index, from), replace(middle, index, to)) : undefined;
    if (!effect) return [];
    const { text, told } = effectText(analysis, effect);
    return [
      say`going from ${significant(from, 3)} to ${withUnit(significant(to, 3), heading.unit)} ${told ? say`goes with ${text}` : say`tells no direction (${text})`}`,
    ];
  });
  const test = curveTest(regression, index);
  const sentences: Sentence[] = [];
  if (parts.length > 0)
    sentences.push({
      kind: "finding",
      text: capital(say`${othersAlike(analysis, index)}along the curve of ${inSentence(heading)}, ${listOf(parts)}.`),
    });
  if (test.p !== null) {
    sentences.push(
      test.p < 1 - regression.confidence
        ? {
            kind: "finding",
            text: say`A straight line does not do for ${inSentence(heading)} (${pText(test.p, test.df2)}): how much ${inSentence(response.heading)} changes depends on where one starts.`,
          }
        : {
            kind: "open",
            text: say`These rows do not show that ${inSentence(heading)} curves (${pText(test.p, test.df2)}); a straight line would fit them about as well.`,
          },
    );
  }
  return sentences;
}

function categorySentences(analysis: Analysis, driver: CategoryDriver, index: number): Sentence[] {
  const { regression, columns } = analysis;
  const name = inSentence(there(columns[index], "a column").heading);
  const middle = middleSettings(regression);
  const sentences = driver.levels.slice(1).flatMap((level, place): Sentence[] => {
    const effect = regression.difference(replace(middle, index, 0), replace(middle, index, place + 1));
    if (!effect) return [];
    const { text, told } = effectText(analysis, effect);
    const subject = capital(`${othersAlike(analysis, index)}${name} "${level}"`);
    const reference = `${name} "${driver.levels[0]}"`;
    if (unheld(analysis, effect))
      return [{ kind: "missing", text: say`${subject} compared with ${reference}: ${text}.` }];
    return [
      told
        ? { kind: "finding", text: say`${subject} goes with ${text}, compared with ${reference}.` }
        : {
            kind: "open",
            text: say`${subject} cannot be told from ${reference}; ${text} ${inSentence(analysis.response.heading)}.`,
          },
    ];
  });
  if (driver.levels.length > 2 && sentences.length > 0) {
    const test = there(termTests(regression)[index], "a driver's test").test;
    if (test.p !== null) {
      sentences.push(
        test.p < 1 - regression.confidence
          ? {
              kind: "finding",
              text: say`Taken together the ${driver.levels.length} levels of ${name} differ by more than the scatter explains (${pText(test.p, test.df2)}).`,
            }
          : {
              kind: "open",
              text: say`Taken together, no difference between the ${driver.levels.length} levels of ${name} can be told from the scatter (${pText(test.p, test.df2)}).`,
            },
      );
    }
  }
  return sentences;
}

function jointSentence(analysis: Analysis, a: number, b: number): Sentence {
  const { regression, columns, response } = analysis;
  const names = [a, b].map((index) => inSentence(there(columns[index], "a column").heading)) as [string, string];
  const test = termTests(regression).find(
    (one) => one.drivers.length === 2 && one.drivers[0] === a && one.drivers[1] === b,
  )?.test;
  if (!test || test.p === null)
    return { kind: "missing", text: `Whether ${listOf(names)} act together cannot be said from these rows.` };
  if (test.p >= 1 - regression.confidence) {
    return {
      kind: "open",
      text: say`These rows do not show that the effect of ${names[0]} depends on ${names[1]} (${pText(test.p, test.df2)}).`,
    };
  }
  const [drivers, middle] = [regression.question.drivers, middleSettings(regression)];
  const [number, other] = there(drivers[a], "a driver").kind === "number" ? [a, b] : [b, a];
  const driver = there(drivers[number], "a driver");
  const partner = there(drivers[other], "a driver");
  const lead = say`The effect of ${inSentence(there(columns[number], "a column").heading)} on ${inSentence(response.heading)} depends on ${inSentence(there(columns[other], "a column").heading)} (${pText(test.p, test.df2)})`;
  if (driver.kind !== "number") return { kind: "finding", text: say`${lead}; see the coefficients.` };
  const step = usualStep(driver, there(columns[number], "a column").heading.unit);
  const places: { said: Said; setting: Setting }[] =
    partner.kind === "category"
      ? partner.levels.map((level, index) => ({ said: `with "${level}"`, setting: index }))
      : ["low", "high"].map((end) => {
          const sorted = Float64Array.from(partner.values as ArrayLike<number>).sort();
          const setting = there(sorted[Math.round((end === "low" ? 0.1 : 0.9) * (sorted.length - 1))], "a value");
          return {
            said: say`at ${withUnit(significant(setting, 4), there(columns[other], "a column").heading.unit)}`,
            setting,
          };
        });
  const parts = places.flatMap(({ said, setting }) => {
    const base = replace(middle, other, setting);
    const at = middle[number] as number;
    const effect = regression.difference(replace(base, number, at), replace(base, number, at + step));
    return effect ? [say`${said}: ${effectText(analysis, effect).text}`] : [];
  });
  return {
    kind: "finding",
    text: say`${lead}. ${capital(moreOf(step, there(columns[number], "a column").heading))}: ${joinTexts(parts, "; ")}.`,
  };
}

function cautions(analysis: Analysis): Sentence[] {
  const { regression, columns, response } = analysis;
  if (columns.length === 0 || regression.residual.sd === null) return [];
  return [
    {
      kind: "caution",
      text: `This says what goes together in these rows, not what causes ${inSentence(response.heading)}: a driver that was not set at random may stand for something else that changed with it.`,
    },
    { kind: "caution", text: scatterSentence(analysis) },
    ...groupingSentences(analysis),
  ];
}

/** What the intervals assume of the rows, and how they were made. */
export function scatterSentence({ choice, regression }: Pick<Analysis, "choice" | "regression">): Said {
  const { scatter } = choice;
  if (!scatter)
    return "The intervals hold if every row is a shot on its own. Shots of one session share their conditions, which makes intervals look narrower than they are.";
  if (scatter.as === "robust") {
    return "The intervals hold also where some rows scatter more than others (corrected squared residuals after MacKinnon and White, 1985), if every row is a shot on its own.";
  }
  const { errors } = regression.question;
  const by = errors && errors.kind !== "robust" ? errors.by : undefined;
  const name = inSentence(parseHeading(by?.name ?? scatter.heading));
  const groups = by?.levels.length ?? 0;
  if (scatter.as === "cluster") {
    return `The intervals allow for any likeness among the rows of one ${name} (${groups} groups; errors by group with small-sample correction after Bell and McCaffrey, 2002, degrees of freedom after Satterthwaite); the degrees of freedom count groups more than rows.`;
  }
  const how = `(restricted maximum likelihood after Patterson and Thompson, 1971, degrees of freedom after Satterthwaite, 1946)`;
  const shifted = `The intervals take each ${name} as shifted by a random amount ${how}`;
  if (!regression.spread)
    return `${shifted}; how ${severalOf(name)} differ by themselves cannot be seen, since what is asked uses up all ${groups} of them. One ${name} more would give a first interval, a wide one (on 1 degree of freedom); two or more at each setting give one to go by.`;
  const { between, within } = regression.spread;
  const unit = parseHeading(choice.response).unit;
  const ends = regression.spreadIntervals();
  const percent = say`${confidenceText(regression.confidence)} %`;
  const interval = (part: "between" | "within") =>
    ends ? say` (${percent} interval ${measured(ends[part].low, 2)} to ${measured(ends[part].high, 2)})` : "";
  const found =
    between === 0
      ? say`these rows show no more difference between the ${groups} groups than single shots make, so the shift is taken as 0${ends && ends.between.high > 0 ? say`, though it may be up to ${withUnit(measured(ends.between.high, 2), unit)}` : ""}`
      : say`from one ${name} to the next the level shifts by ${withUnit(measured(between, 2), unit)}${interval("between")}, a single shot within it scatters ${withUnit(measured(within, 2), unit)}${interval("within")} (standard deviations, ${groups} groups)`;
  return say`${shifted}: ${found}.`;
}

/** Which structure was taken where groups were named, and a column that nobody named but that looks like a session. */
export function groupingSentences({ log, choice, columns, response, check }: Omit<Analysis, "regression">): Sentence[] {
  const asked = [response, ...columns];
  const named = headingsOf(choice.scatter);
  if (named.length > 0)
    return structureSentences(log, sessionColumn(log, named), asked, check.used).map((text) => ({
      kind: "caution",
      text,
    }));
  const noticed = choice.sessions ? undefined : noticedSession(log, columns, [response], check.used);
  return noticed ? [{ kind: "caution", text: noticedSentence(noticed) }] : [];
}

function replace(settings: readonly Setting[], index: number, value: Setting): Setting[] {
  return settings.map((setting, j) => (j === index ? value : setting));
}
