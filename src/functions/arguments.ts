/**
 * What a cell argument may be: the one place where cells become numbers.
 *
 * Hosts hand over null for a blank cell or a skipped argument, and a matrix (rows of cells) for every argument.
 */
import { STANDARD_BALL_DIAMETER } from "../bank/bend";
import { parseInches } from "../bank/ruler";
import { there } from "../there";
import { isCellError } from "../workbook/book";
import { dayOfSerial, plainNumber } from "../workbook/cellText";
import { messages } from "./messages";
import { SheetError } from "./sheetError";

/** One argument as a host hands it over. */
export type CellMatrix = readonly (readonly unknown[])[];

export type LengthUnit = keyof typeof STANDARD_BALL_DIAMETER;

/** Serial numbers of 1980-01-01 and 2100-01-01: no gap or bend is that long, but a fraction taken for a date is. */
const FIRST_DATE = 29221;
const LAST_DATE = 73051;

const EXAMPLE: Record<LengthUnit, string> = {
  in: 'a number in inches such as 1.125 or a ruler fraction such as "1 1/8"',
  mm: "a number in millimetres such as 28.5",
};

export function isBlank(cell: unknown): boolean {
  return cell === null || cell === undefined || (typeof cell === "string" && cell.trim() === "");
}

/** A host may hand over a bare value where it should hand over a matrix. */
export function asMatrix(argument: unknown): CellMatrix {
  return Array.isArray(argument)
    ? argument.length > 0 && Array.isArray(argument[0])
      ? argument
      : [argument]
    : [[argument]];
}

/** A number in a cell: a number, or text that is plainly one ("8.5 ", "45 %"). */
export function argumentNumber(name: string, cell: unknown, what: string): number {
  if (isBlank(cell)) throw messages.blank(name, what);
  if (isCellError(cell)) throw messages.errorCell(name, cell.error, "");
  if (typeof cell === "number" && Number.isFinite(cell)) return cell;
  if (typeof cell === "string") {
    const number = plainNumber(cell);
    if (number !== undefined && Number.isFinite(number)) return number;
  }
  throw messages.notNumber(name, cell, what);
}

/** A length in the units of the call; ruler fractions as text are read in inches. */
export function toLength(name: string, cell: unknown, unit: LengthUnit): number {
  if (isBlank(cell)) throw messages.blank(name, EXAMPLE[unit]);
  if (isCellError(cell)) throw messages.errorCell(name, cell.error, "");
  if (typeof cell === "string") {
    const plain = plainNumber(cell);
    if (plain !== undefined && !cell.includes("%")) return toLength(name, plain, unit);
    const inches = parseInches(cell);
    if (typeof inches !== "number") throw messages.notLength(name, cell, inches.why, EXAMPLE[unit]);
    if (unit === "in") return inches;
    if (/mm|cm/i.test(cell)) return inches * 25.4;
    throw messages.notLength(name, cell, "is a reading in inches where units is mm", EXAMPLE[unit]);
  }
  if (typeof cell !== "number" || !Number.isFinite(cell)) throw messages.notNumber(name, cell, EXAMPLE[unit]);
  if (cell >= FIRST_DATE && cell < LAST_DATE) throw messages.date(name, cell, dayOfSerial(cell));
  return cell;
}

/** A diameter of a ball; the standard one when it is left out. */
export function toBallDiameter(cell: unknown, unit: LengthUnit): number {
  if (isBlank(cell)) return STANDARD_BALL_DIAMETER[unit];
  const diameter = toLength("ballDiameter", cell, unit);
  if (diameter <= 0)
    throw messages.outOfRange(
      "ballDiameter",
      cell,
      `a diameter is above 0 ${unit}; leave it out for ${STANDARD_BALL_DIAMETER[unit]} ${unit}`,
    );
  const standard = STANDARD_BALL_DIAMETER[unit];
  if (diameter < standard / 4 || diameter > standard * 4)
    throw messages.ball(diameter, unit, unit === "in" ? "mm" : "in");
  return diameter;
}

export function toUnits(cell: unknown): LengthUnit {
  if (isBlank(cell)) return "in";
  const text = typeof cell === "string" ? cell.trim().toLowerCase() : "";
  if (text !== "in" && text !== "mm") throw messages.units(cell);
  return text;
}

/** A confidence such as 0.95, also written 95 %; 0.95 when it is left out. */
export function argumentConfidence(cell: unknown): number {
  if (isBlank(cell)) return 0.95;
  const confidence = argumentNumber("confidence", cell, "a share such as 0.95 or 95%");
  if (!(confidence > 0 && confidence < 1))
    throw messages.outOfRange("confidence", cell, "give a share between 0 and 1, such as 0.95 or 95%");
  return confidence;
}

/** A whole number within limits. */
export function toWhole(name: string, cell: unknown, least: number, most: number): number {
  const what = `a whole number from ${least}${most === Infinity ? " up" : ` to ${most}`}`;
  const number = argumentNumber(name, cell, what);
  if (!Number.isInteger(number) || number < least || number > most)
    throw messages.outOfRange(name, cell, `give ${what}`);
  return number;
}

/** The single cell of an argument that takes one value only. */
export function single(name: string, argument: unknown): unknown {
  const matrix = asMatrix(argument);
  if (matrix.length !== 1 || columnsOf(matrix) !== 1) throw messages.notOneCell(name, shapeOf(matrix));
  return matrix[0]?.[0];
}

/** How many columns the rows have. */
export function columnsOf(matrix: CellMatrix): number {
  return matrix[0]?.length ?? 0;
}

export function shapeOf(matrix: CellMatrix): string {
  return `${matrix.length} × ${columnsOf(matrix)}`;
}

/** A result as it is, or the error that says that it is beyond all numbers. */
function finite<Result>(result: Result): Result | SheetError {
  return typeof result === "number" && !Number.isFinite(result) ? messages.beyond() : result;
}

/** A table of results without NaN and infinities; a RangeError of the computation is an answer about its arguments. */
export function finiteTable(compute: () => unknown[][]): unknown[][] {
  try {
    return compute().map((row) => row.map(finite));
  } catch (problem) {
    if (problem instanceof SheetError) throw problem;
    if (problem instanceof RangeError)
      throw new SheetError("#VALUE!", `The arguments cannot be computed with: ${problem.message}.`);
    throw problem;
  }
}

/**
 * Applies a function of single cells over ranges: ranges of one shape go cell by cell, a single cell, row or column is
 * used throughout. An error in one cell stays in that cell of the result; a single result's error is thrown.
 */
export function lift(named: Readonly<Record<string, unknown>>, compute: (...cells: unknown[]) => unknown): unknown[][] {
  const given = Object.entries(named).map(([name, argument]) => ({ name, matrix: asMatrix(argument) }));
  const matrices = given.map(({ matrix }) => matrix);
  const rows = Math.max(...matrices.map((matrix) => matrix.length));
  const columns = Math.max(...matrices.map(columnsOf));
  for (const { name, matrix } of given) {
    const fits = (matrix.length === 1 || matrix.length === rows) && [1, columns].includes(columnsOf(matrix));
    if (fits) continue;
    const other = given.find((one) => one.name !== name && one.matrix.length * columnsOf(one.matrix) > 1);
    const { name: second, matrix: longer } = there(other, "an argument of more cells than one");
    throw messages.shape(name, shapeOf(matrix), second, shapeOf(longer));
  }
  const cellAt = (matrix: CellMatrix, r: number, c: number) =>
    matrix[matrix.length === 1 ? 0 : r]?.[columnsOf(matrix) === 1 ? 0 : c];
  const results = Array.from({ length: rows }, (_, r) =>
    Array.from({ length: columns }, (__, c) => {
      try {
        return finite(compute(...matrices.map((matrix) => cellAt(matrix, r, c))));
      } catch (problem) {
        if (problem instanceof SheetError) return problem;
        throw problem;
      }
    }),
  );
  const only = results[0]?.[0];
  if (rows === 1 && columns === 1 && only instanceof SheetError) throw only;
  return results;
}
