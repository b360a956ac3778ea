/**
 * Which rows are not separate evidence in a check of the residuals, and the residuals that sessions are taken out of.
 */
import type { Grouping } from "../../statistics/errors/errorModel";
import { plainFit, withinGroups, type WithinGroups } from "../../statistics/checks/withinGroups";
import type { Regression } from "../../statistics/fit/regression";
import { neverChanges } from "../../statistics/numeric/columnSummary";
import { memo } from "../../statistics/numeric/memo";
import type { Analysis } from "../question/analysis";
import { groupings } from "../question/groupings";
import { isVisit } from "../question/sessionAware";
import { there } from "../../there";

/**
 * The groups that the question names, otherwise those within which one of these drivers never changes; undefined where
 * there are none.
 */
export function rowsTogether(analysis: Analysis, drivers: readonly number[]): Grouping | undefined {
  const { errors, drivers: asked } = analysis.regression.question;
  if (errors && errors.kind !== "robust") return errors.by;
  const changing = drivers
    .map((driver) => there(asked[driver], "a driver").values)
    .filter((values) => !neverChanges(values));
  return groupings(analysis).find(({ by }) => changing.some((values) => staysWithin(by, values)))?.by;
}

/** Whether values are alike within each group. */
function staysWithin({ groups, levels }: Grouping, values: ArrayLike<number>): boolean {
  const first = new Array<number | undefined>(levels.length).fill(undefined);
  for (let row = 0; row < values.length; row++) {
    const group = there(groups[row], "a group");
    if (values[row] !== (first[group] ??= values[row])) return false;
  }
  return true;
}

/**
 * The sessions of the rows: those that the question names, otherwise those that a column says; undefined where none
 * does.
 */
export function sessionsOf(analysis: Analysis): Grouping | undefined {
  const { errors } = analysis.regression.question;
  if (errors && errors.kind !== "robust") return errors.by;
  // What the reader named comes first, and is then the only one asked.
  return groupings(analysis).find(({ column }) => isVisit(analysis, column))?.by;
}

const within = memo<WithinGroups>(1);

/**
 * The plain fit with each session's own level taken out, so that sessions that merely lie apart look like nothing else;
 * the plain fit itself where there are no sessions or that leaves no scatter.
 */
export function withinSessions(analysis: Analysis): WithinGroups {
  const { regression } = analysis;
  const by = sessionsOf(analysis);
  if (!by || regression.question.weights) return plainFit(regression);
  return withoutLevels(regression, by);
}

/** The same of any plain fit to the same rows. */
export function withoutLevels(regression: Regression, by: Grouping): WithinGroups {
  const found = within(regression, [by.groups], () => withinGroups(regression, by));
  return found.df > 0 && found.residualSquares > 0 ? found : plainFit(regression);
}
