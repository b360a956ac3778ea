/** What the attempts cannot tell, and which attempt would tell it. */
import { say, type Said } from "../language/said";
import type { Untold } from "../../statistics/censored/censoredFit";
import type { Sentence } from "../question/answer";
import { counted, fixed, withUnit } from "../language/wording";
import type { ReachAnswer } from "./reach";

/** One sentence for each thing that cannot be told. */
export function untoldSentences(answer: ReachAnswer): Sentence[] {
  return answer.fit.untold.map((untold): Sentence => ({ kind: "missing", text: untoldText(untold, answer) }));
}

function untoldText(untold: Untold, { attempts, question }: ReachAnswer): Said {
  const { counts, unit } = attempts;
  const at = (bound: number) => withUnit(fixed(bound, unit === "mm" ? 1 : 3), unit);
  switch (untold.kind) {
    case "one row":
      return "One attempt says on which side of the obstacle's bend it lay, and nothing more: shoot again, closer after getting by and farther after a hit.";
    case "only at least":
      return `All ${counts.cleared} attempts got by, so only a lower bound can be told: set the obstacle closer until it is hit.`;
    case "only less than":
      return `All ${counts.hit} attempts hit the obstacle, so only an upper bound can be told: move the obstacle back until an attempt gets by.`;
    case "clean step":
      return untold.from === untold.to
        ? say`Every attempt got by an obstacle that asked for less than ${at(untold.from)}, and every one hit beyond: the scatter cannot be told, it may be anything small. Attempts at places between would tell.`
        : say`Every attempt up to ${at(untold.from)} got by and every one from ${at(untold.to)} hit: the bend at one half lies about there, but the scatter cannot be told, it may be anything small. Repeat attempts between the two.`;
    case "parted":
      return `${question.sessions.length > 0 ? "The sessions and drivers tell" : "The drivers tell"} got by from hit without exception, so the scatter cannot be told and no coefficient has a highest likelihood: more attempts near the step are needed, or fewer drivers.`;
    case "clean but for misjudged":
      return "But for attempts that may be misjudged, all got by up to one bend and hit beyond it: the scatter cannot be told, it may be anything small. Repeat attempts near the bend at one half, and look twice at how they end.";
    case "backwards":
      return "Obstacles that asked for more were got by no less often than those that asked for less, so the attempts do not tell how far it bends: check the gaps and the outcomes, or shoot over a wider range.";
    case "few sessions":
      return `${counted(untold.groups, "session")} cannot tell how sessions differ: the intervals say so by their width, and what holds in a session yet to come is not told. Five or more sessions would.`;
    default:
      return untold satisfies never;
  }
}
