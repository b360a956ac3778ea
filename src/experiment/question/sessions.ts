/**
 * What makes a session: a column, or several whose every distinct combination is a session of its own, such as a date
 * with a session that is counted anew each day. Columns that may say so are noticed; what was taken, and why, is said.
 */
import { listOf, capital } from "../language/said";
import type { ScatterChoice } from "./choice";
import { columnNamed, UnknownColumn } from "./rowCheck";
import { setByShot, type Meaning } from "../log/header";
import { levelOf, type Reading } from "../log/reading";
import { isClock } from "../log/shotOrder";
import { findColumns, type LogColumn, type TrialLog } from "../log/trialLog";
import { memo } from "../../statistics/numeric/memo";
import { counted, inSentence, severalOf } from "../language/wording";

/** Rows of one group of the column taken together. */
export function togetherBy(as: "cluster" | "random", { heading, parts }: LogColumn): ScatterChoice {
  const [first = heading.text, ...also] = parts ?? [];
  return { as, heading: first, ...(also.length > 0 && { also }) };
}

const combined = memo<LogColumn>();

/**
 * The column that says which session a row belongs to; of several columns each distinct combination is one.
 * @throws UnknownColumn when a column is not there or is named twice
 */
export function sessionColumn(log: TrialLog, headings: readonly string[]): LogColumn {
  const columns = headings.map((heading) => columnNamed(log, heading));
  const [first] = columns;
  if (!first) throw new UnknownColumn("no column is named that makes a session: name one or several.");
  const twice = columns.find((column, index) => columns.indexOf(column) !== index);
  if (twice) throw new UnknownColumn(`"${twice.heading.text}" is named twice as what makes a session: name it once.`);
  return columns.length === 1 ? first : combined(log, columns, () => combine(columns));
}

function combine(columns: readonly LogColumn[]): LogColumn {
  const parts = columns.map(({ heading }) => heading.text);
  return {
    column: columns[0]?.column ?? 0,
    heading: { text: listOf(parts), name: "session", unit: "" },
    meaning: "session",
    kind: "category",
    readings: (columns[0]?.readings ?? []).map((_, row) => together(columns, row)),
    parts,
  };
}

/** One row's entries as one: blank or unusable where one of them is. */
function together(columns: readonly LogColumn[], row: number): Reading {
  const readings = columns.map((column) => column.readings[row]);
  const levels: string[] = [];
  for (const reading of readings) {
    if (!reading || reading.kind === "blank") return { kind: "blank" };
    if (reading.kind === "unusable") return reading;
    levels.push(levelOf(reading));
  }
  return { kind: "word", text: levels.join(" · ") };
}

/** What a heading must mean for its column to be taken as what makes a session, the likeliest first. */
const SESSION: readonly Meaning[] = ["session", "date", "table", "observer"];

/** Columns, or combinations of two, that may say which rows go together, the likeliest first. */
export function sessionCandidates(log: TrialLog, except: readonly LogColumn[], used: readonly number[]): LogColumn[] {
  const columns = SESSION.flatMap((meaning) => log.columns.filter((column) => column.meaning === meaning)).filter(
    (column) => !except.includes(column) && !isClock(column) && findColumns(log, column.heading.text).length === 1,
  );
  const restarting = restartingPair(columns, used);
  return [...(restarting ? [sessionColumn(log, restarting)] : []), ...columns];
}

/**
 * Two columns of sessions or dates where the labels of one come again under the other: a session that is counted anew
 * each day.
 */
function restartingPair(columns: readonly LogColumn[], used: readonly number[]): readonly string[] | undefined {
  const timed = columns.filter(({ meaning }) => meaning === "date" || meaning === "session");
  const dates = timed.filter(({ meaning }) => meaning === "date");
  const outer = dates.length > 0 ? dates : timed;
  for (const one of outer)
    for (const other of timed)
      if (one !== other && relation(one, other, used) === "crossed") return [one.heading.text, other.heading.text];
  return undefined;
}

/**
 * How the groups of two columns lie: each of the first within one of the second, the other way round, both, or neither.
 */
export function relation(
  { readings: a }: LogColumn,
  { readings: b }: LogColumn,
  used: readonly number[],
): "same" | "within" | "around" | "crossed" {
  const [bOfA, aOfB] = [new Map<string, string>(), new Map<string, string>()];
  let [within, around] = [true, true];
  for (const index of used) {
    const [first, second] = [a[index], b[index]].map((reading) => (reading ? levelOf(reading).trim() : ""));
    if (!first || !second) continue;
    within &&= (bOfA.get(first) ?? second) === second;
    around &&= (aOfB.get(second) ?? first) === first;
    bOfA.set(first, second);
    aOfB.set(second, first);
  }
  return within ? (around ? "same" : "within") : around ? "around" : "crossed";
}

function levelCount({ readings }: LogColumn, used: readonly number[]): number {
  return new Set(
    used.flatMap((index) => {
      const reading = readings[index];
      const level = reading ? levelOf(reading).trim() : "";
      return level === "" ? [] : [level];
    }),
  ).size;
}

/**
 * Which structure was taken and why, where other columns group the rows as well.
 * @param taken what makes a session @param asked columns that are drivers or the response, which speak for themselves
 */
export function structureSentences(
  log: TrialLog,
  taken: LogColumn,
  asked: readonly LogColumn[],
  used: readonly number[],
): string[] {
  const own = new Set([taken.heading.text, ...(taken.parts ?? [])]);
  const session = inSentence(taken.heading);
  const parts = (taken.parts ?? []).map((text) => inSentence(columnNamed(log, text).heading));
  const made = taken.parts
    ? [
        `A session is each distinct combination of ${listOf(parts)}: ${levelCount(taken, used)} in these rows${againSaid(log, taken.parts, used)}.`,
      ]
    : [];
  const others = SESSION.flatMap((meaning) => log.columns.filter((column) => column.meaning === meaning)).filter(
    (column) => !own.has(column.heading.text) && levelCount(column, used) > 1 && levelCount(column, used) < used.length,
  );
  return [
    ...made,
    ...others.flatMap((other) =>
      otherSentence(session, inSentence(other.heading), relation(taken, other, used), asked.includes(other)),
    ),
  ];
}

/** Why one of the parts alone will not do. */
function againSaid(log: TrialLog, parts: readonly string[], used: readonly number[]): string {
  const [first, second] = parts.map((text) => columnNamed(log, text));
  if (!first || !second || parts.length > 2 || relation(first, second, used) !== "crossed") return "";
  return `, because the same ${inSentence(second.heading)} comes again under another ${inSentence(first.heading)}`;
}

function otherSentence(
  session: string,
  other: string,
  lies: ReturnType<typeof relation>,
  asked: boolean,
): readonly string[] {
  if (lies === "same") return [];
  if (lies === "within")
    return [
      asked
        ? `Each ${session} lies within one ${other}: only as many ${severalOf(session)} as a ${other} has tell of it, so the ${session} is what is counted.`
        : `Each ${session} lies within one ${other}. The ${session} is taken as what is shifted; ${severalOf(other)} may differ among each other besides, which shows only when ${other} is asked as a driver.`,
    ];
  if (lies === "around")
    return [
      `Each ${other} lies within one ${session}. The ${session} is taken, which allows for likeness within each ${other} too; if shots are alike within one ${other} only, name ${other} as what makes a session.`,
    ];
  return asked
    ? []
    : [
        `${capital(session)} and ${other} are crossed: one ${other} is met in several ${severalOf(session)}. One shift for each ${session} is taken; what goes with ${other} is left in the scatter, and is taken out when ${other} is asked as a category.`,
      ];
}

export interface NoticedSession {
  readonly column: LogColumn;
  readonly groups: number;
  /** Drivers that never change within one level of the column. */
  readonly still: readonly LogColumn[];
}

/**
 * A column whose heading says nothing of sessions, but within whose levels some driver never changes: it may be what
 * makes a session, so it is asked about. Levels must have two rows each on average, or nothing is shared.
 */
export function noticedSession(
  log: TrialLog,
  drivers: readonly LogColumn[],
  except: readonly LogColumn[],
  used: readonly number[],
): NoticedSession | undefined {
  const mayBe = log.columns.filter(
    (column) =>
      column.kind !== "empty" &&
      (column.meaning === undefined || !setByShot(column.meaning)) &&
      !["trial", "remarks", "ball diameter", "gate correction", ...SESSION].includes(column.meaning ?? "") &&
      !drivers.includes(column) &&
      !except.includes(column),
  );
  const changing = drivers.filter((driver) => levelCount(driver, used) > 1);
  for (const column of mayBe) {
    const groups = levelCount(column, used);
    if (groups < 2 || 2 * groups > used.length) continue;
    const still = changing.filter((driver) => ["within", "same"].includes(relation(column, driver, used)));
    if (still.length > 0) return { column, groups, still };
  }
  return undefined;
}

/** The question about a noticed column, for a reader who can answer it. */
export function noticedSentence({ column, groups, still }: NoticedSession): string {
  const names = listOf(still.map(({ heading }) => inSentence(heading)));
  const one = inSentence(column.heading);
  return `${capital(names)} never ${still.length > 1 ? "change" : "changes"} within one ${one} (${counted(groups, one, severalOf(one))}). If the shots of one ${one} were taken together, ${one} makes the sessions and its shots are not separate evidence on ${names}: say so, since the rows cannot.`;
}
