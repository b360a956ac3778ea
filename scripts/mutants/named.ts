/** Faults that once lived and must not again, wherever they stand. */
import type { Mutant } from "./mutate";

interface Named {
  readonly what: string;
  /** @throws Error when the source no longer holds what is changed exactly once */
  mutant(textOf: (file: string) => string): Mutant;
}

function named(what: string, file: string, before: string, from: string, to: string): Named {
  return {
    what,
    mutant(textOf) {
      const text = textOf(file);
      const at = text.indexOf(before + from);
      if (at < 0 || text.indexOf(before + from, at + 1) >= 0)
        throw new Error(`${file} does not hold "${before}${from}" once: mend scripts/mutants/named.ts`);
      const start = at + before.length;
      const lines = text.slice(0, start).split("\n");
      const column = (lines.at(-1)?.length ?? 0) + 1;
      const end = start + from.length;
      return { file, line: lines.length, column, from, to, start, end, around: { start, end } };
    },
  };
}

export const NAMED: readonly Named[] = [
  named("CR2's guard against 1/√0", "src/statistics/errors/clusterErrors.ts", "1 - value > ", "1e-10", "-1"),
  named("the plan's rounding", "src/experiment/plan/plan.ts", ".toPrecision(", "6", "3"),
  named("an arrival twice as far", "src/bank/layout.ts", 'place("arrival", ', "1", "2"),
  named("inches into millimetres outside BEND", "src/functions/arguments.ts", "inches * ", "25.4", "1"),
];
