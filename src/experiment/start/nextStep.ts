/** What to do next, from the state of the workbook: the first thing that is missing on the way to a report. */
import { counted } from "../language/wording";
import { attemptPlaces, isRequired } from "../log/attemptLog";
import { readingAt } from "../log/logColumns";
import type { TrialLog } from "../log/trialLog";
import { ANSWER_FROM, FIRST_SHOTS } from "./firstLog";

/** Where the workbook leads to, in a few words that follow "Next:". */
export interface NextStep {
  readonly at: "start" | "setup" | "plan" | "shoot" | "report" | "next";
  readonly text: string;
}

export interface WorkState {
  readonly log: TrialLog | undefined;
  /** A sheet says what table, ball and cloth are. */
  readonly setup: boolean;
  /** Names of all sheets. */
  readonly sheets: readonly string[];
}

/**
 * The next step.
 * @example nextStep({ log: undefined, setup: false, sheets: [] }).at === "start"
 */
export function nextStep({ log, setup, sheets }: WorkState): NextStep {
  if (!log) return { at: "start", text: "begin a log, or choose the sheet of yours" };
  const { shots, planned } = progressOf(log);
  const at = attemptPlaces(log) ? "shoot" : "plan";
  if (shots < ANSWER_FROM)
    return { at: "start", text: `${counted(ANSWER_FROM - shots, "more shot")} for a first answer` };
  if (shots < FIRST_SHOTS)
    return { at: "start", text: `${counted(FIRST_SHOTS - shots, "more shot")} for a narrower interval` };
  if (planned.length > 0)
    return { at, text: `row ${(planned[0] ?? 0) + 1}; ${counted(planned.length, "planned shot")} left` };
  if (!setup) return { at: "setup", text: "say which table, balls and cloth" };
  if (!sheets.some((name) => /^report\b/i.test(name))) return { at: "report", text: `report what ${shots} shots say` };
  return { at: "next", text: "see which setting teaches most" };
}

/** How many rows hold a shot, and the sheet rows after the last that are written for one and hold none. */
function progressOf(log: TrialLog): { shots: number; planned: readonly number[] } {
  const { columns, rows } = log;
  const places = attemptPlaces(log);
  const hasOutcomes = places && (columns.some(isRequired) || places.outcome.kind !== "empty");
  // A planned attempt has its gap already.
  const told = hasOutcomes
    ? [places.outcome, ...(places.measured ? [places.measured] : [])]
    : columns.filter(({ meaning }) => meaning === "bend" || meaning === "made" || meaning === "gap");
  const isShot = (index: number) => told.some((column) => readingAt(column, index).kind !== "blank");
  let last = -1;
  let shots = 0;
  for (let index = 0; index < rows.length; index++) {
    if (!isShot(index)) continue;
    last = index;
    shots++;
  }
  return { shots: told.length === 0 ? rows.length : shots, planned: told.length === 0 ? [] : rows.slice(last + 1) };
}
