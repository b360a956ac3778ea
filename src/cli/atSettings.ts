/** The settings that --at asks about. */
import type { LogColumn } from "../experiment/log/trialLog";
import { UsageError } from "./usage";

/**
 * What was typed behind each heading. A heading may hold "=" itself.
 * @param texts "HEADER=VALUE" each
 * @throws UsageError when one names no driver, names one twice or has no value
 */
export function typedSettings(
  columns: readonly Pick<LogColumn, "heading">[],
  texts: readonly string[],
): Readonly<Record<string, string>> {
  const headings = columns.map(({ heading }) => heading.text);
  const settings: Record<string, string> = {};
  for (const text of texts) {
    const heading = headings.find((one) => text.toLowerCase().startsWith(`${one.toLowerCase()}=`));
    if (heading === undefined)
      throw new UsageError(
        `--at is "${text}": give HEADER=VALUE with a driver of the question${headings.length > 0 ? ` (${headings.map((one) => `"${one}"`).join(", ")})` : ""}.`,
      );
    if (heading in settings) throw new UsageError(`--at gives "${heading}" twice: give it once.`);
    const value = text.slice(heading.length + 1);
    if (value.trim() === "")
      throw new UsageError(
        `--at "${text}" has no value behind the =: give one, or leave it out for the middle of the rows.`,
      );
    settings[heading] = value;
  }
  return settings;
}
