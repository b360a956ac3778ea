/**
 * What is to be expected at settings that a reader names: the mean, and a single shot.
 *
 * A single shot scatters about the mean, which is itself only estimated, so its interval holds both. Where sessions are
 * shifted by random amounts, an average session and one that nobody has seen are told apart: the second is shifted too.
 * How far it may be shifted is taken from the sessions' own means: what is estimated of their variance beyond that of
 * single shots is 0 too often to lean on (0.90 of 0.95 with six sessions).
 * Standard deviations that rest on few sessions are put together by carefullyCombined, so that with one scatter the
 * interval is the usual one from Student's t, and with few sessions it is no narrower than they allow.
 */
import { say, capital, type Said } from "../language/said";
import { carefullyCombined, expandedUncertainty, type Contribution } from "../../statistics/measure/uncertainty";
import { middleSettings } from "../../statistics/fit/adjustedMeans";
import type { Estimate } from "../../statistics/fit/estimates";
import type { Interval } from "../../statistics/measure/spread";
import {
  confidenceText,
  decimalsShowing,
  fixed,
  inSentence,
  severalOf,
  significant,
  withUnit,
} from "../language/wording";
import { parseHeading } from "../log/header";
import type { Analysis } from "./analysis";
import { beyondSaid, settingsAt, type ReadSetting } from "./settingsAt";

export interface PredictedAt {
  /** One per driver. */
  readonly read: readonly ReadSetting[];
  /**
   * The fitted mean, of an average session where sessions are shifted; undefined where the rows do not determine it.
   */
  readonly mean: Estimate | undefined;
  /** Where a single shot lies, of an average session where sessions are shifted. */
  readonly single: Interval | undefined;
  /** Of a session that is not among the rows; undefined unless how sessions differ was estimated. */
  readonly newSession: { readonly mean: Interval; readonly single: Interval } | undefined;
  /** Numbers that lie outside what the rows have. */
  readonly beyond: readonly string[];
  /** Undefined while a setting cannot be read. */
  readonly sentence: Said | undefined;
}

/** What is expected where the reader asks. @param texts what was typed, by heading */
export function predictAt(analysis: Analysis, texts: Readonly<Record<string, string>>): PredictedAt {
  const { regression, columns, response } = analysis;
  const centre = middleSettings(regression);
  const { read, settings, where, beyond } = settingsAt(regression.question.drivers, columns, texts, centre);
  const nothing = { read, mean: undefined, single: undefined, newSession: undefined, beyond };
  if (!settings) return { ...nothing, sentence: undefined };
  const mean = regression.estimate(settings);
  const name = inSentence(response.heading);
  const lead = where === "" ? "Over these rows" : where;
  if (!mean) return { ...nothing, sentence: say`${lead} ${name} cannot be told from these rows.` };
  const found = { ...nothing, mean, ...intervalsAbout(analysis, mean) };
  return { ...found, sentence: say`${words(analysis, found, lead)}${beyondSaid(beyond, "line")}` };
}

/** Intervals of single shots and of new sessions about a mean; undefined where no spread can be judged. */
export function intervalsAbout(
  { regression }: Pick<Analysis, "regression">,
  { value, standardError, df }: Estimate,
): Pick<PredictedAt, "single" | "newSession"> {
  const { residual, newGroup, confidence } = regression;
  if (standardError === null || df === null || residual.sd === null)
    return { single: undefined, newSession: undefined };
  const ofMean: Contribution = { standard: standardError, df };
  const ofShot: Contribution = { standard: residual.sd, df: residual.df };
  const about = (...parts: Contribution[]): Interval => {
    const half = expandedUncertainty(carefullyCombined(parts), confidence);
    return { low: value - half, high: value + half };
  };
  const single = about(ofMean, ofShot);
  if (!newGroup) return { single, newSession: undefined };
  return {
    single,
    newSession: { mean: about(ofMean, newGroup), single: about(ofMean, newGroup, ofShot) },
  };
}

function words(
  { regression, response, choice }: Analysis,
  { mean, single, newSession }: Pick<PredictedAt, "mean" | "single" | "newSession">,
  lead: Said,
): Said {
  const { unit } = response.heading;
  const name = inSentence(response.heading);
  const { value = NaN, standardError = null, low = null, high = null } = mean ?? {};
  if (!single || standardError === null || low === null || high === null)
    return say`${lead} ${name} is ${withUnit(significant(value, 4), unit)} in these rows, with no spread to judge it by.`;
  const decimals = decimalsShowing(standardError, low, high);
  const shown = (number: number) => fixed(number, decimals);
  const between = (one: Interval) => say`${shown(one.low)} to ${withUnit(shown(one.high), unit)}`;
  const { errors } = regression.question;
  const session = errors && errors.kind !== "robust" ? inSentence(parseHeading(errors.by.name)) : undefined;
  const shot = choice.weight === undefined ? "a single shot" : "a shot of weight 1";
  const percent = say`${confidenceText(regression.confidence)} %`;
  const first = say`${lead} ${name} is ${withUnit(shown(value), unit)} on average${newSession ? ` over ${severalOf(session ?? "session")}` : ""}, ${percent} interval ${between({ low, high })}.`;
  if (newSession && session !== undefined)
    return say`${first} ${capital(shot)} of an average ${session} lies within ${between(single)}. Of a new ${session}, which is shifted like the others, the mean lies within ${between(newSession.mean)} and ${shot} within ${between(newSession.single)} (${percent} each).`;
  const untold =
    session === undefined
      ? ""
      : ` How ${severalOf(session)} differ is not estimated apart here, so nothing is said of a new ${session}: take each as shifted by a random amount to ask for it.`;
  return say`${first} ${capital(shot)} lies within ${between(single)} (${percent}${errors?.kind === "robust" ? ", if it scatters as shots do on average" : ""}).${untold}`;
}
