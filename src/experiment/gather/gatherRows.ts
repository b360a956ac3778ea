/**
 * The rows of a tidy set, one by one: turned into the set's kinds and units, and watched for what the logs say twice or
 * differently.
 */
import { there } from "../../there";
import { dayOfSerial } from "../../workbook/cellText";
import { KIND_WORDS, type GatherPlan, type Source, type TidyColumn } from "./gatherPlan";
import { readingAt } from "../log/logColumns";
import { madeOf } from "../log/outcome";
import type { Reading } from "../log/reading";
import type { TrialLog } from "../log/trialLog";
import { convertUnit } from "../language/unitConversion";

/** A reading as it is put aside between the two passes: number, word, nothing, a date. */
export type Kept = number | string | null | { readonly date: number };
/** What stands in a tidy cell; dates are serial days. */
export type TidyValue = number | string | boolean | null;

/** One row put aside: its row on the sheet from 1, and a reading for each column of its source. */
export type KeptRow = readonly [row: number, ...readings: Kept[]];

/** The rows of a log, ready to be put aside as JSON. */
export function* keptRows(log: TrialLog): Generator<KeptRow> {
  for (const [index, row] of log.rows.entries()) {
    yield [row + 1, ...log.columns.map((column) => kept(readingAt(column, index)))];
  }
}

function kept(reading: Reading): Kept {
  switch (reading.kind) {
    case "number":
      return reading.value;
    case "date":
      return { date: reading.value };
    case "word":
      return reading.text;
    case "blank":
    case "unusable":
      return null;
    default:
      return reading satisfies never;
  }
}

/** Distinct spellings are watched up to this many a column; past it a column holds remarks rather than categories. */
const MOST_SPELLINGS = 500;

interface Blanked {
  count: number;
  readonly text: string;
}

/** Rows are compared with this many others at most, so that memory has an end. */
const MOST_COMPARED = 2_000_000;

/** Turns kept rows into tidy ones and remembers what is to be told of them afterwards. */
export class RowTidier {
  private readonly blanked = new Map<string, Blanked>();
  private readonly spellings: (Map<string, Map<string, string>> | undefined)[];
  private readonly rowSource = new Map<number, number>();
  private readonly repeats = new Map<string, { count: number; readonly text: string }>();
  private readonly trials = new Map<
    number,
    { readonly source: number; readonly row: number; readonly content: number }
  >();
  private readonly contradictions = new Map<string, { count: number; readonly text: string }>();
  private readonly identity: readonly number[];

  constructor(
    private readonly sources: readonly Source[],
    private readonly plan: GatherPlan,
  ) {
    this.spellings = plan.columns.map(({ kind, meaning }) =>
      kind === "text" && meaning !== "remarks" ? new Map() : undefined,
    );
    const named = (meaning: string) => plan.columns.findIndex((column) => column.meaning === meaning);
    const trial = named("trial");
    const session = [named("session"), named("date")].filter((at) => at >= 0);
    this.identity =
      trial >= 0 && session.length > 0 ? [trial, ...session, ...[named("table")].filter((at) => at >= 0)] : [];
  }

  /** The tidy values of a row, in the order of the plan's columns. */
  tidy(s: number, row: KeptRow): TidyValue[] {
    const { columns } = this.plan;
    const values = columns.map((column) => this.value(column, s, row));
    values.forEach((value, c) => this.watchSpelling(c, value, s));
    this.watchRepeats(s, row[0], values);
    return values;
  }

  private source(s: number): Source {
    return there(this.sources[s], "the source of a row");
  }

  private value(column: TidyColumn, s: number, row: KeptRow): TidyValue {
    const at = column.from[s];
    if (at === undefined) return null;
    const reading = row[at + 1] as Kept;
    if (reading === null) return null;
    const { unit, text } = there(this.source(s).columns[at], "the column that a row comes from");
    switch (column.kind) {
      case "number":
        if (typeof reading === "number") return convertUnit(reading, unit, column.unit);
        break;
      case "date":
        if (typeof reading === "object") return reading.date;
        break;
      case "made": {
        const made =
          typeof reading === "object"
            ? undefined
            : madeOf(
                typeof reading === "number" ? { kind: "number", value: reading } : { kind: "word", text: reading },
              );
        if (made !== undefined) return made === 1;
        break;
      }
      case "text":
        return typeof reading === "object"
          ? dayOfSerial(reading.date)
          : String(typeof reading === "number" ? convertUnit(reading, unit, column.unit) : reading);
      default:
        return column.kind satisfies never;
    }
    this.blank(s, text, row[0], typeof reading === "object" ? dayOfSerial(reading.date) : String(reading), column);
    return null;
  }

  private blank(s: number, text: string, row: number, said: string, { kind }: TidyColumn): void {
    const key = `${s} ${text}`;
    const known = this.blanked.get(key);
    if (known) known.count++;
    else
      this.blanked.set(key, {
        count: 1,
        text: `${this.source(s).origin}, "${text}", the first in row ${row}: "${said}" in a column of ${KIND_WORDS[kind]}`,
      });
  }

  private watchSpelling(c: number, value: TidyValue, s: number): void {
    const known = this.spellings[c];
    if (!known || typeof value !== "string") return;
    const plain = value.toLowerCase();
    const spelled = known.get(plain) ?? new Map<string, string>();
    if (spelled.size === 0) {
      known.set(plain, spelled);
      if (known.size > MOST_SPELLINGS) this.spellings[c] = undefined;
    }
    if (!spelled.has(value)) spelled.set(value, this.source(s).origin);
  }

  private watchRepeats(s: number, row: number, values: readonly TidyValue[]): void {
    const content = hashOf(values.map(alike).join("\u0000"));
    const { origin } = this.source(s);
    const earlier = this.rowSource.get(content);
    if (earlier === undefined) remember(this.rowSource, content, s);
    else if (this.source(earlier).origin !== origin) {
      count(
        this.repeats,
        `${earlier} ${s}`,
        `stand both in ${this.source(earlier).origin} and in ${origin} (row ${row} there is the first)`,
      );
    }
    const identity = this.identity.map((at) => values[at] ?? null);
    if (identity.length === 0 || identity.includes(null)) return;
    const key = hashOf(identity.map(alike).join("\u0000"));
    const same = this.trials.get(key);
    if (same === undefined) remember(this.trials, key, { source: s, row, content });
    else if (same.content !== content && this.source(same.source).origin !== origin) {
      const named = this.identity.map((at) => this.plan.columns[at]?.heading).join(", ");
      count(
        this.contradictions,
        `${same.source} ${s}`,
        `alike in ${named} say different things in ${this.source(same.source).origin} and in ${origin} (rows ${same.row} and ${row} are the first)`,
      );
    }
  }

  /**
   * Numbers of cells left blank because they do not fit their column, in sentences; those that no reading could use
   * first.
   */
  leftBlank(): string[] {
    const unusable = this.sources.flatMap(({ origin, columns }) =>
      columns.flatMap(({ text, unusable }) =>
        unusable
          ? [`${cells(unusable.count)} of ${origin}, "${text}", the first ${unusable.first}: ${unusable.reason}`]
          : [],
      ),
    );
    return [...unusable, ...[...this.blanked.values()].map(({ count: n, text }) => `${cells(n)} of ${text}`)];
  }

  /** Where the rows themselves disagree, in sentences. */
  conflicts(): string[] {
    const spelled = this.plan.columns.flatMap(({ heading }, c) =>
      [...(this.spellings[c]?.values() ?? [])]
        .filter((forms) => forms.size > 1)
        .map(
          (forms) =>
            `${heading} is spelled ${[...forms].map(([form, origin]) => `"${form}" in ${origin}`).join(" and ")}; they count as ${forms.size}.`,
        ),
    );
    const told = (found: ReadonlyMap<string, { count: number; text: string }>) =>
      [...found.values()].map(
        ({ count: n, text }) =>
          `${n} ${n === 1 ? "row" : "rows"} ${text}. All are kept; leave one out if they are one shot.`,
      );
    const limit =
      this.rowSource.size < MOST_COMPARED
        ? []
        : [`Rows that stand in two files were looked for among the first ${MOST_COMPARED.toLocaleString("en")} only.`];
    return [...spelled, ...told(this.repeats), ...told(this.contradictions), ...limit];
  }
}

function remember<V>(known: Map<number, V>, key: number, value: V): void {
  if (known.size < MOST_COMPARED) known.set(key, value);
}

function count(found: Map<string, { count: number; readonly text: string }>, key: string, text: string): void {
  const known = found.get(key);
  if (known) known.count++;
  else found.set(key, { count: 1, text });
}

function cells(n: number): string {
  return `${n} ${n === 1 ? "cell" : "cells"}`;
}

/** Numbers that a change of unit makes differ in their last digits are alike. */
function alike(value: TidyValue): string {
  return typeof value === "number" ? String(Number(value.toPrecision(10))) : value === null ? "" : String(value);
}

/**
 * 53 bits of two running products; among a million rows two different ones fall together in about one set of 20,000.
 */
function hashOf(text: string): number {
  let a = 0x811c9dc5;
  let b = 0x01000193;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    a = Math.imul(a ^ code, 0x01000193);
    b = Math.imul(b ^ code ^ (a >>> 24), 0x85ebca6b);
  }
  return (a >>> 0) * 2 ** 21 + (b >>> 11);
}
