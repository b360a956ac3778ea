/** What the order within a session says, as JSON and as text. */
import { toText } from "../experiment/language/said";
import type { Analysis } from "../experiment/question/analysis";
import type { Sentence } from "../experiment/question/answer";
import type { MadeOrder } from "../experiment/trust/madeOrder";
import type { OrderAnswer } from "../experiment/trust/order";
import { noticedOrder } from "../experiment/trust/orderWithin";

/** A number's order, or that of made or missed, where neighbours are not judged. */
export function orderJson(found: OrderAnswer | MadeOrder): Record<string, unknown> {
  const { heading, drift, changed, sentences } = found;
  const { estimate, standardError, df, p, low, high } = drift;
  return {
    order: {
      column: heading,
      drift: { estimate, standardError, df, low, high, p },
      neighbours: ("neighbours" in found && found.neighbours) || null,
      changes: changed.map((one) => toText(one)),
      sentences: sentences.map(({ text }) => toText(text)),
    },
  };
}

/**
 * The order as text: what was asked, otherwise that it can be, and what leaving it out changes.
 * @param note what the answer says of an order that nobody asked for
 */
export function orderLines(
  found: OrderAnswer | MadeOrder | undefined,
  asked: Pick<Analysis, "log" | "check" | "response" | "columns">,
  note: () => readonly Sentence[],
): string[] {
  if (found)
    return ["", `The order within a session, by ${found.heading}:`, ...found.sentences.map(({ text }) => toText(text))];
  const heading = noticedOrder(asked)?.heading.text;
  if (heading === undefined) return [];
  return [
    "",
    ...note().map(({ text }) => toText(text)),
    `${heading} says in which order the shots were taken: --order "${heading}" tells of drift within a session and of neighbouring shots.`,
  ];
}
