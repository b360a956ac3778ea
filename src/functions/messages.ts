/**
 * Every message that a worksheet function can end in. Each names the argument, the value and the mend.
 */
import { SheetError } from "./sheetError";

/** A value as the message shows it: text in quotes, cut when long. */
export function shown(value: unknown): string {
  if (typeof value === "string") return `"${value.length > 40 ? `${value.slice(0, 40)}…` : value}"`;
  if (value === null || value === undefined || value === "") return "blank";
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  if (typeof value === "object" && "error" in value) return String(value.error);
  return String(value);
}

const wrong = (text: string) => new SheetError("#VALUE!", text);

export const messages = {
  blank: (name: string, what: string) => new SheetError("#N/A", `${name} is blank: give ${what}.`),
  notNumber: (name: string, value: unknown, what: string) =>
    wrong(`${name} is ${shown(value)}, which is no number: give ${what}.`),
  notLength: (name: string, value: unknown, why: string, what: string) =>
    wrong(`${name} is ${shown(value)}, which ${why}: give ${what}.`),
  date: (name: string, value: number, day: string) =>
    wrong(
      `${name} is ${value}, the number of the date ${day}: a fraction such as 1/8 was turned into a date. Type 0 1/8 or =1/8, or '1/8 as text.`,
    ),
  outOfRange: (name: string, value: unknown, mend: string) => wrong(`${name} is ${shown(value)}: ${mend}.`),
  singleReading: (name: string, value: unknown) =>
    wrong(
      `${name} is ${shown(value)}: a single reading does not show how readings scatter, so nothing is claimed from it. Read the gap again, or give BANK.UNCERTAINTY the scatter known from earlier readings.`,
    ),
  units: (value: unknown) => wrong(`units is ${shown(value)}: give "in" or "mm".`),
  errorCell: (name: string, error: string, where: string) =>
    new SheetError(
      error === "#N/A" ? "#N/A" : "#VALUE!",
      `${name} holds the error ${error}${where}: mend that cell or leave it out.`,
    ),
  shape: (first: string, a: string, second: string, b: string) =>
    wrong(`${first} is ${a} and ${second} is ${b} (rows × columns): give ranges of one shape, or single cells.`),
  ball: (value: number, unit: string, other: string) =>
    wrong(
      `ballDiameter is ${value} ${unit}, which no ball has: give the diameter in units of "${unit}", or say "${other}" as units.`,
    ),
  madeAboveTries: (made: number, tries: number) =>
    wrong(`made is ${made} and tries is ${tries}: no more shots can be made than tried.`),
  tooFew: (name: string, count: number, least: number) =>
    wrong(`${name} has ${count} usable value${count === 1 ? "" : "s"}: give at least ${least}.`),
  rowsDiffer: (response: number, other: number, name = "drivers") =>
    wrong(`response has ${response} rows and ${name} has ${other}: give the same rows of both.`),
  notOneCell: (name: string, shape: string) => wrong(`${name} is ${shape} (rows × columns): give one cell.`),
  notOneColumn: (name: string, shape: string) => wrong(`${name} is ${shape} (rows × columns): give one column.`),
  mixedColumn: (column: string, row: number, value: unknown) =>
    wrong(
      `drivers, column ${column}, row ${row} is ${shown(value)} in a column of numbers: give a number, or text in every row for a category.`,
    ),
  namesCount: (names: number, columns: number) =>
    wrong(`names has ${names} entries and drivers has ${columns} columns: give one name per column.`),
  degreesCount: (degrees: number, columns: number) =>
    wrong(
      `degrees has ${degrees} entries and drivers has ${columns} columns: give one degree per column, 1 for a straight line.`,
    ),
  curvedCategory: (name: string, degree: number) =>
    wrong(`degrees is ${degree} for ${name}, which is a category and cannot curve: give 1 or leave it blank.`),
  jointShape: (shape: string) =>
    wrong(`joint is ${shape} (rows × columns): give two columns, one pair of drivers per row.`),
  scatter: (value: unknown) =>
    wrong(`scatter is ${shown(value)}: give "cluster" or "random" with groups, or "robust" without.`),
  groupsMissing: (scatter: string) =>
    wrong(`groups is blank where scatter is "${scatter}": give the column that says which rows belong together.`),
  groupsUnused: () => wrong(`scatter is "robust" and groups is given: leave groups out, or say "cluster" or "random".`),
  oneLevel: (name: string, level: string) =>
    wrong(`${name} has one level only (${level}): give at least two to compare.`),
  beyond: () => wrong("the result is beyond all numbers that a cell can hold: check the sizes of the arguments."),
  refused: (text: string) => wrong(`${text}.`),
  nothingLeft: (rows: number) =>
    wrong(`response and drivers have no row of ${rows} that is complete: fill in the blanks.`),
  system: (value: unknown) => wrong(`units is ${shown(value)}: give "us" (in, mph, °F, oz) or "si" (m, m/s, °C, kg).`),
  conditionsShape: (shape: string) =>
    wrong(`conditions is ${shape} (rows × columns): give two columns, label and value.`),
  conditionUnknown: (label: unknown, labels: readonly string[]) =>
    wrong(`conditions has the label ${shown(label)}: the labels are ${labels.map((one) => `"${one}"`).join(", ")}.`),
  conditionTwice: (label: string) => wrong(`conditions has "${label}" twice: leave one of them out.`),
  conditionWithoutLabel: (value: unknown) =>
    wrong(`conditions has the value ${shown(value)} without a label: give the label in the column before it.`),
  spin: (name: string, value: unknown, most: number) =>
    wrong(
      `${name} is ${shown(value)}: no ball has that; a stroke gives at most 1.25, as a tip more than half a radius off centre miscues, and the cloth raises it to about ${most} at most.`,
    ),
  miscue: (name: string, value: unknown, most: string) =>
    wrong(`${name} is ${shown(value)}: a tip more than half a radius (${most}) off centre miscues.`),
  neverGetsTo: (what: string, value: string, reached: string) =>
    new SheetError("#N/A", `the ball never gets to ${what} ${value}: ${reached}.`),
  columnsDiffer: (first: string, a: number, second: string, b: number) =>
    wrong(`${first} has ${a} values and ${second} has ${b}: give as many of both.`),
  halfPoint: (row: number) => wrong(`row ${row} has only one of x and y: give both, or leave both blank.`),
  noTravel: () => wrong("x and y do not travel: the first and last points are in one place."),
  obstacleShape: (shape: string) =>
    wrong(`obstacles is ${shape} (rows × columns): give x, y and radius, and a label in a fourth column if you like.`),
  pathShape: (shape: string) =>
    wrong(`path is ${shape} (rows × columns): give two columns x and y, or what BANK.PATH gives with its header.`),
  noRestitution: (row: string, before: string, after: string) =>
    wrong(`${row}after is ${after} and before ${before}: no restitution from 0 to 1 gives that with these conditions.`),
};
