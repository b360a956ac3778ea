/** What the order within a session says, as JSON and as text. */
import type { OrderAnswer } from "../experiment/trust/order";

export function orderJson({ heading, drift, neighbours, sentences }: OrderAnswer): Record<string, unknown> {
  const { estimate, standardError, df, p, low, high } = drift;
  return {
    order: {
      column: heading,
      drift: { estimate, standardError, df, low, high, p },
      neighbours: neighbours ?? null,
      sentences: sentences.map(({ text }) => text),
    },
  };
}

export function orderLines({ heading, sentences }: OrderAnswer): string[] {
  return ["", `The order within a session, by ${heading}:`, ...sentences.map(({ text }) => text)];
}
