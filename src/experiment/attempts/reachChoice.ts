/** How far does it bend, as it is asked in the panel: guessed from the log, kept with the workbook. */
import { asRecord } from "../language/keptObject";
import type { DriverChoice } from "../question/choice";
import type { TrialLog } from "../log/trialLog";
import { attemptColumns } from "../log/attemptLog";
import { USUAL_PROBABILITIES, type ReachQuestion } from "./reach";

/** What is asked. Headings as in the sheet. */
export interface ReachChoice {
  readonly position: { readonly as: "gap" | "required"; readonly heading: string };
  readonly outcome: string;
  readonly measured?: string;
  readonly drivers: readonly DriverChoice[];
  readonly sessions: readonly string[];
  readonly confidence: number;
  /** Share of outcomes that are taken for the opposite of what happened; none when left out. */
  readonly misjudged?: number;
  /** Settings of the drivers as typed, by heading; a number's mean and the first level where missing. */
  readonly at?: Readonly<Record<string, string>>;
  /** A bend to get by, and in how many tries, as typed; "" for none. */
  readonly target: string;
  readonly tries: string;
}

/** The first guess: the log's own columns, its session, and no driver. */
export function guessReach(log: TrialLog): ReachChoice | undefined {
  const columns = attemptColumns(log);
  if (!columns) return undefined;
  const { position, outcome, measured } = columns;
  const session = log.columns.find(({ meaning, kind }) => meaning === "session" && kind !== "empty");
  return {
    position: { as: position.as, heading: position.column.heading.text },
    outcome: outcome.heading.text,
    ...(measured && { measured: measured.heading.text }),
    drivers: [],
    sessions: session ? [session.heading.text] : [],
    confidence: 0.95,
    target: "",
    tries: "",
  };
}

/**
 * Whether a log is first asked how far it bends: it holds attempts, and no other gap that tells the bend of each shot.
 */
export function leadsWithReach(log: TrialLog): boolean {
  const columns = attemptColumns(log);
  if (!columns) return false;
  return !log.columns.some(
    ({ meaning, kind, column }) => meaning === "gap" && kind === "number" && column !== columns.position.column.column,
  );
}

/** The question that the choice asks, less what the sheet has not. */
export function questionOf(log: TrialLog, choice: ReachChoice): { question: ReachQuestion; missing: string[] } {
  const has = new Set(log.columns.map(({ heading }) => heading.text));
  const { measured, drivers, sessions, position, outcome, confidence, at = {}, misjudged = 0 } = choice;
  const missing = [...drivers.map(({ heading }) => heading), ...sessions, ...(measured ? [measured] : [])].filter(
    (heading) => !has.has(heading),
  );
  return {
    missing,
    question: {
      position,
      outcome,
      ...(measured !== undefined && has.has(measured) && { measured }),
      drivers: drivers.filter(({ heading }) => has.has(heading)),
      sessions: sessions.filter((heading) => has.has(heading)),
      at,
      probabilities: USUAL_PROBABILITIES,
      confidence,
      misjudged,
    },
  };
}

/** Reads a kept choice; undefined where it is none. */
export function parseReach(kept: unknown): ReachChoice | undefined {
  const raw = asRecord(kept);
  const position = asRecord(raw.position);
  if (typeof position.heading !== "string" || typeof raw.outcome !== "string") return undefined;
  const text = (value: unknown) => (typeof value === "string" ? value : "");
  return {
    position: { as: position.as === "required" ? "required" : "gap", heading: position.heading },
    outcome: raw.outcome,
    ...(typeof raw.measured === "string" && { measured: raw.measured }),
    drivers: (Array.isArray(raw.drivers) ? raw.drivers : [])
      .map(asRecord)
      .flatMap((driver): DriverChoice[] =>
        typeof driver.heading === "string"
          ? [{ heading: driver.heading, as: driver.as === "category" ? "category" : "number", degree: 1 }]
          : [],
      ),
    sessions: (Array.isArray(raw.sessions) ? raw.sessions : []).filter((one) => typeof one === "string"),
    confidence: typeof raw.confidence === "number" && raw.confidence > 0 && raw.confidence < 1 ? raw.confidence : 0.95,
    ...(typeof raw.misjudged === "number" && raw.misjudged > 0 && raw.misjudged < 0.5 && { misjudged: raw.misjudged }),
    ...(raw.at !== undefined && {
      at: Object.fromEntries(Object.entries(asRecord(raw.at)).map(([heading, value]) => [heading, text(value)])),
    }),
    target: text(raw.target),
    tries: text(raw.tries),
  };
}
