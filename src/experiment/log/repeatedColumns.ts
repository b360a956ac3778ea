/** Columns that hold readings of one thing. */
import type { LogColumn, TrialLog } from "./trialLog";

/**
 * Columns that seem to read the same marks: same meaning (or name but for a number at the end) and unit.
 * @returns the groups of two or more, those of gaps first; each in the order of the sheet
 */
export function repeatedColumns(log: TrialLog): LogColumn[][] {
  const stem = ({ heading }: LogColumn) =>
    `${heading.name
      .replace(/[\s#.]*\d+$/, "")
      .replace(/\s*\b(again|repeat|repeated|first|second|third)\b\s*/gi, " ")
      .trim()
      .toLowerCase()}|${heading.unit}`;
  const groups = new Map<string, LogColumn[]>();
  for (const column of log.columns)
    if (column.kind === "number") groups.set(stem(column), [...(groups.get(stem(column)) ?? []), column]);
  const repeated = [...groups.values()].filter((group) => group.length > 1);
  return [
    ...repeated.filter(([first]) => first?.meaning === "gap"),
    ...repeated.filter(([first]) => first?.meaning !== "gap"),
  ];
}
