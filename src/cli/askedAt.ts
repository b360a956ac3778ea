/** What is expected where --at asks: the success rate, or the mean and a single shot. */
import { toText } from "../experiment/language/said";
import type { Analysis } from "../experiment/question/analysis";
import type { MadeAnalysis } from "../experiment/question/madeAnalysis";
import { rateAt, type RateAt } from "../experiment/question/madeRates";
import { predictAt, type PredictedAt } from "../experiment/question/predictAt";
import { leading } from "../experiment/question/sessionAware";
import type { ReadSetting } from "../experiment/question/settingsAt";
import { typedSettings } from "./atSettings";
import { CommandError } from "./usage";

export interface AnswerAt<Found> {
  readonly settings: Readonly<Record<string, string>>;
  readonly found: Found;
}

/**
 * The rate with drivers that --at leaves out in their middle.
 * @throws UsageError, CommandError when a setting cannot be read
 */
export function askedRate(analysis: MadeAnalysis, at: readonly string[]): AnswerAt<RateAt> {
  return asked(analysis, at, (settings) => rateAt(analysis, settings));
}

/**
 * The mean and a single shot, in the same way, by the answer that is read first: where sessions matter the one with
 * them in mind.
 */
export function askedPrediction(analysis: Analysis, at: readonly string[]): AnswerAt<PredictedAt> {
  return asked(analysis, at, (settings) => predictAt(leading(analysis), settings));
}

function asked<Found extends { readonly read: readonly ReadSetting[] }>(
  { columns }: Pick<Analysis, "columns">,
  at: readonly string[],
  find: (settings: Readonly<Record<string, string>>) => Found,
): AnswerAt<Found> {
  const settings = typedSettings(columns, at);
  const found = find(settings);
  for (const one of found.read) if ("problem" in one) throw new CommandError(toText(one.problem));
  return { settings, found };
}
