/**
 * What a cell says of how an attempt ended.
 * Got by and pocketed is made, got by only is cleared; hit obstacle says that the bend was too small; missed says
 * nothing of the bend (off line, a gate touched, jumped, scratched).
 */
import type { Reading } from "./reading";

export const OUTCOMES = ["made", "cleared", "hit obstacle", "missed"] as const;
export type Outcome = (typeof OUTCOMES)[number];

const YES = new Set(["yes", "y", "true", "1"]);
const NO = new Set(["no", "n", "false", "0"]);

const SAYS = new Map<string, Outcome>([
  ...["made", "make", "in", "potted", "pocketed"].map((word) => [word, "made"] as const),
  ...["cleared"].map((word) => [word, "cleared"] as const),
  ...[
    "hit obstacle",
    "hit the obstacle",
    "obstacle hit",
    "touched obstacle",
    "touched the obstacle",
    "obstacle touched",
  ].map((word) => [word, "hit obstacle"] as const),
  ...[
    "missed",
    "miss",
    "wrong line",
    "off line",
    "jumped",
    "hopped",
    "scratched",
    "scratch",
    "hit gate",
    "hit a gate",
    "hit the gate",
    "touched gate",
    "touched a gate",
    "touched the gate",
  ].map((word) => [word, "missed"] as const),
]);

/**
 * Words that people use for more than one outcome. "Hit" is a made shot to some, but here the ball hits the obstacle; a
 * guess would turn failures into successes, so whoever wrote the word is asked.
 */
const DOUBTFUL = new Map<string, readonly Outcome[]>([
  ...["hit", "hits"].map((word) => [word, ["made", "hit obstacle"]] as const),
  ...["touch", "touched", "kiss", "kissed", "graze", "grazed", "clipped", "contact"].map(
    (word) => [word, ["hit obstacle", "missed"]] as const,
  ),
  ...["good", "ok", "okay", "success", "successful", "pass", "passed", "clear", "got by", "through", "by"].map(
    (word) => [word, ["made", "cleared"]] as const,
  ),
  ...["bad", "fail", "failed", "failure", "off"].map((word) => [word, ["cleared", "hit obstacle", "missed"]] as const),
  ...["stopped", "blocked"].map((word) => [word, ["hit obstacle", "missed"]] as const),
]);

/** What the cell spells, in small letters; undefined for what cannot be a word of an outcome. */
function wordOf(reading: Reading): string | undefined {
  if (reading.kind === "number") return String(reading.value);
  return reading.kind === "word" ? reading.text.toLowerCase() : undefined;
}

/**
 * The outcome that a cell names; undefined where it names none, as a plain yes or no.
 * @example outcomeOf({ kind: "word", text: "Hit obstacle" }) === "hit obstacle"
 */
export function outcomeOf(reading: Reading): Outcome | undefined {
  return SAYS.get(wordOf(reading) ?? "");
}

/**
 * 1 for a shot made, 0 for one that was not; undefined for anything that does not say which.
 * @example madeOf({ kind: "word", text: "Yes" }) === 1
 */
export function madeOf(reading: Reading): 0 | 1 | undefined {
  const outcome = outcomeOf(reading);
  if (outcome) return outcome === "made" ? 1 : 0;
  return wordOf(reading) === "out" ? 0 : yesOf(reading);
}

/** 1 for yes, 0 for no; undefined for any other word. @example yesOf({ kind: "number", value: 0 }) === 0 */
export function yesOf(reading: Reading): 0 | 1 | undefined {
  const word = wordOf(reading) ?? "";
  return YES.has(word) ? 1 : NO.has(word) ? 0 : undefined;
}

/** The outcomes that the cell's word may mean, more than one; undefined where it is no such word. */
export function doubtfulOutcome(reading: Reading): readonly Outcome[] | undefined {
  return DOUBTFUL.get(wordOf(reading) ?? "");
}
