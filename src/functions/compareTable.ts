/**
 * BANK.COMPARE: cells in, a table of pairs and means out.
 */
import { compare } from "../statistics/compare/comparison";
import { regress } from "../statistics/fit/regression";
import { columnsOf, isBlank, argumentConfidence, argumentNumber } from "./arguments";
import { messages } from "./messages";
import { driverNames, levelText, numberIn, orSheetError, readColumns, toDriver, toLevels } from "./tableColumns";

/**
 * Rows: a header and one per pair (first less second; with a reference, each other level less it), then a header and
 * one per level with its mean, then notes.
 */
export function compareTable(
  response: unknown,
  among: unknown,
  drivers: unknown,
  confidence: unknown,
  margin: unknown,
  reference: unknown,
): unknown[][] {
  const { response: y, drivers: x, others, used } = readColumns(response, drivers, [{ name: "among", cells: among }]);
  const [other] = others;
  if (!other) throw messages.blank("among", "a column of levels, such as cloths");
  const { values, levels } = toLevels(used.map((row) => other[row]));
  if (levels.length < 2) throw messages.oneLevel("among", levels.join());
  const level = argumentConfidence(confidence);
  const within = isBlank(margin)
    ? undefined
    : argumentNumber("margin", margin, "a number above 0 in the response's unit");
  if (within !== undefined && !(within > 0))
    throw messages.outOfRange("margin", margin, "give a number above 0 in the response's unit");
  const against = isBlank(reference) ? undefined : levels.indexOf(levelText(reference));
  if (against === -1)
    throw messages.outOfRange(
      "reference",
      reference,
      `give one of the levels ${levels.map((one) => `"${one}"`).join(", ")}`,
    );
  const fit = orSheetError(() =>
    regress({
      response: used.map((row) => numberIn("response", y[row], row)),
      drivers: [
        { kind: "category", name: "level", values, levels },
        ...driverNames(undefined, columnsOf(x)).map((label, j) => toDriver(label, j, used, x)),
      ],
      confidence: level,
    }),
  );
  const { means, pairs } = compare(fit, 0, within, against);
  const asked = within !== undefined;
  const header = [
    "first",
    "second",
    "difference",
    "standard error",
    "low",
    "high",
    "p",
    ...(asked ? ["same to the margin"] : []),
  ];
  const filled = (row: readonly unknown[]) => header.map((_, j) => row[j] ?? "");
  const table = [
    header,
    ...pairs.map(({ a, b, difference, standardError, low, high, p, equivalent }) =>
      filled([a, b, difference, standardError, low, high, p, ...(asked ? [equivalent] : [])]),
    ),
    filled(["level", "rows", "mean", "standard error", "low", "high"]),
    ...means.map(({ level: name, rows, estimate }) =>
      filled([name, rows, estimate?.value, estimate?.standardError, estimate?.low, estimate?.high]),
    ),
  ];
  if (used.length < y.length)
    table.push(filled([`${used.length} of ${y.length} rows used, ${y.length - used.length} left out for a blank`]));
  for (const { reason } of fit.unestimated) table.push(filled([`not estimated: ${reason}`]));
  return table;
}
