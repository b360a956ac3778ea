/**
 * Shots of one session are not separate evidence on what stayed the same all session: finds that, says it, and fits
 * with it in mind.
 */
import { groupsDiffer } from "../../statistics/errors/groupParts";
import type { Grouping } from "../../statistics/errors/errorModel";
import { regress } from "../../statistics/fit/regression";
import { termTests } from "../../statistics/fit/wholeTerms";
import { analyse, NoAnswer, type Analysis } from "./analysis";
import type { Sentence } from "./answer";
import { buildGrouping } from "./buildDriver";
import { sessionCandidates, sessionColumn, togetherBy } from "./sessions";
import { memo } from "../../statistics/numeric/memo";
import { levelOf } from "../log/reading";
import type { LogColumn } from "../log/trialLog";
import { capital, counted, inSentence, listOf, pText, severalOf } from "../language/wording";

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
  /** The fit with each session shifted by a random amount; undefined where the sessions are too few for it. */
  readonly recommended: Analysis | undefined;
}

/**
 * Looks whether the rows of a plain analysis come in sessions.
 * @returns undefined when no column says so, when the analysis already says how rows go together, or when rows have weights
 */
export function sessionAware(analysis: Analysis): SessionAware | undefined {
  if (analysis.choice.scatter || analysis.choice.weight !== undefined) return undefined;
  const { log, choice, check, response, columns } = analysis;
  const named = choice.sessions?.length ? [sessionColumn(log, choice.sessions)] : undefined;
  const candidates = (named ?? sessionCandidates(log, [response, ...columns], check.used)).flatMap((column) => {
    const found = groupsOf(analysis, column);
    return found ? [{ column, ...found, still: stillDrivers(analysis, found) }] : [];
  });
  // A column within whose groups some driver never changes says more than one that merely comes first.
  const best = candidates.find(({ still }) => still.length > 0) ?? candidates[0];
  return best && judge(analysis, best);
}

interface Candidate {
  readonly column: LogColumn;
  /** Places among the rows used that have a session. */
  readonly rows: readonly number[];
  readonly by: Grouping;
  readonly still: readonly LogColumn[];
}

const groupings = memo<{ rows: readonly number[]; by: Grouping } | undefined>();

/** The column as a grouping of those rows used that have an entry; undefined unless some rows share one and some do not. */
function groupsOf({ check }: Analysis, column: LogColumn): { rows: readonly number[]; by: Grouping } | undefined {
  const { used } = check;
  return groupings(column, [used], () => {
    const rows = used.flatMap((index, place) => (levelOf(column.readings[index]).trim() === "" ? [] : [place]));
    const by = buildGrouping(column, rows.length === used.length ? used : rows.map((place) => used[place]));
    return by.levels.length >= 2 && by.levels.length < rows.length ? { rows, by } : undefined;
  });
}

function stillDrivers(
  { columns, regression }: Analysis,
  { rows, by }: { rows: readonly number[]; by: Grouping },
): LogColumn[] {
  return columns.filter((_, index) => {
    const { values } = regression.question.drivers[index];
    const first = new Map<number, number>();
    let varies = false;
    for (let i = 0; i < rows.length; i++) {
      const group = by.groups[i];
      const value = values[rows[i]];
      const known = first.get(group);
      if (known === undefined) first.set(group, value);
      else if (known !== value) return false;
      if (value !== values[rows[0]]) varies = true;
    }
    return varies;
  });
}

function judge(analysis: Analysis, { column, rows, by, still }: Candidate): SessionAware {
  const { regression, choice, response } = analysis;
  const session = inSentence(column.heading);
  const groups = by.levels.length;
  const differ = groupsDifferP(analysis, rows, by);
  const threshold = 1 - choice.confidence;
  const lead = still.length > 0 || (differ !== null && differ < threshold);
  const recommended = tried(analysis, column);
  const sentences: Sentence[] = [];
  if (still.length > 0) {
    const names = listOf(still.map(({ heading }) => inSentence(heading)));
    sentences.push({
      kind: "caution",
      text: `${capital(names)} never ${still.length > 1 ? "change" : "changes"} within one ${session}. The ${counted(rows.length, "shot")} come from ${groups} ${severalOf(session)}, and only these ${groups} can tell what goes with ${names}: shots of one ${session} are not separate evidence.`,
    });
  } else if (lead && differ !== null) {
    sentences.push({
      kind: "caution",
      text: `${response.heading.text} differs from one ${session} to the next by more than the drivers and the scatter explain (${pText(differ)}), so shots of one ${session} are not separate evidence.`,
    });
  }
  if (lead && recommended) {
    sentences.push({
      kind: "summary",
      text: `The answer to read is the one that takes each ${session} as shifted by a random amount; the plain fit, which counts every shot on its own, is given for comparison.`,
    });
    const plain = termTests(regression);
    termTests(recommended.regression).forEach(({ name, drivers, test }, index) => {
      const before = plain[index].test.p;
      if (drivers.length !== 1 || before === null || test.p === null) return;
      const driver = inSentence(analysis.columns[drivers[0]].heading);
      if (before < threshold && test.p >= threshold) {
        sentences.push({
          kind: "finding",
          text: `The plain fit would call ${driver} told (${pText(before)}); with the ${session} in mind the rows do not tell that ${inSentence(response.heading)} goes with ${driver} (${pText(test.p)}).`,
        });
      } else if (before >= threshold && test.p < threshold) {
        sentences.push({
          kind: "finding",
          text: `The plain fit does not tell that ${inSentence(response.heading)} goes with ${driver} (${pText(before)}); with the ${session} in mind it does (${pText(test.p)}).`,
        });
      } else if (still.some(({ heading }) => heading.text === name)) {
        sentences.push({
          kind: "finding",
          text: `For ${driver} the plain fit has ${pText(before)}, the fit with the ${session} in mind ${pText(test.p)}.`,
        });
      }
    });
  } else if (lead) {
    sentences.push({
      kind: "missing",
      text: `There are too few ${severalOf(session)} to judge ${still.length > 0 ? listOf(still.map(({ heading }) => inSentence(heading))) : "how they differ"} with ${session} in mind: more of them are needed, and the plain fit makes its intervals look narrower than they are.`,
    });
  }
  return { column, groups, still, differ, lead, sentences, recommended };
}

/** The same question with each session shifted by a random amount; undefined where the rows cannot give it. */
function tried({ log, choice }: Analysis, column: LogColumn): Analysis | undefined {
  try {
    return analyse(log, { ...choice, scatter: togetherBy("random", column) });
  } catch (problem) {
    if (problem instanceof NoAnswer) return undefined;
    throw problem;
  }
}

/** p of the sessions differing; where some rows have no session, the others are fitted by themselves. */
function groupsDifferP({ regression }: Analysis, rows: readonly number[], by: Grouping): number | null {
  const { question } = regression;
  const pick = (values: ArrayLike<number>) => rows.map((place) => values[place]);
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
