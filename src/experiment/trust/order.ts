/** Drift, warm-up and likeness of neighbouring shots: what the order within a session does to an answer. */
import { say, type Said } from "../language/said";
import { neighbours, type Neighbours } from "../../statistics/checks/neighbours";
import { plainFit, type WithinGroups } from "../../statistics/checks/withinGroups";
import type { Grouping } from "../../statistics/errors/errorModel";
import type { Driver } from "../../statistics/fit/designMatrix";
import { regress } from "../../statistics/fit/regression";
import type { Term } from "../../statistics/fit/estimates";
import { bareTerm } from "../../statistics/fit/withoutIntervals";
import { termTests } from "../../statistics/fit/wholeTerms";
import { there } from "../../there";
import type { Analysis } from "../question/analysis";
import type { Sentence } from "../question/answer";
import { leading } from "../question/sessionAware";
import { decimalsFor, fixed, inSentence, pText, significant, withUnit } from "../language/wording";
import { changedSentence, noticedOrder, orderWithin } from "./orderWithin";
import { sessionsOf, withoutLevels } from "./together";

export interface OrderAnswer {
  readonly heading: string;
  /** Change of the response from one shot to the next of a session, the drivers alike. */
  readonly drift: Term;
  /** Undefined where there are too few neighbours to judge. */
  readonly neighbours: Neighbours | undefined;
  /** What is told otherwise of the drivers once the order is in the fit. */
  readonly changed: readonly Said[];
  readonly sentences: readonly Sentence[];
}

/**
 * The question with a term for the order within each session: 1 for its first shot by the column's number or time.
 * @throws UnknownColumn when there is no such column, it has another part in the question, or it holds no number in a
 * row used
 */
export function orderAnswer(plain: Analysis, heading: string): OrderAnswer {
  const analysis = leading(plain);
  // Where the sessions allow no interval at all, none is given of the drift.
  const bare = analysis !== plain && analysis.regression.question.errors === undefined;
  const by = sessionsOf(analysis);
  const { heading: name, places, values } = orderWithin(analysis, heading, by);
  const order = { kind: "number" as const, name, values, degree: 1 };
  const ordered = regress({
    ...analysis.regression.question,
    drivers: [...analysis.regression.question.drivers, order],
  });
  const found = there(
    ordered.terms.find(({ drivers }) => drivers.includes(ordered.question.drivers.length - 1)),
    "a term for the order",
  );
  const drift = bare ? bareTerm(found) : found;
  const beside = neighbours(besideOrder(analysis, order, by), places);
  const changed = bare ? [] : changedBy(analysis, termTests(analysis.regression), termTests(ordered));
  return { heading: name, drift, neighbours: beside, changed, sentences: said(analysis, drift, beside, changed) };
}

/** The plain fit with the order in it, sessions taken out where there are any. */
function besideOrder({ regression }: Analysis, order: Driver, by: Grouping | undefined): WithinGroups {
  const { errors: _errors, ...question } = regression.question;
  const plain = regress({ ...question, drivers: [...question.drivers, order] });
  return by && !question.weights ? withoutLevels(plain, by) : plainFit(plain);
}

/** With more rows than this, the order is looked at only where it is asked for. */
const LOOKED_AT = 20_000;

/**
 * What the answer says of an order that nobody asked for: that leaving it out changes what is told, and nothing
 * otherwise.
 * @param heading of the column that says the order; the one that a heading tells of unless said
 */
export function orderNote(plain: Analysis, heading = noticedOrder(plain)?.heading.text): Sentence[] {
  if (heading === undefined || plain.check.used.length > LOOKED_AT) return [];
  const { changed, sentences } = orderAnswer(plain, heading);
  return changed.length > 0 ? sentences.slice(-1) : [];
}

/** Names of the drivers of which the order changes what is said. */
function changedBy(
  { regression, columns }: Analysis,
  before: ReturnType<typeof termTests>,
  after: ReturnType<typeof termTests>,
): Said[] {
  const level = 1 - regression.confidence;
  return columns.flatMap(({ heading }, index) => {
    const [without, withOrder] = [before[index]?.test.p ?? null, after[index]?.test.p ?? null];
    if (without === null || withOrder === null || without < level === withOrder < level) return [];
    return [
      say`${inSentence(heading)} ${withOrder < level ? "is told" : "is not told any more"} (${pText(withOrder)}; without the order ${pText(without)})`,
    ];
  });
}

function said(
  { response, regression, choice }: Analysis,
  { estimate, standardError, low, high, p }: Term,
  found: Neighbours | undefined,
  changed: readonly Said[],
): Sentence[] {
  const level = 1 - regression.confidence;
  const name = inSentence(response.heading);
  const { unit } = response.heading;
  const session = choice.scatter && choice.scatter.as !== "robust" ? "session" : "row of shots";
  const drift: Sentence =
    estimate === null || standardError === null || low === null || high === null || p === null
      ? { kind: "missing", text: `Whether ${name} drifts within a ${session} cannot be told from these rows.` }
      : p < level
        ? {
            kind: "finding",
            text: say`Within a ${session} ${name} drifts: from one shot to the next by ${withUnit(fixed(estimate, decimalsFor(standardError)), unit)}, ${significant(100 * regression.confidence, 4)} % interval ${fixed(low, decimalsFor(standardError))} to ${fixed(high, decimalsFor(standardError))} (${pText(p)}), the drivers alike.`,
          }
        : { kind: "open", text: say`No sign that ${name} drifts within a ${session} (${pText(p)}).` };
  const beside: Sentence = !found
    ? { kind: "missing", text: "There are too few neighbouring shots to judge whether they go together." }
    : found.p < level
      ? {
          kind: "caution",
          text: say`Neighbouring shots go together (correlation ${significant(found.correlation, 2)}, ${pText(found.p)}, moments after Durbin and Watson, 1950): shots of one ${session} tell less than so many on their own. Ask for shots of one session together in any way.`,
        }
      : { kind: "open", text: say`No sign that neighbouring shots go together (${pText(found.p)}).` };
  return [drift, beside, changedSentence(changed, session)];
}
