/**
 * Whether shots are as consistent at every level of a driver, a number's rows being cut into thirds.
 * May import: analysis.ts, answer.ts (its shapes), wording.ts, statistics/, workbook/cellText.ts.
 */
import { spreadByLevel, type SpreadByLevel } from "../statistics/residualChecks";
import { thirds } from "../statistics/thirds";
import { dayOfSerial } from "../workbook/cellText";
import type { Analysis } from "./analysis";
import type { Sentence } from "./answer";
import type { LogColumn } from "./trialLog";
import { inSentence, listOf, pText, significant, withUnit } from "./wording";

export interface Consistency {
  readonly column: LogColumn;
  /** How the rows were put into groups. */
  readonly groups: "levels" | "parts of its range";
  /** The spread of the residuals by group, or why it cannot be told. */
  readonly found: SpreadByLevel | { readonly why: string };
}

/** One answer for each driver that changes, from the residuals of the plain fit; none where the fit leaves no scatter. */
export function consistencyByDriver({ regression, columns }: Analysis): Consistency[] {
  const { question, fit, residual } = regression;
  if (residual.df <= 0) return [];
  return question.drivers.flatMap((driver, index): Consistency[] => {
    const column = columns[index];
    const { name, values } = driver;
    if (driver.kind === "category") {
      return driver.levels.length > 1 ? [{ column, groups: "levels", found: spreadByLevel(fit.residuals, { name, groups: driver.values, levels: driver.levels }) }] : [];
    }
    let changes = false;
    for (let row = 1; row < values.length && !changes; row++) changes = values[row] !== values[0];
    if (!changes) return [];
    const parts = thirds(values);
    const found = "why" in parts ? parts : spreadByLevel(fit.residuals, { name, groups: parts.groups, levels: partLabels(parts.ends, column) });
    return [{ column, groups: "parts of its range", found }];
  });
}

/** "5.2 to 6.1 mph": with as many digits as it takes to tell the parts from each other. */
function partLabels(ends: readonly (readonly [number, number])[], { heading, kind }: LogColumn): string[] {
  const write = (digits: number) => (value: number) => (kind === "date" ? dayOfSerial(value) : significant(value, digits));
  let digits = 3;
  while (digits < 15 && ends.some(([low, high], part) => part > 0 && write(digits)(low) === write(digits)(ends[part - 1][1]) || (low !== high && write(digits)(low) === write(digits)(high)))) digits++;
  const text = write(digits);
  return ends.map(([low, high]) => withUnit(low === high ? text(low) : `${text(low)} to ${text(high)}`, kind === "date" ? "" : heading.unit));
}

/** "worn" 0.12 in and "new" 0.02 in, or 0.02 in at 5 to 7 mph and 0.12 in at 8 to 11 mph, as standard deviations about the fit. */
function spreads({ levels }: SpreadByLevel, groups: Consistency["groups"], unit: string, weighted: boolean): string {
  const said = (level: string, spread: string) => (groups === "levels" ? `"${level}" ${spread}` : `${spread} at ${level}`);
  const each = levels.flatMap(({ level, sd }) => (sd === null ? [] : [said(level, withUnit(significant(sd, 2), unit))]));
  return `${listOf(each)}, as standard deviations ${weighted ? "of a row of weight 1 " : ""}about the fit${groups === "levels" ? "" : "; rows in parts of about equal counts"}`;
}

/** What was found of one driver: a finding, "open" where no difference shows, "missing" where it cannot be told. */
export function consistencySentence({ column, groups, found }: Consistency, { regression, response }: Analysis): Sentence {
  const name = inSentence(column.heading);
  if ("why" in found) return { kind: "missing", text: `Whether consistency differs by ${name} cannot be told: ${found.why}.` };
  const { p } = found.test;
  if (p === null) return { kind: "missing", text: `Whether consistency differs by ${name} cannot be told: the rows leave no scatter within its groups.` };
  const said = `(${pText(p)}, test of Brown and Forsythe, 1974): ${spreads(found, groups, response.heading.unit, regression.question.weights !== undefined)}.`;
  return p < 1 - regression.confidence
    ? { kind: "finding", text: `Consistency differs by ${name} ${said}` }
    : { kind: "open", text: `No sign that consistency differs by ${name} ${said}` };
}
