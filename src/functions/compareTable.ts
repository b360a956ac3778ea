/**
 * BANK.COMPARE: cells in, a table of pairs and means out.
 */
import { compare, type Comparison } from "../statistics/compare/comparison";
import { regress } from "../statistics/fit/regression";
import { columnsOf, isBlank, argumentConfidence, argumentNumber } from "./arguments";
import { messages } from "./messages";
import {
  driverNames,
  leftOutNotes,
  levelText,
  numberIn,
  orSheetError,
  readColumns,
  toDriver,
  toLevels,
  unestimatedNotes,
} from "./tableColumns";

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
  const columns = readColumns(response, drivers, [{ name: "among", cells: among }]);
  const { response: y, drivers: x, others, used } = columns;
  const [other] = others;
  if (!other) throw messages.blank("among", "a column of levels, such as cloths");
  const { values, levels } = toLevels(used.map((row) => other[row]));
  if (levels.length < 2) throw messages.oneLevel("among", levels.join());
  const level = argumentConfidence(confidence);
  const within = toMargin(margin);
  const against = toReference(reference, levels);
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
  const notes = [...leftOutNotes(columns), ...unestimatedNotes(fit)];
  return tableOf(compare(fit, 0, within, against), within !== undefined, notes);
}

/** The largest difference that counts as none; undefined where it is not asked. */
function toMargin(cell: unknown): number | undefined {
  if (isBlank(cell)) return undefined;
  const margin = argumentNumber("margin", cell, "a number above 0 in the response's unit");
  if (!(margin > 0)) throw messages.outOfRange("margin", cell, "give a number above 0 in the response's unit");
  return margin;
}

/** Index of the level that all others are compared with; undefined for all pairs. */
function toReference(cell: unknown, levels: readonly string[]): number | undefined {
  if (isBlank(cell)) return undefined;
  const reference = levels.indexOf(levelText(cell));
  if (reference === -1)
    throw messages.outOfRange(
      "reference",
      cell,
      `give one of the levels ${levels.map((one) => `"${one}"`).join(", ")}`,
    );
  return reference;
}

/** @param margin whether it is told which differences are within it */
function tableOf({ means, pairs }: Comparison, margin: boolean, notes: readonly string[]): unknown[][] {
  const header = [
    "first",
    "second",
    "difference",
    "standard error",
    "low",
    "high",
    "p",
    ...(margin ? ["same to the margin"] : []),
  ];
  const filled = (row: readonly unknown[]) => header.map((_, j) => row[j] ?? "");
  return [
    header,
    ...pairs.map(({ a, b, difference, standardError, low, high, p, equivalent }) =>
      filled([a, b, difference, standardError, low, high, p, ...(margin ? [equivalent] : [])]),
    ),
    filled(["level", "rows", "mean", "standard error", "low", "high"]),
    ...means.map(({ level: name, rows, estimate }) =>
      filled([name, rows, estimate?.value, estimate?.standardError, estimate?.low, estimate?.high]),
    ),
    ...notes.map((note) => filled([note])),
  ];
}
