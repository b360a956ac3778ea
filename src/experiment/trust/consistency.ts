/**
 * Whether shots are as consistent at every level of a driver, a number's rows being cut into thirds.
 */
import { say, toText, listOf, saysSame, type Said } from "../language/said";
import { spreadByLevel, type SpreadByLevel } from "../../statistics/checks/residualChecks";
import { thirds } from "../../statistics/checks/thirds";
import { neverChanges } from "../../statistics/numeric/columnSummary";
import { dayOfSerial } from "../../workbook/cellText";
import type { Analysis } from "../question/analysis";
import type { Sentence } from "../question/answer";
import { parseHeading } from "../log/header";
import { rowsTogether, withinSessions } from "./together";
import type { LogColumn } from "../log/trialLog";
import { inSentence, measured, pText, severalOf, significant, withUnit } from "../language/wording";
import { there } from "../../there";

export interface Consistency {
  readonly column: LogColumn;
  /** How the rows were put into groups. */
  readonly groups: "levels" | "parts of its range";
  /** The spread of the residuals by group, or why it cannot be told. */
  readonly found: SpreadByLevel | { readonly why: string };
  /** What each level of `found` is called in a sentence. */
  readonly names: readonly Said[];
  /** Heading of the groups whose rows are taken together. */
  readonly together?: string;
}

/**
 * One answer for each driver that changes, from the residuals of the plain fit; none where the fit leaves no scatter.
 */
export function consistencyByDriver(analysis: Analysis): Consistency[] {
  return analysis.columns.flatMap((_, driver) => consistencyOf(analysis, driver) ?? []);
}

/** The answer for one driver, by its index; undefined where it never changes or the fit leaves no scatter. */
export function consistencyOf(analysis: Analysis, index: number): Consistency | undefined {
  const { regression, columns } = analysis;
  const { question, residual } = regression;
  const driver = there(question.drivers[index], "a driver");
  const column = there(columns[index], "a column");
  const { name, values } = driver;
  if (residual.df <= 0) return undefined;
  if (neverChanges(values)) return undefined;
  const parts = driver.kind === "category" ? { groups: driver.values, names: driver.levels } : partsOf(values, column);
  const groups = driver.kind === "category" ? "levels" : "parts of its range";
  if ("why" in parts) return { column, groups, found: parts, names: [] };
  const grouping = { name, groups: parts.groups, levels: parts.names.map((one) => toText(one)) };
  const together = rowsTogether(analysis, [index]);
  return {
    column,
    groups,
    found: spreadByLevel(withinSessions(analysis).residuals, grouping, together),
    names: parts.names,
    ...(together && { together: together.name }),
  };
}

function partsOf(
  values: ArrayLike<number>,
  column: LogColumn,
): { groups: ArrayLike<number>; names: readonly Said[] } | { readonly why: string } {
  const parts = thirds(values);
  return "why" in parts ? parts : { groups: parts.groups, names: partLabels(parts.ends, column) };
}

/** "5.2 to 6.1 mph": with as many digits as it takes to tell the parts from each other. */
function partLabels(ends: readonly (readonly [number, number])[], { heading, kind }: LogColumn): Said[] {
  const write =
    (digits: number) =>
    (value: number): Said =>
      kind === "date" ? { day: dayOfSerial(value) } : significant(value, digits);
  let digits = 3;
  const alike = (one: number, other: number) => saysSame(write(digits)(one), write(digits)(other));
  while (
    digits < 15 &&
    ends.some(
      ([low, high], part) =>
        (part > 0 && alike(low, there(ends[part - 1], "two ends")[1])) || (low !== high && alike(low, high)),
    )
  )
    digits++;
  const text = write(digits);
  return ends.map(([low, high]) =>
    withUnit(low === high ? text(low) : say`${text(low)} to ${text(high)}`, kind === "date" ? "" : heading.unit),
  );
}

/**
 * "worn" 0.12 in and "new" 0.02 in, or 0.02 in at 5 to 7 mph and 0.12 in at 8 to 11 mph, as standard deviations about
 * the fit.
 */
function spreads(
  { levels }: SpreadByLevel,
  { groups, names }: Pick<Consistency, "groups" | "names">,
  { regression: { question }, response }: Analysis,
): Said {
  const said = (level: Said, spread: Said) =>
    groups === "levels" ? say`"${level}" ${spread}` : say`${spread} at ${level}`;
  const each = levels.flatMap(({ level, sd }, place) =>
    sd === null ? [] : [said(names[place] ?? level, withUnit(measured(sd, 2), response.heading.unit))],
  );
  const plain = question.errors && question.errors.kind !== "robust" ? "plain " : "";
  return say`${listOf(each)}, as standard deviations ${question.weights ? "of a row of weight 1 " : ""}about the ${plain}fit`;
}

/** What was found of one driver: a finding, "open" where no difference shows, "missing" where it cannot be told. */
export function consistencySentence(asked: Consistency, analysis: Analysis): Sentence {
  const { column, found, together } = asked;
  const name = inSentence(column.heading);
  if ("why" in found)
    return { kind: "missing", text: `Whether consistency differs by ${name} cannot be told: ${found.why}.` };
  const { p } = found.test;
  const group = together && inSentence(parseHeading(together));
  if (p === null)
    return {
      kind: "missing",
      text: `Whether consistency differs by ${name} cannot be told: ${group ? `all shots of one ${group} count together, and too few ${severalOf(group)} tell` : "the rows leave no scatter within its groups"}.`,
    };
  const said = say`(${pText(p)}, test of Brown and Forsythe, 1974${takenTogether(together)}): ${spreads(found, asked, analysis)}.`;
  return p < 1 - analysis.regression.confidence
    ? { kind: "finding", text: say`Consistency differs by ${name} ${said}` }
    : { kind: "open", text: say`No sign that consistency differs by ${name} ${said}` };
}

/** ", all shots of one session taken together" where they are. */
export function takenTogether(heading: string | undefined): string {
  return heading === undefined ? "" : `, all shots of one ${inSentence(parseHeading(heading))} taken together`;
}
