/**
 * Made or missed: the chance of a shot by drivers, and what the fit says in words.
 */
import { say, listOf, capital, type Said, joinTexts } from "../language/said";
import { logistic, type Chance, type Logistic } from "../../statistics/fit/logistic";
import type { Setting, CategoryDriver, NumberDriver } from "../../statistics/fit/designMatrix";
import { cellAddress } from "../../workbook/address";
import type { Grouping } from "../../statistics/errors/errorModel";
import { groupsAmong, orNoAnswer, prepare, refuseAsGrouping, type Analysis } from "./analysis";
import { groupingSentences, usualStep, type Sentence } from "./answer";
import { headingsOf, type Choice } from "./choice";
import { parseHeading } from "../log/header";
import { doubtfulOutcome, madeOf } from "../log/outcome";
import { levelOf } from "../log/reading";
import { separationSentence, separators } from "./separation";
import { sessionColumn } from "./sessions";
import type { TrialLog } from "../log/trialLog";
import { chanceText, confidenceText, counted, inSentence, moreOf, pText, severalOf } from "../language/wording";
import { there } from "../../there";

export interface MadeAnalysis extends Omit<Analysis, "regression"> {
  readonly logistic: Logistic;
}

/**
 * Fits the chance that a shot is made. The choice's response is the column that says made or missed.
 * Of what a choice says of the scatter "robust" has no meaning here: how single shots scatter follows from the chance.
 * @throws UnknownColumn, NoAnswer as analyse does
 */
export function analyseMade(log: TrialLog, choice: Choice): MadeAnalysis {
  const together = headingsOf(choice.scatter);
  const grouping = together.length > 0 ? sessionColumn(log, together) : undefined;
  const { response, columns, check, drivers, joint } = prepare(log, choice, "made");
  if (grouping) refuseAsGrouping(log, grouping, response, columns);
  const by = grouping && groupsAmong(grouping, check);
  const made = check.used.map((index) => madeOf(there(response.readings[index], "a reading")) ?? 0);
  const fit = orNoAnswer(check, () =>
    logistic({
      made,
      drivers,
      joint,
      constant: choice.constant,
      confidence: choice.confidence,
      ...(by && { by, shifted: choice.scatter?.as === "random" }),
    }),
  );
  return {
    log,
    choice,
    check,
    response,
    columns,
    sheetRows: check.used.map((index) => there(log.rows[index], "a row of the log")),
    logistic: fit,
  };
}

/** Settings in the middle of the rows: numbers at their mean, categories with equal weight. */
export function middle({ logistic: { question } }: MadeAnalysis): Setting[] {
  return question.drivers.map((driver) => {
    if (driver.kind === "category") return "even";
    let total = 0;
    for (let i = 0; i < driver.values.length; i++) total += there(driver.values[i], "a value");
    return total / driver.values.length;
  });
}

/** A chance with its interval; one that holds everything is none. */
export function chanceSaid({ chance, low, high }: Chance, confidence: number): Said {
  const ends =
    low === 0 && high === 1
      ? "without an interval"
      : say`${confidenceText(confidence)} % interval ${chanceText(low)} to ${chanceText(high)}`;
  return say`${chanceText(chance)}, ${ends}`;
}

/** All sentences in reading order. */
export function madeSentences(analysis: MadeAnalysis): Sentence[] {
  const { columns, logistic: fit } = analysis;
  return [
    shareSentence(analysis),
    ...doubtfulSentences(analysis),
    ...fit.question.drivers.flatMap((driver, index) =>
      driver.kind === "number" ? numberSentence(analysis, driver, index) : levelsSentence(analysis, driver, index),
    ),
    ...fit.unestimated.map(({ reason }): Sentence => ({ kind: "missing", text: `Not estimated: ${reason}.` })),
    ...(fit.method === "penalised likelihood"
      ? [caution(separationSentence(separators(fit.question.drivers, columns, fit.question.made)))]
      : []),
    caution(fit.question.by ? groupedSentence(fit, fit.question.by) : ownSentence(fit)),
    ...togetherSentences(analysis),
    ...groupingSentences(analysis),
    ...(columns.length > 0
      ? [caution("This says what goes together in these rows, not what causes a shot to be made.")]
      : []),
  ];
}

const caution = (text: Said): Sentence => ({ kind: "caution", text });

/** How many were made, and the chance in the middle of the drivers. */
function shareSentence(analysis: MadeAnalysis): Sentence {
  const { log, check, columns, logistic: fit } = analysis;
  const base = fit.chance(middle(analysis));
  const where = columns.length > 0 ? "In the middle of the drivers the" : "The";
  const chance = base ? say` ${where} chance is ${chanceSaid(base, fit.confidence)}.` : "";
  return {
    kind: "summary",
    text: say`${fit.made} of ${counted(fit.rows, "shot")} made (${check.used.length} of ${counted(log.rows.length, "row")} used).${chance}`,
  };
}

/** The chance at a setting of one driver, the others in their middle. */
function chanceAt(analysis: MadeAnalysis, index: number, setting: Setting): Chance | undefined {
  return analysis.logistic.chance(middle(analysis).map((other, j) => (j === index ? setting : other)));
}

/** "With speed and cloth alike, " or nothing where there is one driver. */
function othersAlike({ columns }: MadeAnalysis, index: number): string {
  const others = columns.filter((_, j) => j !== index).map(({ heading }) => inSentence(heading));
  return others.length === 0 ? "" : `With ${listOf(others)} alike, `;
}

function numberSentence(analysis: MadeAnalysis, driver: NumberDriver, index: number): Sentence[] {
  const { columns, logistic: fit } = analysis;
  const { heading } = there(columns[index], "a column");
  const from = middle(analysis)[index] as number;
  const step = usualStep(driver, heading.unit);
  const [before, after] = [chanceAt(analysis, index, from), chanceAt(analysis, index, from + step)];
  if (!before || !after) return [];
  const alone = driver.degree === 1 && !(fit.question.joint ?? []).some((pair) => pair.includes(index));
  const term = fit.terms.find((one) => one.drivers.length === 1 && one.drivers[0] === index);
  const p = (alone ? term?.p : null) ?? null;
  const change = say`the chance from ${chanceText(before.chance)} to ${chanceText(after.chance)}`;
  const tested = p === null ? "" : say` (${pText(p)})`;
  const lead = say`${othersAlike(analysis, index)}${moreOf(step, heading)}`;
  return [
    p !== null && p >= 1 - fit.confidence
      ? {
          kind: "open",
          text: capital(
            say`${lead}: the rows do not tell whether the chance changes${tested}; the best guess moves ${change}.`,
          ),
        }
      : { kind: "finding", text: capital(say`${lead} from the middle goes with a move of ${change}${tested}.`) },
  ];
}

function levelsSentence(analysis: MadeAnalysis, driver: CategoryDriver, index: number): Sentence[] {
  const { columns, logistic: fit } = analysis;
  const name = inSentence(there(columns[index], "a column").heading);
  const parts = driver.levels.flatMap((level, place) => {
    const found = chanceAt(analysis, index, place);
    return found ? [say`"${level}" ${chanceSaid(found, fit.confidence)}`] : [];
  });
  const lead = othersAlike(analysis, index);
  return parts.length === 0
    ? []
    : [{ kind: "finding", text: capital(say`${lead}the chance by ${name}: ${joinTexts(parts, "; ")}.`) }];
}

/** How the intervals were made where every row is a shot on its own. */
const ownSentence = ({ method }: Logistic): string =>
  method === "penalised likelihood"
    ? "The intervals and p-values come from the profile of the penalised likelihood (after Heinze and Schemper, 2002), and hold if every row is a shot on its own."
    : "The fit is a logistic regression by likelihood; the intervals (after Wald, 1943) hold for many shots, each on its own.";

/** Asks what a word means that was written for more than one outcome. */
function doubtfulSentences({ log, response }: MadeAnalysis): Sentence[] {
  const asked = new Map<string, { cells: string[]; can: readonly string[] }>();
  response.readings.forEach((reading, index) => {
    const can = doubtfulOutcome(reading);
    if (!can) return;
    const word = levelOf(reading).toLowerCase();
    const known = asked.get(word) ?? { cells: [], can };
    asked.set(word, known);
    known.cells.push(cellAddress(there(log.rows[index], "a row"), response.column));
  });
  return [...asked].map(([word, { cells, can }]) => ({
    kind: "caution",
    text: `Which is meant by "${word}" in ${cells.length === 1 ? `cell ${cells[0]}` : `${cells.length} cells, ${cells[0]} the first and ${cells[cells.length - 1]} the last`}: ${listOf(can, "or")}? Nothing is guessed, and these rows do not count until the cells say which.`,
  }));
}

function groupedSentence({ method, question }: Logistic, { name, levels }: Grouping): string {
  const group = inSentence(parseHeading(name));
  if (question.shifted)
    return `The intervals and p-values take each ${group} as shifted by a random amount in the logarithm of the odds (${levels.length} groups; one step from the likelihood after Breslow and Clayton, 1993); what stays the same all ${group} is judged on ${severalOf(group)}, not on shots. Rates are those of an average ${group}.`;
  return method === "penalised likelihood"
    ? `The intervals and p-values allow for any likeness among the shots of one ${group} (${levels.length} groups): each ${group} was left out in turn (jackknife, Student's t on ${levels.length - 1} degrees of freedom).`
    : `The intervals and p-values allow for any likeness among the shots of one ${group} (${levels.length} groups; errors by group with small-sample correction after Bell and McCaffrey, 2002, and Pustejovsky and Tipton, 2018); the degrees of freedom count groups more than shots.`;
}

/** Recommends errors by session where a column says which shots belong together and the question does not use it. */
function togetherSentences({ log, check, columns, response, logistic: fit }: MadeAnalysis): Sentence[] {
  if (fit.question.by) return [];
  const column = log.columns.find((one) => one.meaning === "session" && one !== response && !columns.includes(one));
  if (!column) return [];
  const groups = new Set(
    check.used
      .map((index) => levelOf(there(column.readings[index], "a reading")).trim())
      .filter((level) => level !== ""),
  ).size;
  if (groups < 2 || groups >= check.used.length) return [];
  const name = inSentence(column.heading);
  return [
    {
      kind: "caution",
      text: `The ${counted(check.used.length, "shot")} come from ${groups} ${severalOf(name)}. Shots of one ${name} may go together, which makes these intervals look narrower than they are: ask for errors by ${name}.`,
    },
  ];
}
