/** A calibration in sentences. */
import { say, listOf, type Said } from "../language/said";
import type { Calibration, SessionErrors } from "./calibration";
import { CONSTANT_KINDS, UNCERTAIN, type UncertainName } from "../shot/shotSettings";
import { shownSmall } from "../shot/shotWords";
import { confidenceText, counted, significant } from "../language/wording";

const name = (constant: UncertainName) => CONSTANT_KINDS[constant].label.toLowerCase();
/** Shares of a direction below this are not worth a word. */
const WORTH_A_WORD = 0.15;
const CLOSE = 0.9;

/**
 * What the rows determine, what they do not, and what goes together.
 * @param weighted whether the rows gave their own deviations
 */
export function calibrationSentences(fit: Calibration, rows: number, weighted: boolean, units: "us" | "si"): Said[] {
  const said: Said[] = [];
  const scatter =
    fit.scatter === null
      ? ""
      : weighted
        ? say` The rows scatter by ${significant(fit.scatter, 3)} of the standard deviations that they give.`
        : say` The rows scatter about the model by ${shownSmall(fit.scatter, units)}.`;
  const bounds =
    fit.bounds > 0
      ? ` ${fit.bounds} of them say only that the bend was at least, or less than, what the obstacle asked for.`
      : "";
  said.push(say`Fitted to ${counted(rows, "row")}.${bounds}${scatter}`);
  if (fit.cleanStep)
    said.push(
      "The model parts the attempts that got by from those that hit without exception, so their scatter cannot be told and the errors of the constants are too small: more attempts near the bend at one half are needed.",
    );
  for (const { change, effect } of fit.untold) {
    // A constant at its limit has no part in any direction.
    const most = Math.max(...UNCERTAIN.map((one) => Math.abs(change[one]) / scaleOf(one)));
    const parts = UNCERTAIN.filter((one) => Math.abs(change[one]) / scaleOf(one) > WORTH_A_WORD * most);
    const [first, ...further] = parts;
    if (first !== undefined && further.length === 0)
      said.push(
        say`The rows say next to nothing about ${name(first)}: a change of ${significant(Math.abs(change[first]), 2)} moves the predicted bends by ${shownSmall(effect, units)} only.`,
      );
    else {
      const moves = parts.map(
        (one) =>
          say`${change[one] > 0 ? "a rise" : "a fall"} of ${name(one)} by ${significant(Math.abs(change[one]), 2)}`,
      );
      said.push(
        say`The rows cannot tell ${listOf(parts.map(name))} apart: ${listOf(moves)} together move the predicted bends by ${shownSmall(effect, units)} only. Vary speed, angle and roll more, or measure one of them by itself (BANK.SLIDING, BANK.REBOUND).`,
      );
    }
  }
  UNCERTAIN.forEach((a, i) =>
    UNCERTAIN.slice(i + 1).forEach((b) => {
      const r = fit.correlations[a][b];
      if (r !== null && Math.abs(r) > CLOSE)
        said.push(
          say`${CONSTANT_KINDS[a].label} and ${name(b)} go together (correlation ${significant(r, 2)}): their standard errors hold one by one, not for both at once.`,
        );
    }),
  );
  for (const { name: one, atBound, estimate } of fit.constants) {
    if (atBound)
      said.push(
        say`${CONSTANT_KINDS[one].label} ran into its limit of ${significant(estimate, 3)}: the model does not fit these rows, or a column or unit is not what it should be. No standard error can be given for it, and those of the others hold only if it truly stands there.`,
      );
  }
  if (fit.never.length > 0)
    said.push(
      `With these constants ${counted(fit.never.length, "shot")} never reach${fit.never.length === 1 ? "es" : ""} the line; the fit took their bend for 0.`,
    );
  if (fit.df <= 0) said.push("There are no more rows than constants, so nothing can be said of their errors.");
  return said;
}

/** What the intervals are called. @example toText(intervalWords({ confidence: 0.9 })) === "90 % interval" */
export function intervalWords({ confidence }: Pick<Calibration, "confidence">): Said {
  return say`${confidenceText(confidence)} % interval`;
}

function scaleOf(one: UncertainName): number {
  const { low, high } = CONSTANT_KINDS[one].bounds;
  return high - low;
}

/** Which to trust on sessions that were not seen. */
export function trustSentence(errors: SessionErrors, units: "us" | "si"): Said {
  const all = [
    { what: "the model", error: errors.model },
    { what: "the regression", error: errors.regression },
    { what: "the model with a regression of what it leaves", error: errors.both },
  ].flatMap(({ what, error }) => (error === null ? [] : [{ what, error }]));
  if (all.length === 0 || errors.mean === null) return "No session could be predicted from the others.";
  const least = all.reduce((best, one) => (one.error < best.error ? one : best));
  const worse =
    least.error >= errors.mean
      ? " None predicts better than the mean of the other sessions: trust the trials alone."
      : "";
  return say`Each of ${errors.sessions} sessions predicted from the others: ${least.what} errs least, by ${shownSmall(least.error, units)} (root mean square of ${counted(errors.shots, "shot")}).${worse}`;
}
