/**
 * What the outcome of an attempt says of the bend: got by means at least what the obstacle asked for, a hit less, and
 * whatever else went wrong nothing.
 */
import { listOf } from "../language/said";
import { doubtfulOutcome, outcomeOf, OUTCOMES, yesOf, type Outcome } from "./outcome";
import { levelOf, type Reading } from "./reading";

export type Evidence = "got by" | "hit" | "nothing";

const EVIDENCE: Readonly<Record<Outcome, Evidence>> = {
  made: "got by",
  cleared: "got by",
  "hit obstacle": "hit",
  missed: "nothing",
};

/**
 * Words that mean the obstacle wherever an obstacle is set; in a column headed Made they may mean that the shot was
 * made.
 */
const OBSTACLE = new Set(["hit", "hits", "touched", "touch"]);

const MADE = /\bmade\b|\bmake\b|\bpocketed\b/i;

/**
 * Whether a column of that heading says how an attempt ended, so that a bare hit means the obstacle.
 * @example saysAttempt("Outcome") === true
 */
export function saysAttempt(heading: string): boolean {
  return !MADE.test(heading);
}

/**
 * What a cell says of the bend, or why it says nothing that can be counted.
 * @param attempt whether the column says how attempts ended, see `saysAttempt`
 * @example evidenceOf({ kind: "word", text: "hit" }, true) // { says: "hit" }
 */
export function evidenceOf(
  reading: Reading,
  attempt: boolean,
): { readonly says: Evidence } | { readonly problem: string } {
  if (reading.kind === "blank") return { problem: "blank" };
  if (reading.kind === "unusable") return { problem: reading.reason };
  const outcome = outcomeOf(reading);
  if (outcome) return { says: EVIDENCE[outcome] };
  const text = levelOf(reading);
  if (attempt && OBSTACLE.has(text.toLowerCase())) return { says: "hit" };
  if (yesOf(reading) === 1) return { says: "got by" };
  const doubtful = doubtfulOutcome(reading);
  const [first, ...others] = new Set(doubtful?.map((one) => EVIDENCE[one]));
  if (first !== undefined && others.length === 0) return { says: first };
  if (doubtful) return { problem: `"${text}", which can mean ${listOf(doubtful, "or")}: write which` };
  if (yesOf(reading) === 0 || text.toLowerCase() === "out")
    return { problem: `"${text}", which does not say whether the obstacle was hit: write ${listOf(OUTCOMES, "or")}` };
  return { problem: `"${text}", which is no outcome: write ${listOf(OUTCOMES, "or")}` };
}
