/** What the order within a session does to an answer on made or missed. */
import { say, type Said } from "../language/said";
import { logistic, type LogisticQuestion } from "../../statistics/fit/logistic";
import type { Term } from "../../statistics/fit/estimates";
import { bareTerm } from "../../statistics/fit/withoutIntervals";
import { there } from "../../there";
import { fixed, confidenceText, inSentence, pText } from "../language/wording";
import type { Sentence } from "../question/answer";
import { groupings } from "../question/groupings";
import type { MadeAnalysis } from "../question/madeAnalysis";
import { leadingMade } from "../question/madeSessions";
import { isVisit } from "../question/sessionAware";
import { changedSentence, noticedOrder, orderWithin } from "./orderWithin";

export interface MadeOrder {
  readonly heading: string;
  /** Change of the logarithm of the odds from one shot to the next of a session, the drivers alike. */
  readonly drift: Term;
  /** What is told otherwise of the drivers once the order is in the fit. */
  readonly changed: readonly Said[];
  readonly sentences: readonly Sentence[];
}

/**
 * The question with a term for the order within each session. Whether makes and misses come in runs beyond that is not
 * judged: what a shot leaves is 0 or 1 about its chance, and the moments behind the check of a number are of normal
 * scatter.
 * @throws UnknownColumn as orderWithin does
 */
export function madeOrder(plain: MadeAnalysis, heading: string): MadeOrder {
  const analysis = leadingMade(plain);
  const { question, terms } = analysis.logistic;
  const by = question.by ?? groupings(analysis).find(({ column }) => isVisit(analysis, column))?.by;
  const { heading: name, values } = orderWithin(analysis, heading, by);
  const asked: LogisticQuestion = {
    ...question,
    drivers: [...question.drivers, { kind: "number", name, values, degree: 1 }],
  };
  const ordered = logistic(asked).terms;
  const found = there(ordered[ordered.length - 1], "a term for the order");
  // Where the sessions allow no interval at all, none is given of the drift.
  const bare = analysis !== plain && !question.by;
  const drift = bare ? bareTerm(found) : found;
  const changed = bare ? [] : changedBy(analysis.logistic.confidence, terms, ordered);
  return { heading: name, drift, changed, sentences: said(analysis, drift, changed, by !== undefined) };
}

/** What the answer says of an order that nobody asked for, as orderNote does. */
export function madeOrderNote(plain: MadeAnalysis, heading = noticedOrder(plain)?.heading.text): Sentence[] {
  if (heading === undefined || plain.check.used.length > LOOKED_AT) return [];
  const { changed, sentences } = madeOrder(plain, heading);
  return changed.length > 0 ? sentences.slice(-1) : [];
}
const LOOKED_AT = 5_000;

function changedBy(confidence: number, before: readonly Term[], after: readonly Term[]): Said[] {
  const level = 1 - confidence;
  return before.flatMap(({ label, drivers, p }) => {
    const now = after.find((term) => term.label === label)?.p ?? null;
    if (drivers.length === 0 || p === null || now === null || p < level === now < level) return [];
    return [
      say`${label} ${now < level ? "is told" : "is not told any more"} (${pText(now)}; without the order ${pText(p)})`,
    ];
  });
}

function said(
  { response, logistic: { confidence } }: MadeAnalysis,
  { estimate, low, high, p }: Term,
  changed: readonly Said[],
  sessions: boolean,
): Sentence[] {
  const session = sessions ? "session" : "row of shots";
  const name = inSentence(response.heading);
  const times = (value: number) => fixed(Math.exp(value), 3);
  const drift: Sentence =
    estimate === null || low === null || high === null || p === null
      ? { kind: "missing", text: `Whether ${name} drifts within a ${session} cannot be told from these rows.` }
      : p < 1 - confidence
        ? {
            kind: "finding",
            text: say`Within a ${session} the odds of making the shot change: from one shot to the next times ${times(estimate)}, ${confidenceText(confidence)} % interval ${times(low)} to ${times(high)} (${pText(p)}), the drivers alike.`,
          }
        : { kind: "open", text: say`No sign that ${name} drifts within a ${session} (${pText(p)}).` };
  return [
    drift,
    {
      kind: "missing",
      text: "Whether makes and misses come in runs beyond that is not judged: the check for neighbouring shots is one of numbers.",
    },
    changedSentence(changed, session),
  ];
}
