/** Whether a log holds attempts, and which of its columns say so. */
import { evidenceOf, saysAttempt } from "./outcomeWords";
import { correctionAt, correctionColumn } from "./gateCorrection";
import type { LogColumn, TrialLog } from "./trialLog";

const REQUIRED = /\b(required|needed|asked|set)\b.*\bbend\b|\bbend\b.*\b(required|needed|asked|set)\b/i;
const MEASURED = /\b(measured|camera|film|video|seen)\b/i;

/**
 * Whether a column says the bend that the obstacle asked for.
 * @example isRequired({ heading: parseHeading("Required bend (in)") }) === true
 */
export function isRequired({ heading }: Pick<LogColumn, "heading">): boolean {
  return REQUIRED.test(heading.name);
}

/** The columns of a log of attempts. */
export interface AttemptColumns {
  readonly position: { readonly as: "gap" | "required"; readonly column: LogColumn };
  readonly outcome: LogColumn;
  readonly measured: LogColumn | undefined;
}

/**
 * The columns that make a log one of attempts: a gap or required bend, and an outcome with hits of the obstacle.
 * @returns undefined for a log of another kind
 */
export function attemptColumns(log: TrialLog): AttemptColumns | undefined {
  return columnsAmong(
    log,
    ({ kind }) => kind === "number",
    ({ readings }) =>
      readings.some((reading) => {
        const evidence = evidenceOf(reading, true);
        return "says" in evidence && evidence.says === "hit";
      }),
  );
}

/**
 * The columns that attempts can go into, whatever stands there yet.
 * @returns undefined for a log that has no place for them
 */
export function attemptPlaces(log: TrialLog): AttemptColumns | undefined {
  return columnsAmong(
    log,
    ({ kind }) => kind === "number" || kind === "empty",
    ({ kind }) => kind !== "number",
  );
}

function columnsAmong(
  log: TrialLog,
  holdsNumbers: (column: LogColumn) => boolean,
  holdsOutcomes: (column: LogColumn) => boolean,
): AttemptColumns | undefined {
  const outcome = log.columns.find(
    (column) => column.meaning === "made" && saysAttempt(column.heading.name) && holdsOutcomes(column),
  );
  const numbers = log.columns.filter(holdsNumbers);
  const gap = obstacleGap(numbers);
  const required = numbers.find(isRequired);
  const position = gap
    ? ({ as: "gap", column: gap } as const)
    : required && ({ as: "required", column: required } as const);
  if (!outcome || !position) return undefined;
  return {
    position,
    outcome,
    measured: numbers.find(
      (column) => column.meaning === "bend" && !isRequired(column) && MEASURED.test(column.heading.name),
    ),
  };
}

/** The gap of the obstacle before any other gap. */
function obstacleGap(numbers: readonly LogColumn[]): LogColumn | undefined {
  const gaps = numbers.filter(({ meaning }) => meaning === "gap");
  return gaps.find(({ heading }) => /\bobstacle\b/i.test(heading.name)) ?? gaps[0];
}

/**
 * Whether a column of a log of attempts says what the obstacle asked for and not what the ball did: its gap, the
 * required bend, or a bend that is the ball's radius less that gap in every row.
 */
export function asksOfObstacle(log: TrialLog, column: LogColumn): boolean {
  const columns = attemptColumns(log);
  if (!columns) return false;
  const gap = columns.position.column;
  if (column.column === gap.column || isRequired(column)) return true;
  if (column.meaning !== "bend" || columns.position.as !== "gap") return false;
  const correction = correctionColumn(log);
  const sums = column.readings.flatMap((reading, index) => {
    const other = gap.readings[index];
    const off = correctionAt(correction, index, column.heading.unit || "in");
    return reading.kind === "number" && other?.kind === "number" ? [reading.value + other.value + off] : [];
  });
  return sums.length > 1 && sums.every((sum) => Math.abs(sum - (sums[0] ?? NaN)) < 1e-9 * Math.abs(sum));
}

/** What is to be said where such a column is explained as if it were the bend. */
export function obstacleSentence({ heading }: LogColumn): string {
  return `In this log of attempts ${heading.text} is what the obstacle asked for, not what the ball did, so a fit of it tells where the obstacle was set. Ask how far it bends instead: "How far does it bend, and how surely?" in the panel, or bendbook reach.`;
}
