/** The success rate where --at asks. */
import type { MadeAnalysis } from "../experiment/question/madeAnalysis";
import { rateAt, type RateAt } from "../experiment/question/madeRates";
import { atSettings } from "./atSettings";
import { CommandError } from "./usage";

export interface AskedRate {
  readonly settings: Readonly<Record<string, string>>;
  readonly found: RateAt;
}

/** The rate with drivers that --at leaves out in their middle. @throws UsageError, CommandError when a setting cannot be read */
export function askedRate(analysis: MadeAnalysis, at: readonly string[]): AskedRate {
  const settings = atSettings(analysis.columns, at);
  const found = rateAt(analysis, settings);
  for (const one of found.read) if ("problem" in one) throw new CommandError(one.problem);
  return { settings, found };
}
