/**
 * BANK.REGRESS: cells in, a table of coefficients out. May import: arguments.ts, messages.ts, statistics/.
 */
import type { Driver } from "../statistics/design";
import { regress } from "../statistics/regression";
import { isCellError } from "../workbook/book";
import { plainNumber } from "../workbook/cellText";
import { asMatrix, isBlank, shapeOf, toConfidence, type Matrix } from "./arguments";
import { messages, shown } from "./messages";

/** Rows: a header, one per term (term, estimate, standard error, low, high, p), then notes on what is missing. */
export function regressTable(response: unknown, drivers: unknown, names: unknown, confidence: unknown): unknown[][] {
  const given = asMatrix(response);
  const sideways = given.length === 1 && given[0].length > 1;
  const y = sideways ? transpose(given) : given;
  const x = sideways ? transpose(asMatrix(drivers)) : asMatrix(drivers);
  if (y[0].length !== 1) throw messages.notOneColumn("response", shapeOf(y));
  if (x.length !== y.length) throw messages.rowsDiffer(y.length, x.length);
  const labels = driverNames(names, x[0].length);
  const level = toConfidence(confidence);

  const columns = [y, ...labels.map((_, j) => x.map((row) => [row[j]]))];
  columns.forEach((column, j) => {
    column.forEach(([cell], row) => {
      if (isCellError(cell)) throw messages.errorCell(j === 0 ? "response" : "drivers", cell.error, ` in row ${row + 1}`);
    });
  });
  const used = y.flatMap((_, row) => (columns.every((column) => !isBlank(column[row][0])) ? [row] : []));
  if (used.length === 0) throw messages.nothingLeft(y.length);
  const fit = regress({
    response: used.map((row) => asNumber("response", y[row][0], row)),
    drivers: labels.map((label, j) => toDriver(label, j, used, x)),
    confidence: level,
  });

  const table: unknown[][] = [
    ["term", "estimate", "standard error", "low", "high", "p"],
    ...fit.terms.map(({ label, estimate, standardError, low, high, p }) => [label, estimate, standardError, low, high, p].map((cell) => cell ?? "")),
  ];
  const note = (text: string) => table.push([text, "", "", "", "", ""]);
  if (used.length < y.length) note(`${used.length} of ${y.length} rows used, ${y.length - used.length} left out for a blank`);
  if (fit.residual.df === 0) note(`no spread can be judged: ${used.length} rows for ${fit.fit.kept.length} coefficients`);
  for (const { reason } of fit.unestimated) note(`not estimated: ${reason}`);
  return table;
}

function asNumber(name: string, cell: unknown, row: number): number {
  const number = typeof cell === "string" ? plainNumber(cell) : cell;
  if (typeof number !== "number" || !Number.isFinite(number)) throw messages.notNumber(`${name}, row ${row + 1},`, cell, "a number");
  return number;
}

function toDriver(name: string, j: number, used: readonly number[], x: Matrix): Driver {
  const cells = used.map((row) => x[row][j]);
  const numbers = cells.map((cell) => (typeof cell === "string" ? plainNumber(cell) : typeof cell === "number" ? cell : undefined));
  if (numbers.every((number) => number !== undefined)) return { kind: "number", name, values: numbers as number[], degree: 1 };
  if (cells.some((cell) => typeof cell === "number")) {
    const odd = cells.findIndex((_, i) => numbers[i] === undefined);
    throw messages.mixedColumn(name, used[odd] + 1, cells[odd]);
  }
  const texts = cells.map((cell) => (typeof cell === "string" ? cell.trim() : shown(cell)));
  const levels = [...new Set(texts)];
  return { kind: "category", name, values: texts.map((text) => levels.indexOf(text)), levels };
}

function driverNames(names: unknown, count: number): string[] {
  const given = asMatrix(names).flat();
  if (given.every(isBlank)) return Array.from({ length: count }, (_, j) => `driver ${j + 1}`);
  if (given.length !== count) throw messages.namesCount(given.length, count);
  return given.map((name, j) => (isBlank(name) ? `driver ${j + 1}` : String(name).trim()));
}

function transpose(matrix: Matrix): unknown[][] {
  return matrix[0].map((_, j) => matrix.map((row) => row[j]));
}
