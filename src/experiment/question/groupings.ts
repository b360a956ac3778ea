/** Columns that may say which rows go together. */
import type { Grouping } from "../../statistics/errors/errorModel";
import type { Analysis } from "./analysis";
import { buildGrouping } from "./buildDriver";
import { sessionCandidates, sessionColumn } from "./sessions";
import type { LogColumn } from "../log/trialLog";
import { memo } from "../../statistics/numeric/memo";

/**
 * The columns, what the reader named as sessions first and then the likeliest, that have no other part in the question,
 * an entry in every row used, and rows that share one.
 */
export function groupings(asked: Asked): readonly Grouped[] {
  const { log, choice, check, columns } = asked;
  return groupingsMemo(columns, [log, choice, check.used], () => findGroupings(asked));
}

type Asked = Pick<Analysis, "log" | "choice" | "check" | "response" | "columns">;

interface Grouped {
  readonly column: LogColumn;
  readonly by: Grouping;
}

const groupingsMemo = memo<readonly Grouped[]>(1);

function findGroupings({ log, choice, check, response, columns }: Asked): Grouped[] {
  const { used } = check;
  const balls = log.columns.filter((column) => column.meaning === "balls" && ![response, ...columns].includes(column));
  const named = choice.sessions?.length ? [sessionColumn(log, choice.sessions)] : [];
  const noticed = sessionCandidates(log, [response, ...columns], used).filter(
    ({ heading }) => heading.text !== named[0]?.heading.text,
  );
  return [...named, ...noticed, ...balls]
    .filter((column) => used.every((index) => column.readings[index]?.kind !== "blank"))
    .map((column) => ({ column, by: buildGrouping(column, used) }))
    .filter(({ by }) => by.levels.length >= 2 && by.levels.length < used.length);
}
