/** What may change and what is set up now: as kept, and a first guess from the rows for the rest. */
import type { Choice } from "../question/choice";
import type { TrialLog } from "../log/trialLog";
import type { NextForm } from "./nextWords";
import { firstNext } from "./whatNext";

/** The kept form as far as it fits the question, and a first guess for the rest. */
export function mergedNext(log: TrialLog, choice: Pick<Choice, "drivers">, kept: NextForm | undefined): NextForm {
  const first = firstNext(log, choice);
  const limits: NextForm["limits"] = Object.fromEntries(
    choice.drivers.flatMap(({ heading }) => {
      const before = kept && Object.hasOwn(kept.limits, heading) ? kept.limits[heading] : undefined;
      if (before) return [[heading, before]];
      if (kept && Object.hasOwn(kept.held, heading)) return [];
      const guessed = Object.hasOwn(first.limits, heading) ? first.limits[heading] : undefined;
      return guessed ? [[heading, guessed]] : [];
    }),
  );
  const held = Object.fromEntries(
    choice.drivers.flatMap(({ heading }) =>
      Object.hasOwn(limits, heading) ? [] : [[heading, kept?.held[heading] ?? first.held[heading] ?? ""]],
    ),
  );
  return { aim: kept?.aim ?? first.aim, limits, held, physics: kept?.physics ?? false, repeats: kept?.repeats ?? 3 };
}
