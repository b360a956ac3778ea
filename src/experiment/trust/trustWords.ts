/**
 * Whether an answer can be trusted: every check with what was found, what that means and what to do.
 */
import { say, listOf, capital, type Said } from "../language/said";
import { collinearity, type Together } from "../../statistics/checks/collinearity";
import { studentTwoSided } from "../../statistics/distributions/distributions";
import { influence, type RowInfluence } from "../../statistics/checks/influence";
import { lackOfFit } from "../../statistics/checks/lackOfFit";
import { leaveOneOut, type LeftOutError } from "../../statistics/checks/residualChecks";
import type { Grouping } from "../../statistics/errors/errorModel";
import type { Analysis } from "../question/analysis";
import type { Sentence } from "../question/answer";
import { consistencyOf, consistencySentence } from "./consistency";
import { orderAnswer } from "./order";
import { noticedOrder } from "./orderWithin";
import { withinSessions } from "./together";
import { spreadOf, trustSentences, type TrustChecks } from "./trustChecks";
import { counted, inSentence, measured, pText, severalOf, significant, withUnit } from "../language/wording";
import { parseHeading } from "../log/header";
import { there } from "../../there";

export interface TrustRemark {
  readonly title: string;
  /**
   * "good": nothing speaks against the fit; "look": something found; "told": neither good nor bad; "untold": the rows
   * cannot say.
   */
  readonly standing: "good" | "look" | "told" | "untold";
  /** What was found. */
  readonly found: readonly Said[];
  /** What the check tells and what it does not. */
  readonly means: Said;
  /** What to do about it; only where something was found. */
  readonly mend?: string;
}

export interface TrustAnswer {
  readonly remarks: readonly TrustRemark[];
  /** The rows that pull hardest, the first the hardest. */
  readonly hardest: readonly RowInfluence[];
}

const HARDEST = 8;
const NO_CHECKS: TrustChecks = { unequalSpread: undefined, consistency: [], lackOfFit: undefined, leftOut: undefined };
/** A driver whose interval is so many times as wide as it could be is pointed out. */
const WIDE = 2;
/** Cook's distance from which a row moves the whole answer by about a confidence region's width. */
const FAR = 1;

/** What the checks come to, in one line. */
export function trustLine(remarks: readonly TrustRemark[]): string {
  const titles = (wanted: TrustRemark["standing"]) =>
    remarks.filter(({ standing }) => standing === wanted).map(({ title }) => `"${title}"`);
  const look = titles("look");
  const untold = titles("untold");
  const against =
    look.length === 0
      ? `None of ${counted(remarks.length, "check")} speaks against the answer, which proves nothing.`
      : `${look.length} of ${counted(remarks.length, "check")} ${look.length === 1 ? "speaks" : "speak"} against it: ${listOf(look)}.`;
  return `${against}${untold.length > 0 ? ` The rows cannot tell of ${listOf(untold)}.` : ""}`;
}

/**
 * All checks of an analysis, on its plain fit, in steps.
 * @param sessions groups to predict as a whole, where the question does not name any
 * @param order heading of what says the order of the shots: noticed where it is left out, null for not asked
 * @returns a task that yields the share done
 */
export function* trustAnswer(
  analysis: Analysis,
  sessions?: Grouping,
  order?: string | null,
): Generator<number, TrustAnswer> {
  const { regression } = analysis;
  const { errors } = regression.question;
  const groups = errors && errors.kind !== "robust" ? errors.by : sessions;
  const left = groups && { by: groups, found: leaveOneOut(regression, groups) };
  const remarks = [leftOutRemark(analysis, leaveOneOut(regression), left)];
  yield 0.2;
  remarks.push(yield* scatterRemark(analysis));
  yield 0.4;
  remarks.push(lackRemark(analysis));
  yield 0.45;
  const asked = order === undefined ? noticedOrder(analysis)?.heading.text : order;
  if (typeof asked === "string") remarks.push(orderRemark(asked, orderAnswer(analysis, asked).sentences));
  yield 0.5;
  remarks.push(togetherRemark(analysis, yield* within(collinearity(regression), 0.5, 0.35)));
  const all = influence(regression);
  const hardest = [...all].sort((a, b) => b.distance - a.distance).slice(0, HARDEST);
  remarks.push(pullRemark(analysis, all, hardest));
  return { remarks, hardest };
}

/** Steps of a part of the work, told as a share of the whole. */
function* within<T>(steps: Generator<number, T>, from: number, share: number): Generator<number, T> {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
    yield from + share * value;
  }
}

/** Sentences of some checks alone. */
function said(analysis: Analysis, checks: Partial<TrustChecks>): readonly Sentence[] {
  return trustSentences(analysis, { ...NO_CHECKS, ...checks });
}

function* scatterRemark(analysis: Analysis): Generator<number, TrustRemark> {
  const { question, confidence } = analysis.regression;
  const spread = spreadOf(analysis);
  const byDriver: Sentence[] = [];
  for (let driver = 0; driver < question.drivers.length; driver++) {
    yield 0.2 + (0.2 * driver) / question.drivers.length;
    const one = consistencyOf(analysis, driver);
    if (one) byDriver.push(consistencySentence(one, analysis));
  }
  const sentences = [...said(analysis, { unequalSpread: spread }), ...byDriver];
  const uneven = (spread !== undefined && spread.p < 1 - confidence) || byDriver.some(({ kind }) => kind === "finding");
  return {
    title: "Do all shots scatter alike?",
    standing: uneven ? "look" : spread || byDriver.some(({ kind }) => kind === "open") ? "good" : "untold",
    found:
      sentences.length > 0 ? sentences.map(({ text }) => text) : ["There is no driver or no scatter to judge this by."],
    means:
      "Plain intervals share one scatter among all rows. Where it differs they are too narrow for some settings and too wide for others; the estimates stay sound. For consistency the rows are cut into parts of about equal counts along each number. Each driver is judged by itself, so among many drivers one may seem to matter by chance, and a curve that the fit misses looks like scatter. A check that finds nothing does not show that the scatter is alike.",
    ...(uneven && {
      mend: analysis.choice.scatter
        ? "The intervals that are shown do not rest on equal scatter alone; compare them under What each choice changed."
        : "Under Choose a question let some shots scatter more than others, or give noisier rows less weight.",
    }),
  };
}

function lackRemark(analysis: Analysis): TrustRemark {
  const { question, confidence } = analysis.regression;
  const lack = lackOfFit(analysis.regression, withinSessions(analysis));
  const sentences = said(analysis, { lackOfFit: lack });
  const misses = lack?.p !== null && lack?.p !== undefined && lack.p < 1 - confidence;
  const untold = question.weights
    ? "With weights this is not judged."
    : "No shots were repeated at the same settings often enough, so a poor fit cannot be told from scatter.";
  return {
    title: "Does the fit miss something?",
    standing: misses ? "look" : sentences.length > 0 ? "good" : "untold",
    found: sentences.length > 0 ? sentences.map(({ text }) => text) : [untold],
    means:
      "Shots repeated at exactly the same settings show the scatter by itself; what the fit leaves beyond it, a line cannot explain. It sees only what the drivers hold, not a driver that is missing.",
    ...(misses && { mend: "Let a number curve, or ask whether two drivers act together, and see whether this goes." }),
    ...(sentences.length === 0 && !question.weights && { mend: "Plan a few settings to be shot several times." }),
  };
}

/** What the order of the shots does to an answer. */
export function orderRemark(heading: string, sentences: readonly Sentence[]): TrustRemark {
  const look = sentences.some(({ kind }) => kind === "caution" || kind === "finding");
  return {
    title: "Does the order of the shots matter?",
    standing: look ? "look" : sentences.some(({ kind }) => kind === "open") ? "good" : "untold",
    found: [`By ${heading}.`, ...sentences.map(({ text }) => text)],
    means:
      "Shots warm up, tables dry and players tire. A straight drift from the first shot of each session to its last is looked for, and whether a shot goes with the one before it. A rise and a fall that cancel are not seen, and few shots hide much.",
    ...(look && {
      mend: "Shoot settings in a drawn order, so that no driver goes along with the clock, and warm up before the first shot that counts.",
    }),
  };
}

function leftOutRemark(
  analysis: Analysis,
  single: LeftOutError | undefined,
  grouped: { by: Grouping; found: LeftOutError | undefined } | undefined,
): TrustRemark {
  const { regression, response, columns } = analysis;
  const { unit } = response.heading;
  const said = (what: string, found: LeftOutError) => {
    const error = withUnit(measured(found.error, 2), unit);
    if (found.share === null)
      return say`${what} is off by ${error} (root mean square over ${counted(regression.rows, "shot")}).`;
    return found.share > 0
      ? say`${what} is off by ${error} (root mean square over ${counted(regression.rows, "shot")}), which takes up ${significant(100 * found.share, 2)} % of the variation.`
      : say`${what} is off by ${error}, no better than the mean of the others.`;
  };
  const found: Said[] = [];
  let poor = false;
  if (single) {
    found.push(said("A shot predicted from all others", single));
    poor ||= columns.length > 0 && single.share !== null && single.share <= 0;
  }
  if (grouped) {
    const name = inSentence(parseHeading(grouped.by.name));
    if (grouped.found) {
      found.push(said(`A shot predicted from the other ${severalOf(name)} only`, grouped.found));
      poor ||= columns.length > 0 && grouped.found.share !== null && grouped.found.share <= 0;
    } else found.push(`No ${name} can be predicted from the others: one alone determines a coefficient.`);
  }
  if (!single) found.push("A row alone determines a coefficient, so it cannot be predicted from the others.");
  const fitted =
    regression.fit.residualSquares > 0 && regression.residual.df > 0
      ? Math.sqrt(regression.fit.residualSquares / regression.residual.df)
      : undefined;
  return {
    title: "How well does it predict?",
    standing: poor ? "look" : single ? "told" : "untold",
    found,
    means: say`How far off the fit would be for shots like these that it has not seen${fitted !== undefined && !regression.question.weights ? say`; the plain fit's own rows scatter ${withUnit(significant(fitted, 2), unit)}` : ""}. It says nothing of tables, cloths or settings that are not in the log.`,
    ...(poor && {
      mend: "These drivers do not help to predict. Look for one that is missing, or shoot over a wider range of each.",
    }),
  };
}

function togetherRemark({ columns }: Analysis, together: readonly Together[]): TrustRemark {
  const title = "Do drivers go along with each other?";
  const means =
    "Drivers that change together share what they explain, and each interval widens for it. The estimates are not wrong, but the rows cannot say much about one apart from the other.";
  if (together.length === 0)
    return { title, standing: "untold", found: ["There are no two drivers that vary."], means };
  const name = ({ driver }: Together) => inSentence(there(columns[driver], "a column").heading);
  const times = ({ widening }: Together) =>
    widening === Infinity
      ? "it cannot be told apart from them"
      : say`its interval is ${significant(widening, 2)} times as wide as it would be by itself`;
  const wide = together.filter(({ widening }) => widening >= WIDE);
  if (wide.length === 0) {
    const most = together.reduce((a, b) => (b.widening > a.widening ? b : a));
    return {
      title,
      standing: "good",
      found: [
        say`Hardly: most of all ${name(most)} does, ${significant(100 * most.share, 2)} % of whose variation goes with the others; ${times(most)}.`,
      ],
      means,
    };
  }
  return {
    title,
    means,
    standing: "look",
    found: wide.map(
      (one) =>
        say`${significant(100 * one.share, 3)} % of the variation of ${name(one)} goes with the other drivers; ${times(one)}.`,
    ),
    mend: "Shoot the combinations that are missing: change one while the other stays. Under What each choice changed see what happens when one of them is left out.",
  };
}

function pullRemark(
  { regression, sheetRows, response }: Analysis,
  all: readonly RowInfluence[],
  hardest: readonly RowInfluence[],
): TrustRemark {
  const title = "Does it hang on single rows?";
  const means =
    "Cook's distance says how far all fitted values move when the row is left out; from about 1 on a row moves the whole answer. A residual is far off when so large a one would hardly turn up among so many rows of normal scatter. Neither says that the row is wrong.";
  const row = (one: RowInfluence) => `row ${there(sheetRows[one.row], "a row of the sheet") + 1}`;
  const alone = all.filter(({ distance }) => distance === Infinity);
  const far = hardest.filter(({ distance }) => Number.isFinite(distance) && distance >= FAR);
  const threshold = 1 - regression.confidence;
  const judged = all.filter((one): one is RowInfluence & { studentised: number } => one.studentised !== null);
  const tail = ({ studentised }: { studentised: number }) =>
    Math.min(1, judged.length * studentTwoSided(studentised, regression.residual.df - 1));
  const off = [...judged]
    .sort((a, b) => Math.abs(b.studentised) - Math.abs(a.studentised))
    .slice(0, 3)
    .filter((one) => tail(one) < threshold);
  if (judged.length === 0 && alone.length === 0)
    return { title, standing: "untold", found: ["There is no scatter to judge rows by."], means };
  const found = [
    ...(alone.length > 0
      ? [
          `${listOf(alone.slice(0, 5).map(row))}${alone.length > 5 ? ` and ${alone.length - 5} more` : ""} alone ${alone.length > 1 ? "determine" : "determines"} a coefficient: nothing in the log can contradict ${alone.length > 1 ? "them" : "it"}.`,
        ]
      : []),
    ...far.map(
      (one) => say`Leaving out ${row(one)} moves the answer much (Cook's distance ${significant(one.distance, 2)}).`,
    ),
    ...off.map(
      (one) =>
        say`${inSentence(response.heading)} of ${row(one)} is ${significant(Math.abs(one.studentised), 2)} standard errors ${one.studentised > 0 ? "above" : "below"} the fit; the largest of ${judged.length} is so far off with ${pText(tail(one))} (${judged.length} rows allowed for).`,
    ),
  ].map(capital);
  if (found.length > 0)
    return {
      title,
      standing: "look",
      found,
      means,
      mend: "Look at those rows: a slip of the ruler or a wrong unit can be put right, a rare shot must stay. What each choice changed shows the answer without the hardest one.",
    };
  const first = there(hardest[0], "a row that pulls hardest");
  return {
    title,
    standing: "good",
    found: [
      say`No: the row that pulls hardest is ${row(first)}, with a Cook's distance of ${significant(first.distance, 2)}, and no residual is unusually large for ${judged.length} rows.`,
    ],
    means,
  };
}
