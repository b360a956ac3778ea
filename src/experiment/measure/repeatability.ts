/**
 * How repeatable the ruler reading is, where marks were measured more than once, and what that says in words.
 */
import { say, listOf, capital, joinTexts } from "../language/said";
import { repeatability, type Repeatability } from "../../statistics/measure/repeatability";
import type { Grouping } from "../../statistics/errors/errorModel";
import { regress } from "../../statistics/fit/regression";
import type { FTest } from "../../statistics/fit/estimates";
import { NoAnswer } from "../question/analysis";
import type { Sentence } from "../question/answer";
import { buildGrouping, numbersOf } from "../question/buildDriver";
import { checkRows, columnNamed, UnknownColumn, type RowCheck } from "../question/rowCheck";
import { sessionColumn } from "../question/sessions";
import type { LogColumn, TrialLog } from "../log/trialLog";
import {
  confidenceText,
  counted,
  decimalsShowing,
  fixed,
  inSentence,
  measured,
  pText,
  significant,
  withUnit,
} from "../language/wording";
import { there } from "../../there";

export interface RepeatabilityQuestion {
  /**
   * Headings of two or more columns of readings of the same marks, in one unit, in the order in which they were read.
   */
  readonly readings: readonly string[];
  /**
   * Headings of a column whose levels are set beside each other, such as who read, or of several whose distinct
   * combinations are; all rows together where it is left out.
   */
  readonly by?: readonly string[];
  readonly confidence: number;
}

export interface RepeatabilityAnswer {
  readonly log: TrialLog;
  readonly check: RowCheck;
  readonly columns: readonly LogColumn[];
  readonly confidence: number;
  readonly found: Repeatability;
  /**
   * By level, where asked; undefined for a level with fewer than two rows. The test is of the spread of each row's
   * readings.
   */
  readonly by?: {
    readonly column: LogColumn;
    readonly levels: readonly {
      readonly level: string;
      readonly rows: number;
      readonly found: Repeatability | undefined;
    }[];
    readonly test: FTest;
  };
}

/**
 * Rows with every reading count; a row measured once tells nothing of repeating and is left out with the reason.
 * @throws UnknownColumn when a column is not there, named twice, or of another unit
 * @throws NoAnswer when fewer than two rows have every reading
 */
export function analyseRepeatability(
  log: TrialLog,
  { readings, by, confidence }: RepeatabilityQuestion,
): RepeatabilityAnswer {
  const columns = readings.map((heading) => columnNamed(log, heading));
  const [first, ...others] = columns;
  if (!first || others.length === 0)
    throw new UnknownColumn("one column of readings is named: name two or more that read the same marks.");
  columns.forEach((column, index) => {
    if (columns.indexOf(column) !== index)
      throw new UnknownColumn(`"${column.heading.text}" is named twice as a reading: name it once.`);
    if (column.heading.unit !== first.heading.unit)
      throw new UnknownColumn(
        `"${column.heading.text}" and "${first.heading.text}" are not in one unit: put the readings in one unit first.`,
      );
  });
  const level = by === undefined ? undefined : sessionColumn(log, by);
  const levelParts = (by ?? []).map((heading) => columnNamed(log, heading));
  const both = levelParts.find((column) => columns.includes(column));
  if (both)
    throw new UnknownColumn(
      `"${both.heading.text}" is named both as a reading and as what is set beside each other: take it out of one.`,
    );
  const check = checkRows(log, {
    response: first.heading.text,
    drivers: [
      ...others.map(({ heading }) => ({ heading: heading.text, as: "number" as const, degree: 1 })),
      ...levelParts.map(({ heading }) => ({ heading: heading.text, as: "category" as const, degree: 1 })),
    ],
  });
  if (check.used.length < 2) {
    throw new NoAnswer(
      `${counted(check.used.length, "row")} ${check.used.length === 1 ? "has" : "have"} every reading (${listOf(columns.map(({ heading }) => `"${heading.text}"`))}): measure at least two marks again, better ten.`,
      check,
    );
  }
  const numbers = columns.map((column) => numbersOf(column, check.used));
  const rows = check.used.map((_, row) => numbers.map((values) => there(values[row], "a reading")));
  const found = repeatability(rows, confidence);
  if (!level) return { log, check, columns, confidence, found };
  const grouping = buildGrouping(level, check.used);
  const spreads = rows.map((one) => {
    const mean = one.reduce((total, value) => total + value, 0) / one.length;
    return Math.sqrt(one.reduce((total, value) => total + (value - mean) ** 2, 0) / (one.length - 1));
  });
  const levels = grouping.levels.map((name, index) => {
    const own = rows.filter((_, row) => grouping.groups[row] === index);
    return { level: name, rows: own.length, found: own.length < 2 ? undefined : repeatability(own, confidence) };
  });
  return {
    log,
    check,
    columns,
    confidence,
    found,
    by: { column: level, levels, test: levelsTest(spreads, grouping, confidence) },
  };
}

/** Do the rows' own spreads differ between the levels? One number per row, so that rows count once. */
function levelsTest(spreads: readonly number[], by: Grouping, confidence: number): FTest {
  if (by.levels.length < 2 || spreads.length <= by.levels.length)
    return {
      value: null,
      df1: Math.max(0, by.levels.length - 1),
      df2: Math.max(0, spreads.length - by.levels.length),
      p: null,
    };
  return regress({
    response: spreads,
    drivers: [{ kind: "category", name: by.name, values: by.groups, levels: by.levels }],
    confidence,
  }).F;
}

/** What repeating shows, in reading order. */
export function repeatabilitySentences(answer: RepeatabilityAnswer): Sentence[] {
  const { found } = answer;
  const summary = countSentence(answer);
  if (found.sd === 0)
    return [
      summary,
      {
        kind: "open",
        text: `Every reading was repeated without any difference, so nothing can be said of the error below what the ruler's division hides: read between the lines, or by somebody who does not know the first reading.`,
      },
    ];
  return [
    summary,
    ...sizeSentences(answer),
    ...found.shifts.flatMap((shift, index) => shiftSentence(answer, shift, index)),
    ...levelSentences(answer),
    {
      kind: "caution",
      text: `This is repeating the reading with the same layout; setting up marks and obstacle anew adds to it. The intervals hold for errors that are normal and as large at every mark (one-way random effects; chi-square for the standard deviation, F for the share).`,
    },
  ];
}

/** How many marks were measured how often. */
function countSentence({ log, check, columns, found: { things, times } }: RepeatabilityAnswer): Sentence {
  const often = times === 2 ? "twice" : `${times} times`;
  const where = listOf(columns.map(({ heading }) => `"${heading.text}"`));
  return {
    kind: "summary",
    text: `${counted(things, "mark")} measured ${often} (${where}): ${check.used.length} of ${counted(log.rows.length, "row")} used.`,
  };
}

const firstHeading = ({ columns }: RepeatabilityAnswer) => there(columns[0], "a column of readings").heading;

/** What a single reading repeats to, and its share of what shots differ by. */
function sizeSentences(answer: RepeatabilityAnswer): Sentence[] {
  const { sd, sdInterval, df, limit, share, shareInterval } = answer.found;
  const heading = firstHeading(answer);
  const name = inSentence(heading);
  const percent = say`${confidenceText(answer.confidence)} %`;
  const size = (value: number) => withUnit(measured(value, 2), heading.unit);
  const points = (value: number) => significant(100 * value, 2);
  const single: Sentence = {
    kind: "finding",
    text: say`A single reading of ${name} repeats to ${size(sd)} (standard deviation, ${percent} interval ${measured(sdInterval.low, 2)} to ${measured(sdInterval.high, 2)}, ${counted(df, "degree")} of freedom). Two readings of one mark differ by more than ${size(limit)} one time in twenty.`,
  };
  if (share === null || !shareInterval) return [single];
  const means =
    share > 0.1
      ? ": reading each mark several times and taking the mean would make shots look more alike"
      : "; the rest is the shots'";
  return [
    single,
    {
      kind: share > 0.1 ? "caution" : "finding",
      text: say`Reading makes up ${points(share)} % of the variance of ${name} between single readings of different shots (${percent} interval ${points(shareInterval.low)} to ${points(shareInterval.high)} %)${means}.`,
    },
  ];
}

/** Whether a later column lies off the first. */
function shiftSentence(
  answer: RepeatabilityAnswer,
  { value, standardError, low, high }: RepeatabilityAnswer["found"]["shifts"][number],
  index: number,
): Sentence[] {
  if (standardError === null || low === null || high === null) return [];
  const { text: before, unit } = firstHeading(answer);
  const later = there(answer.columns[index + 1], "a later column").heading.text;
  const percent = say`${confidenceText(answer.confidence)} %`;
  const decimals = decimalsShowing(standardError, low, high);
  const size = (end: number) => fixed(Math.abs(end), decimals);
  const [near, far] = Math.abs(low) < Math.abs(high) ? [low, high] : [high, low];
  return [
    low > 0 || high < 0
      ? {
          kind: "caution",
          text: say`"${later}" lies ${withUnit(size(value), unit)} ${value < 0 ? "below" : "above"} "${before}" on average (${percent} interval ${size(near)} to ${size(far)}): the readings were not made alike, and the figures above hold that shift as well.`,
        }
      : {
          kind: "open",
          text: say`No shift of "${later}" against "${before}" is seen: from ${withUnit(size(low), unit)} below to ${withUnit(size(high), unit)} above (${percent} interval).`,
        },
  ];
}

/** Whether readings repeat differently from level to level. */
function levelSentences(answer: RepeatabilityAnswer): Sentence[] {
  const { by, confidence } = answer;
  if (!by) return [];
  const { unit } = firstHeading(answer);
  const parts = by.levels.map((one) =>
    one.found
      ? say`"${one.level}" ${withUnit(measured(one.found.sd, 2), unit)} (${measured(one.found.sdInterval.low, 2)} to ${measured(one.found.sdInterval.high, 2)}, ${counted(one.rows, "mark")})`
      : `"${one.level}" has one mark only`,
  );
  const { p } = by.test;
  const told = p !== null && p < 1 - confidence;
  const what = told ? "The levels repeat differently" : "That the levels repeat differently is not shown";
  const lead = p === null ? "" : say`${what} (${pText(p)}, analysis of variance of each mark's own spread). `;
  return [
    {
      kind: told ? "finding" : "open",
      text: say`${lead}${capital(inSentence(by.column.heading))}: ${joinTexts(parts, "; ")}.`,
    },
  ];
}
