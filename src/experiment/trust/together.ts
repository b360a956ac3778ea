/** Which rows are not separate evidence in a check of the residuals. */
import { membersOf, type Grouping } from "../../statistics/errors/errorModel";
import type { Analysis } from "../question/analysis";
import { groupings } from "../question/groupings";

/** The groups that the question names, otherwise those within which one of these drivers never changes; undefined where there are none. */
export function rowsTogether(analysis: Analysis, drivers: readonly number[]): Grouping | undefined {
  const { errors, drivers: asked } = analysis.regression.question;
  if (errors && errors.kind !== "robust") return errors.by;
  const changing = drivers
    .map((driver) => asked[driver].values)
    .filter((values) => Array.prototype.some.call(values, (value) => value !== values[0]));
  return groupings(analysis).find(({ by }) => {
    const members = membersOf(by);
    return changing.some((values) => members.every((rows) => rows.every((row) => values[row] === values[rows[0]])));
  })?.by;
}
