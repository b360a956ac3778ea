/** Drift, warm-up and likeness of neighbouring shots: what the order within a session does to an answer. */
import { neighbours, type Neighbours } from "../../statistics/checks/neighbours";
import { membersOf } from "../../statistics/errors/errorModel";
import { regress } from "../../statistics/fit/regression";
import type { Term } from "../../statistics/fit/estimates";
import { termTests } from "../../statistics/fit/wholeTerms";
import type { Analysis } from "../question/analysis";
import { numbersOf } from "../question/buildDriver";
import type { Sentence } from "../question/answer";
import { columnNamed, UnknownColumn } from "../question/rowCheck";
import { sessionAware } from "../question/sessionAware";
import { decimalsFor, fixed, inSentence, pText, significant, withUnit } from "../language/wording";
import { there } from "../../there";
import { sessionsOf, withinSessions } from "./together";

export interface OrderAnswer {
  readonly heading: string;
  /** Change of the response from one shot to the next of a session, the drivers alike. */
  readonly drift: Term;
  /** Undefined where there are too few neighbours to judge. */
  readonly neighbours: Neighbours | undefined;
  readonly sentences: readonly Sentence[];
}

/**
 * The question with a term for the order within each session: 1 for its first shot by the column's number or time.
 * @throws UnknownColumn when there is no such column, it has another part in the question, or it holds no number in a
 * row used
 */
export function orderAnswer(plain: Analysis, heading: string): OrderAnswer {
  const aware = sessionAware(plain);
  const analysis = aware?.lead ? aware.recommended : plain;
  const column = columnNamed(analysis.log, heading);
  if (column === analysis.response || analysis.columns.includes(column))
    throw new UnknownColumn(
      `"${column.heading.text}" is asked for both as the order and as another part of the question: take it out of one.`,
    );
  const numbers = numbersOf(column, analysis.check.used);
  if (numbers.some(Number.isNaN))
    throw new UnknownColumn(
      `"${column.heading.text}" holds no number or time in some of the rows used: number the shots of each session to ask for their order.`,
    );
  const by = sessionsOf(analysis);
  const values = new Array<number>(numbers.length).fill(0);
  const sessions = by ? membersOf(by) : [numbers.map((_, row) => row)];
  for (const rows of sessions)
    [...rows]
      .sort((a, b) => there(numbers[a], "a number of the shot") - there(numbers[b], "a number of the shot"))
      .forEach((row, place) => (values[row] = place + 1));
  const order = { kind: "number" as const, name: column.heading.text, values, degree: 1 };
  const ordered = regress({
    ...analysis.regression.question,
    drivers: [...analysis.regression.question.drivers, order],
  });
  const drift = ordered.terms.find(({ drivers }) => drivers.includes(ordered.question.drivers.length - 1)) as Term;
  const { question } = withinSessions(analysis);
  const found = neighbours(regress({ ...question, drivers: [...question.drivers, order] }), numbers, by);
  const changed = changedBy(analysis, termTests(analysis.regression), termTests(ordered));
  return { heading: column.heading.text, drift, neighbours: found, sentences: said(analysis, drift, found, changed) };
}

/** Names of the drivers of which the order changes what is said. */
function changedBy(
  { regression, columns }: Analysis,
  before: ReturnType<typeof termTests>,
  after: ReturnType<typeof termTests>,
): string[] {
  const level = 1 - regression.confidence;
  return columns.flatMap(({ heading }, index) => {
    const [without, withOrder] = [before[index]?.test.p ?? null, after[index]?.test.p ?? null];
    if (without === null || withOrder === null || without < level === withOrder < level) return [];
    return [
      `${inSentence(heading)} ${withOrder < level ? "is told" : "is not told any more"} (${pText(withOrder)}; without the order ${pText(without)})`,
    ];
  });
}

function said(
  { response, regression, choice }: Analysis,
  { estimate, standardError, low, high, p }: Term,
  found: Neighbours | undefined,
  changed: readonly string[],
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
            text: `Within a ${session} ${name} drifts: from one shot to the next by ${withUnit(fixed(estimate, decimalsFor(standardError)), unit)}, ${significant(100 * regression.confidence, 4)} % interval ${fixed(low, decimalsFor(standardError))} to ${fixed(high, decimalsFor(standardError))} (${pText(p)}), the drivers alike.`,
          }
        : { kind: "open", text: `No sign that ${name} drifts within a ${session} (${pText(p)}).` };
  const beside: Sentence = !found
    ? { kind: "missing", text: "There are too few neighbouring shots to judge whether they go together." }
    : found.p < level
      ? {
          kind: "caution",
          text: `Neighbouring shots go together (correlation ${significant(found.correlation, 2)}, ${pText(found.p)}, moments after Durbin and Watson, 1950): shots of one ${session} tell less than so many on their own. Ask for shots of one session together in any way.`,
        }
      : { kind: "open", text: `No sign that neighbouring shots go together (${pText(found.p)}).` };
  return [
    drift,
    beside,
    changed.length > 0
      ? {
          kind: "caution",
          text: `With the order in the fit ${changed.join("; ")}: leaving it out changes what is said.`,
        }
      : { kind: "open", text: `Leaving the order out changes nothing of what is told of the drivers.` },
  ];
}
