/** The method of an answer in a few words, for a sheet or a report. */
import { listOf } from "../language/said";
import { headingsOf, type Choice } from "../question/choice";
import type { MadeAnalysis } from "../question/madeAnalysis";

/** How the question was answered, in a few words. */
export function methodOf({ scatter, weight }: Pick<Choice, "scatter" | "weight">): string {
  if (weight !== undefined) return `${methodOf({ ...(scatter && { scatter }) })}; rows weighted by ${weight}`;
  if (!scatter) return "least squares; intervals from Student's t, every row on its own";
  if (scatter.as === "robust") return "least squares; errors corrected for unequal spread, intervals from Student's t";
  if (scatter.as === "cluster")
    return `least squares; errors for rows of one ${listOf(headingsOf(scatter))} together in any way, intervals from Student's t`;
  return `restricted maximum likelihood; each ${listOf(headingsOf(scatter))} shifted by a random amount, intervals from Student's t`;
}

/** The same for made or missed. */
export function madeMethod(method: MadeAnalysis["logistic"]["method"], scatter: Choice["scatter"]): string {
  const lead = `logistic regression by ${method}`;
  if (!scatter || scatter.as === "robust") return `${lead}, every shot on its own`;
  const session = listOf(headingsOf(scatter));
  return scatter.as === "random"
    ? `${lead}; each ${session} shifted by a random amount`
    : `${lead}; errors for shots of one ${session} together in any way`;
}
