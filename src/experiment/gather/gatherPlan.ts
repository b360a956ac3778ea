/**
 * One tidy set out of many logs: which columns of which log belong together, in which unit, and where the logs
 * disagree.
 *
 * Columns belong together when their headings say the same name, letter case and unit aside, and their units measure
 * the same. Nothing is merged on a guess: what only seems to belong together is listed and kept apart.
 */
import { cellAddress } from "../../workbook/address";
import { meaningOf, parseHeading, type Meaning } from "../log/header";
import { madeOf, outcomeOf } from "../log/outcome";
import type { Reading } from "../log/reading";
import type { LogColumn, TrialLog } from "../log/trialLog";
import { kindOfUnit, unitInSystem } from "../language/unitConversion";

/** What the cells of a tidy column are: numbers, serial days, TRUE or FALSE for made or missed, or text. */
export type TidyKind = "number" | "date" | "made" | "text";

export interface SourceColumn {
  readonly text: string;
  readonly name: string;
  readonly unit: string;
  readonly meaning: Meaning | undefined;
  readonly kind: TidyKind | "empty";
  readonly unusable: { readonly count: number; readonly first: string; readonly reason: string } | undefined;
}

/** One table of trials in one file, without its rows. */
export interface Source {
  /** Path of the file below the folder that is gathered. */
  readonly origin: string;
  readonly sheet: string;
  readonly title: string;
  readonly rows: number;
  readonly columns: readonly SourceColumn[];
  /** How its cells were read where that is not plain, in sentences. */
  readonly readAs: readonly string[];
}

export interface TidyColumn {
  readonly heading: string;
  readonly name: string;
  readonly unit: string;
  readonly kind: TidyKind;
  readonly meaning: Meaning | undefined;
  /** By source: which of its columns, if any. */
  readonly from: readonly (number | undefined)[];
}

export interface GatherPlan {
  readonly columns: readonly TidyColumn[];
  /** In sentences: which columns were turned into another unit. */
  readonly conversions: readonly string[];
  /** In sentences: where the logs disagree. */
  readonly conflicts: readonly string[];
}

export interface GatherWishes {
  /** Units of the set; otherwise each column's most frequent one, by rows. */
  readonly units?: "us" | "si";
  /** Names that mean the same column, though they differ. */
  readonly same?: readonly (readonly [string, string])[];
}

const SETTINGS: ReadonlySet<Meaning> = new Set([
  "cloth",
  "table",
  "humidity",
  "temperature",
  "speed",
  "spin",
  "angle",
  "session",
  "date",
  "trial",
]);

/**
 * Whether a table holds measured trials: made or missed, a bend or a clearance that is neither wanted nor predicted, or
 * a gap beside settings.
 */
export function holdsTrials({ rows, columns }: TrialLog): boolean {
  const predicted = columns.some(({ heading }) => /\bpredicted\b/i.test(heading.name));
  const measured = columns.some(
    ({ meaning, heading }) =>
      (meaning === "bend" || meaning === "clearance" || meaning === "made") && !/\bwanted\b/i.test(heading.name),
  );
  const set = columns.some(({ meaning }) => meaning !== undefined && SETTINGS.has(meaning));
  return rows.length > 0 && !predicted && (measured || (set && columns.some(({ meaning }) => meaning === "gap")));
}

/** What is to be known of a log before its rows are written. */
export function sourceOf(origin: string, log: TrialLog): Source {
  return {
    origin,
    sheet: log.sheet,
    title: log.title,
    rows: log.rows.length,
    columns: log.columns.map((column) => sourceColumn(column, log)),
    readAs: log.readAs,
  };
}

function sourceColumn({ heading, meaning, kind, readings, column }: LogColumn, log: TrialLog): SourceColumn {
  const bad = log.rows.flatMap((row, index) => {
    const reading = readings[index];
    return reading?.kind === "unusable" ? [{ row, reason: reading.reason }] : [];
  });
  const [first] = bad;
  return {
    text: heading.text,
    name: heading.name,
    unit: heading.unit,
    meaning,
    kind:
      kind === "empty"
        ? "empty"
        : meaning === "made" && readings.every(onlySaysMade)
          ? "made"
          : kind === "category"
            ? "text"
            : kind,
    unusable: first && { count: bad.length, first: cellAddress(first.row, column), reason: first.reason },
  };
}

/** TRUE and FALSE would lose why a shot was not made, so a column that says cleared or hit obstacle stays words. */
function onlySaysMade(reading: Reading): boolean {
  if (reading.kind === "blank" || reading.kind === "unusable") return true;
  const outcome = outcomeOf(reading);
  return outcome !== "cleared" && outcome !== "hit obstacle" && madeOf(reading) !== undefined;
}

interface Group {
  readonly name: string;
  readonly from: (number | undefined)[];
  readonly members: [Member, ...Member[]];
}

interface Member {
  readonly source: Source;
  readonly column: SourceColumn;
}

/** Plans the set. @example gatherPlan([]) // { columns: [], conversions: [], conflicts: [] } */
export function gatherPlan(sources: readonly Source[], wishes: GatherWishes = {}): GatherPlan {
  const conflicts: string[] = [];
  const groups = grouped(sources, wishes, conflicts);
  const conversions: string[] = [];
  const columns = groups.map((group) => tidyColumn(group, wishes, conversions, conflicts));
  conflicts.push(...lookAlike(columns));
  return { columns: withOwnHeadings(columns), conversions, conflicts };
}

function grouped(sources: readonly Source[], { same = [] }: GatherWishes, conflicts: string[]): Group[] {
  const leaders = new Map<string, string>();
  const leader = (key: string): string => {
    const next = leaders.get(key);
    return next === undefined ? key : leader(next);
  };
  for (const [first, second] of same) {
    const a = leader(keyOf(parseHeading(first).name));
    const b = leader(keyOf(parseHeading(second).name));
    if (a !== b) leaders.set(b, a);
  }
  conflicts.push(...nowhere(sources, same));
  const byKey = new Map<string, Group[]>();
  const all: Group[] = [];
  sources.forEach((source, s) => {
    source.columns.forEach((column, c) => {
      const key = leader(keyOf(column.name));
      const known = byKey.get(key) ?? [];
      byKey.set(key, known);
      const fits = known.find((group) => group.from[s] === undefined && measuresAlike(group, column));
      if (fits) {
        fits.from[s] = c;
        fits.members.push({ source, column });
        return;
      }
      const [other] = known;
      if (other) conflicts.push(apart(other, source, s, column));
      const from: (number | undefined)[] = Array.from({ length: sources.length }, () => undefined);
      from[s] = c;
      const group: Group = { name: column.name, from, members: [{ source, column }] };
      known.push(group);
      all.push(group);
    });
  });
  return all;
}

/** Headings that are to be joined but stand nowhere: a slip of the pen would otherwise join nothing without a word. */
function nowhere(sources: readonly Source[], same: readonly (readonly [string, string])[]): string[] {
  const there = new Set(sources.flatMap(({ columns }) => columns.map(({ name }) => keyOf(name))));
  return same.flatMap((pair) => {
    const lost = pair.filter((heading) => !there.has(keyOf(parseHeading(heading).name)));
    return lost.length === 0
      ? []
      : [
          `--same ${pair.map((heading) => `"${heading}"`).join(" ")} joins nothing: no log has a column named ${lost.map((heading) => `"${parseHeading(heading).name}"`).join(" or ")}.`,
        ];
  });
}

/**
 * The log with its columns as the wishes know them: one that is the same as a bend is a bend, whatever it is called.
 */
export function knownColumns(log: TrialLog, same: GatherWishes["same"] = []): TrialLog {
  const key = (heading: string) => keyOf(parseHeading(heading).name);
  const meaning = (name: string) =>
    same
      .filter((pair) => pair.some((heading) => key(heading) === keyOf(name)))
      .flat()
      .map((heading) => meaningOf(parseHeading(heading).name))
      .find((found) => found !== undefined);
  return {
    ...log,
    columns: log.columns.map((column) =>
      column.meaning === undefined ? { ...column, meaning: meaning(column.heading.name) } : column,
    ),
  };
}

function keyOf(name: string): string {
  return name.toLowerCase().replace(/\s+/g, " ").trim();
}

function measuresAlike({ members }: Group, column: SourceColumn): boolean {
  return (
    column.kind === "empty" ||
    members.every(
      (member) => member.column.kind === "empty" || kindOfUnit(member.column.unit) === kindOfUnit(column.unit),
    )
  );
}

function apart(group: Group, source: Source, s: number, column: SourceColumn): string {
  const { source: first, column: other } = group.members[0];
  const taken = group.from[s] === undefined ? undefined : source.columns[group.from[s]];
  if (taken && measuresAlike(group, column)) {
    return `${source.origin} has two columns named "${column.name}": "${taken.text}" and "${column.text}". Both are kept; give one another heading.`;
  }
  const unit = (one: SourceColumn) => one.unit || "no unit";
  return `"${column.text}" of ${source.origin} says ${unit(column)} and "${other.text}" of ${first.origin} says ${unit(other)}, which cannot be turned into each other. They are kept apart; put the right unit into the headings.`;
}

function tidyColumn(
  { name, from, members }: Group,
  { units }: GatherWishes,
  conversions: string[],
  conflicts: string[],
): TidyColumn {
  const filled = members.filter(({ column }) => column.kind !== "empty");
  const [leading] = filled;
  const unit =
    units && leading
      ? unitInSystem(leading.column.unit, units)
      : mostFrequentUnit(filled.length > 0 ? filled : members);
  const heading = unit === "" ? name : `${name} (${unit})`;
  for (const text of new Set(filled.filter(({ column }) => column.unit !== unit).map(({ column }) => column.text))) {
    const [turned, ...more] = filled.filter(({ column }) => column.text === text);
    if (turned)
      conversions.push(
        `"${text}" of ${turned.source.origin}${more.length > 0 ? ` and ${more.length} more` : ""} was turned from ${turned.column.unit} into ${unit}.`,
      );
  }
  const kind = tidyKind(name, filled, conflicts);
  return { heading, name, unit, kind, meaning: members[0].column.meaning, from };
}

/** What at least three quarters of the rows hold, as in a single log; text where nothing does. */
function tidyKind(name: string, filled: readonly Member[], conflicts: string[]): TidyKind {
  const rows = new Map<TidyKind, number>();
  for (const { source, column } of filled)
    rows.set(column.kind as TidyKind, (rows.get(column.kind as TidyKind) ?? 0) + source.rows);
  if (rows.size === 0) return "text";
  const total = [...rows.values()].reduce((sum, n) => sum + n, 0);
  // Beside made or missed, words say how else shots ended: nothing of them may be lost.
  const kind =
    rows.size === 2 && rows.has("made") && rows.has("text")
      ? "text"
      : ([...rows].find(([, n]) => n * 4 >= total * 3)?.[0] ?? "text");
  if (rows.size > 1) {
    const holding = [...rows.keys()].flatMap((one) => {
      const first = filled.find(({ column }) => column.kind === one);
      return first ? [`${KIND_WORDS[one]} in ${first.source.origin}`] : [];
    });
    conflicts.push(
      `"${name}" holds ${holding.join(", ")}. It is kept as ${KIND_WORDS[kind]}${kind === "text" ? "" : "; cells that say anything else are left blank and listed"}.`,
    );
  }
  return kind;
}

/** What the cells of a kind are, in words. */
export const KIND_WORDS: Readonly<Record<TidyKind, string>> = {
  number: "numbers",
  date: "dates",
  made: "made or missed",
  text: "words",
};

function mostFrequentUnit(members: readonly Member[]): string {
  const rows = new Map<string, number>();
  for (const { source, column } of members) rows.set(column.unit, (rows.get(column.unit) ?? 0) + source.rows);
  return [...rows].reduce((most, one) => (one[1] > most[1] ? one : most))[0];
}

/** Columns of different names that seem to hold the same, such as "RH (%)" beside "Humidity (%)". */
function lookAlike(columns: readonly TidyColumn[]): string[] {
  return columns.flatMap((column, c) => {
    const { meaning } = column;
    if (meaning === undefined || meaning === "remarks" || meaning === "spin") return [];
    const twin = columns.find(
      (other, o) =>
        o < c &&
        other.meaning === meaning &&
        keyOf(other.name) !== keyOf(column.name) &&
        kindOfUnit(other.unit) === kindOfUnit(column.unit) &&
        !other.from.some((index, s) => index !== undefined && column.from[s] !== undefined),
    );
    return twin
      ? [
          `"${twin.heading}" and "${column.heading}" look like the same thing, and no log has both. They are kept apart; say --same "${twin.name}" "${column.name}" to make them one column.`,
        ]
      : [];
  });
}

/** Headings that differ from each other and from the three that say where a row is from. */
function withOwnHeadings(columns: readonly TidyColumn[]): TidyColumn[] {
  const taken = new Set(ORIGIN_HEADINGS.map((heading) => heading.toLowerCase()));
  return columns.map((column) => {
    let heading = column.heading;
    for (let n = 2; taken.has(heading.toLowerCase()); n++)
      heading = column.unit === "" ? `${column.name} ${n}` : `${column.name} ${n} (${column.unit})`;
    taken.add(heading.toLowerCase());
    return { ...column, heading };
  });
}

/** Headings of the columns that say where each row is from: file, sheet, and row on it. */
export const ORIGIN_HEADINGS = ["Origin", "Origin sheet", "Origin row"] as const;
