/** What a problem says. */

/** The message of an Error, and whatever else was thrown as text. @example messageOf("no") === "no" */
export function messageOf(problem: unknown): string {
  return problem instanceof Error ? problem.message : String(problem);
}
