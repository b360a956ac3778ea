/**
 * BANK.REGRESS: cells in, a table of coefficients out.
 */
import type { Driver } from "../statistics/fit/designMatrix";
import type { ErrorModel } from "../statistics/errors/errorModel";
import { regress } from "../statistics/fit/regression";
import { asMatrix, columnsOf, isBlank, shapeOf, argumentConfidence, toWhole } from "./arguments";
import { messages } from "./messages";
import {
  driverNames,
  leftOutNotes,
  numberIn,
  orSheetError,
  readColumns,
  toDriver,
  toLevels,
  unestimatedNotes,
  type Columns,
} from "./tableColumns";

/**
 * Rows: a header, one per term (term, estimate, standard error, low, high, p, and df where rows go together or scatter
 * unequally), then notes on what is missing.
 */
export function regressTable(
  response: unknown,
  drivers: unknown,
  names: unknown,
  confidence: unknown,
  groups: unknown,
  scatter: unknown,
  weights: unknown,
  degrees: unknown,
  joint: unknown,
): unknown[][] {
  const columns = readColumns(response, drivers, [
    { name: "groups", cells: groups },
    { name: "weights", cells: weights },
  ]);
  const { response: y, drivers: x, others, used } = columns;
  const labels = driverNames(names, columnsOf(x));
  const [, weight] = others;
  const curves = toDegrees(degrees, labels.length);
  const errors = toErrors(scatter, columns);
  const level = argumentConfidence(confidence);
  const fit = orSheetError(() =>
    regress({
      response: used.map((row) => numberIn("response", y[row], row)),
      drivers: labels.map((label, j) => curved(toDriver(label, j, used, x), curves[j] ?? STRAIGHT)),
      joint: toPairs(joint, labels),
      confidence: level,
      ...(errors && { errors }),
      ...(weight && { weights: used.map((row) => toWeight(weight[row], row)) }),
    }),
  );

  const header = ["term", "estimate", "standard error", "low", "high", "p", ...(errors ? ["df"] : [])];
  const table: unknown[][] = [
    header,
    ...fit.terms.map(({ label, estimate, standardError, low, high, p, df }) =>
      [label, estimate, standardError, low, high, p, ...(errors ? [df] : [])].map((cell) => cell ?? ""),
    ),
  ];
  const note = (text: string) => table.push([text, ...header.slice(1).map(() => "")]);
  leftOutNotes(columns).forEach(note);
  if (fit.residual.df === 0)
    note(`no spread can be judged: ${used.length} rows for ${fit.fit.kept.length} coefficients`);
  if (fit.spread) {
    table.push(["standard deviation between groups", fit.spread.between, ...header.slice(2).map(() => "")]);
    table.push(["standard deviation within groups", fit.spread.within, ...header.slice(2).map(() => "")]);
  }
  unestimatedNotes(fit).forEach(note);
  return table;
}

/** "cluster" where groups are given and nothing is said. */
function toErrors(scatter: unknown, { others, used }: Columns): ErrorModel | undefined {
  const [other] = others;
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
  const { values, levels } = toLevels(used.map((row) => other[row]));
  return { kind: said === "random" ? "random" : "cluster", by: { name: "groups", groups: values, levels } };
}

function toWeight(cell: unknown, row: number): number {
  const weight = numberIn("weights", cell, row);
  if (!(weight > 0))
    throw messages.outOfRange(
      `weights, row ${row + 1},`,
      cell,
      "give a number above 0, or leave the cell blank to leave the row out",
    );
  return weight;
}

const STRAIGHT = 1;

/** One degree per driver; straight lines where nothing is given. */
function toDegrees(degrees: unknown, count: number): number[] {
  const given = asMatrix(degrees).flat();
  if (given.every(isBlank)) return new Array<number>(count).fill(STRAIGHT);
  if (given.length !== count) throw messages.degreesCount(given.length, count);
  return given.map((cell) => (isBlank(cell) ? STRAIGHT : toWhole("degrees", cell, 1, 10)));
}

function curved(driver: Driver, degree: number): Driver {
  if (driver.kind === "number") return { ...driver, degree };
  if (degree > 1) throw messages.curvedCategory(driver.name, degree);
  return driver;
}

/** Pairs of drivers by name or number, one pair per row. */
function toPairs(joint: unknown, labels: readonly string[]): [number, number][] {
  const given = asMatrix(joint);
  if (given.flat().every(isBlank)) return [];
  if (columnsOf(given) !== 2) throw messages.jointShape(shapeOf(given));
  return given.flatMap((row): [number, number][] => {
    if (row.every(isBlank)) return [];
    const [a, b] = [toPlace(row[0], labels), toPlace(row[1], labels)];
    if (a === b) throw messages.outOfRange("joint", row[0], "give two different drivers; for a curve give degrees");
    return [[a, b]];
  });
}

/** The place of a driver that a cell gives by name or by its number from 1. */
function toPlace(cell: unknown, labels: readonly string[]): number {
  const name = String(cell ?? "")
    .trim()
    .toLowerCase();
  const place = typeof cell === "number" ? cell - 1 : labels.findIndex((label) => label.toLowerCase() === name);
  if (place in labels) return place;
  throw messages.outOfRange(
    "joint",
    cell,
    `give a driver by name or by its number from 1 to ${labels.length} (${labels.map((label) => `"${label}"`).join(", ")})`,
  );
}
