/**
 * Shots of one session are not separate evidence on what stayed the same all session: finds that, says it, and fits
 * with it in mind.
 */
import { say, listOf, capital } from "../language/said";
import { groupsDiffer } from "../../statistics/errors/groupParts";
import type { Grouping } from "../../statistics/errors/errorModel";
import type { Driver } from "../../statistics/fit/designMatrix";
import { regress } from "../../statistics/fit/regression";
import type { Term } from "../../statistics/fit/estimates";
import { noSurer, withoutIntervals } from "../../statistics/fit/withoutIntervals";
import { termTests } from "../../statistics/fit/wholeTerms";
import { analyse, NoAnswer, type Analysis } from "./analysis";
import type { Sentence } from "./answer";
import { buildGrouping } from "./buildDriver";
import { sessionCandidates, sessionColumn, togetherBy } from "./sessions";
import { memo } from "../../statistics/numeric/memo";
import { levelOf } from "../log/reading";
import type { LogColumn } from "../log/trialLog";
import { counted, inSentence, pText, roughP, severalOf } from "../language/wording";
import { there } from "../../there";

export interface SessionAware {
  /** The column that says which rows belong together. */
  readonly column: LogColumn;
  /** How many sessions the rows used come from. */
  readonly groups: number;
  /** Drivers that never change within a session, though they do from one to the next. */
  readonly still: readonly LogColumn[];
  /** p of the sessions differing by more than their drivers and the scatter explain; null where it cannot be judged. */
  readonly differ: number | null;
  /** The session-aware fit is the one to read first. */
  readonly lead: boolean;
  /** Why, and what changes, in reading order. */
  readonly sentences: readonly Sentence[];
  /** The fit with each session shifted by a random amount; without intervals where the rows cannot give them. */
  readonly recommended: Analysis;
  /** Drivers of which the sessions allow no interval: the plain fit's must not stand in its place. */
  readonly untold: readonly LogColumn[];
}

/**
 * Looks whether the rows of a plain analysis come in sessions.
 * @returns undefined when no column says so, when the analysis already says how rows go together, or when rows have
 * weights
 */
export function sessionAware(analysis: Analysis): SessionAware | undefined {
  if (analysis.choice.scatter || analysis.choice.weight !== undefined) return undefined;
  return awares(analysis, [], () => {
    const best = sessionsAmong(analysis, analysis.regression.question.drivers);
    return best && judge(analysis, best);
  });
}
const awares = memo<SessionAware | undefined>(1);

/**
 * The answer that is read first: with sessions in mind where they matter.
 * @param plainFirst whether the reader asked for the plain fit instead
 */
export function leading(plain: Analysis, plainFirst = false): Analysis {
  const aware = sessionAware(plain);
  return aware?.lead && !plainWanted(aware, plainFirst) ? aware.recommended : plain;
}

/** The plain fit is read where somebody asks for it, and never in place of an answer that has no interval. */
export function plainWanted({ untold }: Pick<SessionAware, "untold">, plainFirst: boolean): boolean {
  return plainFirst && untold.length === 0;
}

export interface Candidate {
  readonly column: LogColumn;
  /** Places among the rows used that have a session. */
  readonly rows: readonly number[];
  readonly by: Grouping;
  readonly still: readonly LogColumn[];
}

/** The question and its rows, whatever was fitted to them. */
type Asked = Pick<Analysis, "log" | "choice" | "check" | "response" | "columns">;

/**
 * What makes the sessions of the rows used: as the user says, otherwise the likeliest column; undefined where nothing
 * does.
 */
export function sessionsAmong(asked: Asked, drivers: readonly Driver[]): Candidate | undefined {
  const { log, choice, check, response, columns } = asked;
  const named = choice.sessions?.length ? [sessionColumn(log, choice.sessions)] : undefined;
  const candidates = (named ?? sessionCandidates(log, [response, ...columns], check.used)).flatMap((column) => {
    const found = groupsOf(asked, column);
    return found ? [{ column, ...found, still: stillDrivers(columns, drivers, found) }] : [];
  });
  // A column within whose groups some driver never changes says more than one that merely comes first.
  return candidates.find(({ still }) => still.length > 0) ?? candidates[0];
}

const groupings = memo<{ rows: readonly number[]; by: Grouping } | undefined>();

/**
 * The column as a grouping of those rows used that have an entry; undefined unless some rows share one and some do not.
 */
function groupsOf(
  { check }: Pick<Analysis, "check">,
  column: LogColumn,
): { rows: readonly number[]; by: Grouping } | undefined {
  const { used } = check;
  return groupings(column, [used], () => {
    const rows: number[] = [];
    used.forEach((index, place) => {
      if (levelOf(there(column.readings[index], "a reading")).trim() !== "") rows.push(place);
    });
    const by = buildGrouping(
      column,
      rows.length === used.length ? used : rows.map((place) => there(used[place], "a row used")),
    );
    return by.levels.length >= 2 && by.levels.length < rows.length ? { rows, by } : undefined;
  });
}

function stillDrivers(
  columns: readonly LogColumn[],
  drivers: readonly Driver[],
  { rows, by }: { rows: readonly number[]; by: Grouping },
): LogColumn[] {
  return columns.filter((_, index) => {
    const { values } = there(drivers[index], "a driver");
    const first = new Map<number, number>();
    let varies = false;
    for (let i = 0; i < rows.length; i++) {
      const group = there(by.groups[i], "a group");
      const value = there(values[there(rows[i], "a row")], "a value");
      const known = first.get(group);
      if (known === undefined) first.set(group, value);
      else if (known !== value) return false;
      if (value !== values[rows[0] ?? 0]) varies = true;
    }
    return varies;
  });
}

function judge(analysis: Analysis, candidate: Candidate): SessionAware {
  const { column, rows, by, still } = candidate;
  const differ = groupsDifferP(analysis, rows, by);
  // Whether sessions differ cannot be asked first: with few of them the question is too weak, and what follows from
  // its answer is then too sure. Tables are no visits; shots on one may well be separate evidence.
  const lead =
    isVisit(analysis, column) || still.length > 0 || (differ !== null && differ < 1 - analysis.choice.confidence);
  const recommended = tried(analysis, column);
  const untold = lead ? analysis.columns.filter((_, index) => !told(recommended, index) && told(analysis, index)) : [];
  return {
    column,
    groups: by.levels.length,
    still,
    differ,
    lead,
    sentences: lead ? leadSentences(analysis, candidate, differ, recommended, untold) : [],
    recommended,
    untold,
  };
}

/** Whether a column's groups are visits, shot in one go: by what it means, or because the user says so. */
export function isVisit({ choice }: Pick<Analysis, "choice">, { meaning }: LogColumn): boolean {
  return meaning === "session" || meaning === "date" || (choice.sessions?.length ?? 0) > 0;
}

/** Whether a fit has an interval for what it says of a driver. */
function told({ regression }: Analysis, driver: number): boolean {
  const terms = regression.terms.filter(({ drivers }) => drivers.includes(driver));
  return terms.length > 0 && terms.every(({ estimate, standardError }) => estimate === null || standardError !== null);
}

function leadSentences(
  analysis: Analysis,
  { column, rows, by, still }: Candidate,
  differ: number | null,
  recommended: Analysis,
  untold: readonly LogColumn[],
): Sentence[] {
  const session = inSentence(column.heading);
  const groups = by.levels.length;
  const come = `The ${counted(rows.length, "shot")} come from ${groups} ${severalOf(session)}`;
  const names = listOf(still.map(({ heading }) => inSentence(heading)));
  const why =
    still.length > 0
      ? `${capital(names)} never ${still.length > 1 ? "change" : "changes"} within one ${session}. ${come}, and only these ${groups} can tell what goes with ${names}: shots of one ${session} are not separate evidence.`
      : differ !== null && differ < 1 - analysis.choice.confidence
        ? say`${analysis.response.heading.text} differs from one ${session} to the next by more than the drivers and the scatter explain (${roughP(differ)}), so shots of one ${session} are not separate evidence.`
        : say`${come}. These do not show that ${severalOf(session)} differ${differ === null ? "" : say` (${roughP(differ)})`}, nor that they do not: shots of one ${session} may go together.`;
  return [
    { kind: "caution", text: why },
    {
      kind: "summary",
      text: `The answer to read is the one that takes each ${session} as shifted by a random amount; the plain fit, which counts every shot on its own, is given for comparison.`,
    },
    ...changedFindings(analysis, recommended, session, still),
    ...(untold.length > 0 ? [tooFew(session, untold)] : []),
  ];
}

/** What the sessions leave without an interval, and what would give one. */
function tooFew(session: string, untold: readonly LogColumn[]): Sentence {
  const what = listOf(untold.map(({ heading }) => inSentence(heading)));
  return {
    kind: "missing",
    text: `There are too few ${severalOf(session)} to judge ${what} with ${session} in mind, so the numbers of these rows are given without an interval: how ${severalOf(session)} differ by themselves cannot be seen. One more ${session} at settings that were shot already gives an interval, though a wide one; from two more at each setting on it is of use.`,
  };
}

/** Which drivers the sessions tell otherwise than the plain fit. */
function changedFindings(
  analysis: Analysis,
  recommended: Analysis,
  session: string,
  still: readonly LogColumn[],
): Sentence[] {
  const threshold = 1 - analysis.choice.confidence;
  const response = inSentence(analysis.response.heading);
  const plain = termTests(analysis.regression);
  return termTests(recommended.regression).flatMap(({ name, drivers, test }, index): Sentence[] => {
    const before = plain[index]?.test.p ?? null;
    const column = analysis.columns[drivers[0] ?? 0];
    if (drivers.length !== 1 || !column || before === null || test.p === null) return [];
    const driver = inSentence(column.heading);
    if (before < threshold && test.p >= threshold)
      return [
        {
          kind: "finding",
          text: say`The plain fit would call ${driver} told (${roughP(before)}); with the ${session} in mind the rows do not tell that ${response} goes with ${driver} (${pText(test.p, test.df2)}).`,
        },
      ];
    if (before >= threshold && test.p < threshold)
      return [
        {
          kind: "finding",
          text: say`The plain fit does not tell that ${response} goes with ${driver} (${roughP(before)}); with the ${session} in mind it does (${pText(test.p, test.df2)}).`,
        },
      ];
    return still.some(({ heading }) => heading.text === name)
      ? [
          {
            kind: "finding",
            text: say`For ${driver} the plain fit has ${roughP(before)}, the fit with the ${session} in mind ${pText(test.p, test.df2)}.`,
          },
        ]
      : [];
  });
}

/**
 * The same question with each session shifted by a random amount, or, where too few shots share one for that, with
 * shots of one session going together in any way; where the rows can give neither, their numbers without intervals.
 */
function tried(analysis: Analysis, column: LogColumn): Analysis {
  for (const as of ["random", "cluster"] as const) {
    try {
      return analyse(analysis.log, { ...analysis.choice, scatter: togetherBy(as, column) });
    } catch (problem) {
      if (!(problem instanceof NoAnswer)) throw problem;
    }
  }
  return { ...analysis, regression: withoutIntervals(analysis.regression) };
}

/** How sessions are taken, in one sentence. */
export function sessionsInShort({ column, groups, untold }: SessionAware): string {
  const session = inSentence(column.heading);
  return untold.length > 0
    ? `The shots come from ${groups} ${severalOf(session)}, too few to judge all by.`
    : `Each of ${groups} ${severalOf(session)} is taken as shifted by an amount of its own.`;
}

/** Terms of the plain fit as they may stand beside the answer: without an interval where the sessions allow none. */
export function plainTerms({ regression }: Analysis, aware: SessionAware | undefined): readonly Term[] {
  return noSurer(regression.terms, aware?.lead ? aware.recommended.regression.terms : undefined);
}

/** p of the sessions differing; where some rows have no session, the others are fitted by themselves. */
function groupsDifferP({ regression }: Analysis, rows: readonly number[], by: Grouping): number | null {
  const { question } = regression;
  const pick = (values: ArrayLike<number>) => rows.map((place) => there(values[place], "a value"));
  const { fit, residual } =
    rows.length === regression.rows
      ? regression
      : regress({
          ...question,
          response: pick(question.response),
          drivers: question.drivers.map((driver) => ({ ...driver, values: pick(driver.values) })),
        });
  return residual.df > 0
    ? groupsDiffer({ directions: fit.directions(), residuals: fit.residuals, df: residual.df }, by).p
    : null;
}
