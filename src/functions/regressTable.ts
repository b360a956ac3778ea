/**
 * BANK.REGRESS: cells in, a table of coefficients out. May import: arguments.ts, tableColumns.ts, messages.ts, statistics/.
 */
import type { ErrorModel } from "../statistics/errorModel";
import { regress } from "../statistics/regression";
import { isBlank, toConfidence } from "./arguments";
import { messages } from "./messages";
import { driverNames, numberIn, orSheetError, readColumns, toDriver, toLevels, type Columns } from "./tableColumns";

/**
 * Rows: a header, one per term (term, estimate, standard error, low, high, p, and df where rows go together or scatter
 * unequally), then notes on what is missing.
 */
export function regressTable(response: unknown, drivers: unknown, names: unknown, confidence: unknown, groups: unknown, scatter: unknown): unknown[][] {
  const columns = readColumns(response, drivers, { name: "groups", cells: groups });
  const { response: y, drivers: x, used } = columns;
  const labels = driverNames(names, x[0].length);
  const errors = toErrors(scatter, columns);
  const level = toConfidence(confidence);
  const fit = orSheetError(() =>
    regress({
      response: used.map((row) => numberIn("response", y[row][0], row)),
      drivers: labels.map((label, j) => toDriver(label, j, used, x)),
      confidence: level,
      ...(errors && { errors }),
    }),
  );

  const header = ["term", "estimate", "standard error", "low", "high", "p", ...(errors ? ["df"] : [])];
  const table: unknown[][] = [
    header,
    ...fit.terms.map(({ label, estimate, standardError, low, high, p, df }) => [label, estimate, standardError, low, high, p, ...(errors ? [df] : [])].map((cell) => cell ?? "")),
  ];
  const note = (text: string) => table.push([text, ...header.slice(1).map(() => "")]);
  if (used.length < y.length) note(`${used.length} of ${y.length} rows used, ${y.length - used.length} left out for a blank`);
  if (fit.residual.df === 0) note(`no spread can be judged: ${used.length} rows for ${fit.fit.kept.length} coefficients`);
  if (fit.spread) {
    table.push(["standard deviation between groups", fit.spread.between, ...header.slice(2).map(() => "")]);
    table.push(["standard deviation within groups", fit.spread.within, ...header.slice(2).map(() => "")]);
  }
  for (const { reason } of fit.unestimated) note(`not estimated: ${reason}`);
  return table;
}

/** "cluster" where groups are given and nothing is said. */
function toErrors(scatter: unknown, { other, used }: Columns): ErrorModel | undefined {
  const said = isBlank(scatter) ? "" : String(scatter).trim().toLowerCase();
  if (!["", "cluster", "random", "robust"].includes(said)) throw messages.scatter(scatter);
  if (said === "robust") {
    if (other) throw messages.groupsUnused();
    return { kind: "robust" };
  }
  if (!other) {
    if (said !== "") throw messages.groupsMissing(said);
    return undefined;
  }
  const { values, levels } = toLevels(used.map((row) => other[row][0]));
  return { kind: said === "random" ? "random" : "cluster", by: { name: "groups", groups: values, levels } };
}
