/** Made or missed where shots come in sessions: the answer with them in mind leads, as it does for a number. */
import { say, listOf, capital } from "../language/said";
import { bareTerm } from "../../statistics/fit/withoutIntervals";
import { memo } from "../../statistics/numeric/memo";
import { NoAnswer } from "./analysis";
import type { Sentence } from "./answer";
import { analyseMade, type MadeAnalysis } from "./madeAnalysis";
import { isVisit, plainWanted, sessionsAmong } from "./sessionAware";
import { togetherBy } from "./sessions";
import type { LogColumn } from "../log/trialLog";
import { counted, inSentence, pText, severalOf } from "../language/wording";

export interface MadeSessions {
  readonly column: LogColumn;
  /** How many sessions the rows used come from. */
  readonly groups: number;
  /** Drivers that never change within a session, though they do from one to the next. */
  readonly still: readonly LogColumn[];
  /** Drivers of which the sessions allow no interval: that of shots on their own must not stand in its place. */
  readonly untold: readonly LogColumn[];
  /** Why the sessions count, and what changes. */
  readonly sentences: readonly Sentence[];
  /** The fit to read. */
  readonly recommended: MadeAnalysis;
}

/**
 * @returns undefined when no column says that shots come in sessions, or when the question already says how they go
 * together
 */
export function madeSessions(analysis: MadeAnalysis): MadeSessions | undefined {
  return analysis.choice.scatter ? undefined : remembered(analysis, [], () => judged(analysis));
}
const remembered = memo<MadeSessions | undefined>(1);

/** The answer that is read first: with sessions in mind where there are any, unless the plain one was asked for. */
export function leadingMade(plain: MadeAnalysis, plainFirst = false): MadeAnalysis {
  const sessions = madeSessions(plain);
  return sessions && !plainWanted(sessions, plainFirst) ? sessions.recommended : plain;
}

function judged(analysis: MadeAnalysis): MadeSessions | undefined {
  const { logistic } = analysis;
  const found = sessionsAmong(analysis, logistic.question.drivers);
  if (!found || !(isVisit(analysis, found.column) || found.still.length > 0)) return undefined;
  const { column, by, rows, still } = found;
  const recommended = tried(analysis, column);
  const untold = untoldOf(recommended);
  const come = { session: inSentence(column.heading), groups: by.levels.length, shots: rows.length, still };
  return {
    column,
    groups: by.levels.length,
    still,
    untold,
    recommended,
    sentences: sentencesOf(analysis, recommended, come, untold),
  };
}

/** The fit with each session shifted; where its shots do not tell how they scatter within one, the numbers alone. */
function tried(analysis: MadeAnalysis, column: LogColumn): MadeAnalysis {
  try {
    return analyseMade(analysis.log, { ...analysis.choice, scatter: togetherBy("random", column) });
  } catch (problem) {
    if (!(problem instanceof NoAnswer)) throw problem;
    const { logistic } = analysis;
    const chance = (settings: Parameters<typeof logistic.chance>[0]) => {
      const found = logistic.chance(settings);
      return found && { chance: found.chance, low: 0, high: 1 };
    };
    return { ...analysis, logistic: { ...logistic, terms: logistic.terms.map(bareTerm), chance } };
  }
}

function untoldOf({ logistic: { terms }, columns }: MadeAnalysis): LogColumn[] {
  const bare = terms.filter(({ estimate, standardError }) => estimate !== null && standardError === null);
  return columns.filter((_, index) => bare.some(({ drivers }) => drivers.includes(index)));
}

/** How the shots come. */
interface Come {
  readonly session: string;
  readonly groups: number;
  readonly shots: number;
  readonly still: readonly LogColumn[];
}

function sentencesOf(
  plain: MadeAnalysis,
  recommended: MadeAnalysis,
  { session, groups, shots, still }: Come,
  untold: readonly LogColumn[],
): Sentence[] {
  const names = listOf(still.map(({ heading }) => inSentence(heading)));
  const come = `The ${counted(shots, "shot")} come from ${groups} ${severalOf(session)}`;
  const threshold = 1 - plain.logistic.confidence;
  return [
    {
      kind: "caution",
      text:
        still.length > 0
          ? `${capital(names)} never ${still.length > 1 ? "change" : "changes"} within one ${session}. ${come}, and only these ${groups} can tell what goes with ${names}: shots of one ${session} are not separate evidence.`
          : `${come}, and shots of one ${session} may go together. The answer takes each ${session} as shifted by a random amount.`,
    },
    ...plain.logistic.terms.flatMap((before, index): Sentence[] => {
      const after = recommended.logistic.terms[index];
      if (
        before.drivers.length === 0 ||
        before.p === null ||
        !after ||
        after.p === null ||
        after.label !== before.label
      )
        return [];
      return before.p < threshold && after.p >= threshold
        ? [
            {
              kind: "finding",
              text: say`Counting every shot on its own would call ${before.label} told (${pText(before.p)}); with the ${session} in mind the rows do not tell it (${pText(after.p)}).`,
            },
          ]
        : [];
    }),
    ...(untold.length > 0
      ? [
          {
            kind: "missing" as const,
            text: `There are too few ${severalOf(session)} for an interval of ${listOf(untold.map(({ heading }) => inSentence(heading)))}, so only the numbers of these rows are given: one more ${session} at settings that were shot already gives an interval, though a wide one; from two more at each setting on it is of use.`,
          },
        ]
      : []),
  ];
}
