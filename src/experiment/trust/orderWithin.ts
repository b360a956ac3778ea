/** The order of the shots within each session, by a column that says it. */
import { say, joinTexts, type Said } from "../language/said";
import { membersOf, type Grouping } from "../../statistics/errors/errorModel";
import { memo } from "../../statistics/numeric/memo";
import { there } from "../../there";
import { countsShots, placeInOrder } from "../log/shotOrder";
import { readingAt, type LogColumn } from "../log/logColumns";
import type { Analysis } from "../question/analysis";
import type { Sentence } from "../question/answer";
import { columnNamed, UnknownColumn } from "../question/rowCheck";

type Asked = Pick<Analysis, "log" | "check" | "response" | "columns">;

/** Columns that can say the order: numbers or times in every row used, with no other part in the question. */
export function orderColumns(asked: Asked): LogColumn[] {
  return asked.log.columns.filter((column) => canSay(column, asked));
}

/** The column that says the order by its heading; undefined where none does. */
export function noticedOrder(asked: Asked): LogColumn | undefined {
  return asked.log.columns.find((column) => countsShots(column) && canSay(column, asked));
}

function canSay(column: LogColumn, { check, response, columns }: Asked): boolean {
  return column !== response && !columns.includes(column) && complete(column, check.used);
}

const completes = memo<boolean>();

function complete(column: LogColumn, used: readonly number[]): boolean {
  return completes(column.readings, [used], () =>
    used.every((index) => !Number.isNaN(placeInOrder(readingAt(column, index)))),
  );
}

export interface OrderWithin {
  readonly heading: string;
  /** What the column says of each row used. */
  readonly places: readonly number[];
  /** 1 for the first shot of each session, 2 for the second …; of all rows where there are no sessions. */
  readonly values: readonly number[];
}

/**
 * @param by the sessions of the rows used
 * @throws UnknownColumn when there is no such column, it has another part in the question, or it holds no number in a
 * row used
 */
export function orderWithin({ log, check, response, columns }: Asked, heading: string, by?: Grouping): OrderWithin {
  const column = columnNamed(log, heading);
  if (column === response || columns.includes(column))
    throw new UnknownColumn(
      `"${column.heading.text}" is asked for both as the order and as another part of the question: take it out of one.`,
    );
  if (!complete(column, check.used))
    throw new UnknownColumn(
      `"${column.heading.text}" holds no number or time in some of the rows used: number the shots of each session to ask for their order.`,
    );
  const said = check.used.map((index) => placeInOrder(readingAt(column, index)));
  const values = new Array<number>(said.length).fill(0);
  for (const rows of by ? membersOf(by) : [said.map((_, row) => row)])
    [...rows]
      .sort((a, b) => there(said[a], "a place of the shot") - there(said[b], "a place of the shot"))
      .forEach((row, place) => (values[row] = place + 1));
  return { heading: column.heading.text, places: said, values };
}

/** Whether leaving the order out changes an answer. @param session "session", or what else the order runs through */
export function changedSentence(changed: readonly Said[], session: string): Sentence {
  return changed.length > 0
    ? {
        kind: "caution",
        text: say`With the order within a ${session} in the fit ${joinTexts(changed, "; ")}: leaving it out changes what is said.`,
      }
    : { kind: "open", text: "Leaving the order out changes nothing of what is told of the drivers." };
}
