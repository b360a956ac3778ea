/**
 * The worksheet functions: thin declarations whose comments become the metadata that Excel and the embedded grid show.
 * May import: arguments.ts, regressTable.ts, messages.ts, bank/, statistics/.
 *
 * Declarations, not arrows, and `any` types: the metadata generator passes over everything else.
 */
/* eslint-disable @typescript-eslint/no-explicit-any */
import { bendOfGap, clearanceAtMarks, requiredOffset } from "../bank/bend";
import { parseInches, rulerFraction } from "../bank/ruler";
import { proportion, PROPORTION_METHOD } from "../statistics/proportion";
import { spread } from "../statistics/spread";
import { isCellError } from "../workbook/book";
import { asMatrix, isBlank, lift, single, toBallDiameter, toConfidence, toLength, toNumber, toUnits, toWhole } from "./arguments";
import { messages } from "./messages";
import { regressTable } from "./regressTable";

/**
 * Bend of a ball that grazed both gates and the obstacle: ball radius less gap. Same length units as the arguments.
 * @customfunction BEND
 * @param {any[][]} gap From the obstacle's edge to the centre of the near mark, square to the line, in the units; a number or a ruler fraction such as "1 1/8".
 * @param {any[][]} [ballDiameter] Diameter of the ball in the units; 2.25 in or 57.15 mm when left out.
 * @param {any[][]} [units] "in" (when left out) or "mm".
 * @returns {any[][]} Bend in the units; negative when the obstacle stands clear of the straight channel.
 */
export function BEND(gap: any[][], ballDiameter?: any[][], units?: any[][]): any[][] {
  return lift({ gap, ballDiameter, units }, (g, d, u) => {
    const unit = toUnits(u);
    return bendOfGap(toLength("gap", g, unit), toBallDiameter(d, unit));
  });
}

/**
 * How far the ball's edge passed the obstacle's edge at the marks: bend less (ball radius less gap). Negative is a hit.
 * @customfunction CLEARANCE
 * @param {any[][]} bend Bend of the ball's path at the marks, in the units.
 * @param {any[][]} gap From the obstacle's edge to the centre of the near mark, square to the line, in the units.
 * @param {any[][]} [ballDiameter] Diameter of the ball in the units; 2.25 in or 57.15 mm when left out.
 * @param {any[][]} [units] "in" (when left out) or "mm".
 * @returns {any[][]} Clearance in the units; negative is a hit.
 */
export function CLEARANCE(bend: any[][], gap: any[][], ballDiameter?: any[][], units?: any[][]): any[][] {
  return lift({ bend, gap, ballDiameter, units }, (b, g, d, u) => {
    const unit = toUnits(u);
    return clearanceAtMarks(toLength("bend", b, unit), toLength("gap", g, unit), toBallDiameter(d, unit));
  });
}

/**
 * Gap to set so that clearing the obstacle needs the bend, tightened by a guard band: ball radius less bend less guard.
 * @customfunction OFFSET
 * @param {any[][]} bend Bend that clearing the obstacle shall need, in the units.
 * @param {any[][]} [guard] Guard band for the measurement's uncertainty, 0 or more, in the units; 0 when left out.
 * @param {any[][]} [ballDiameter] Diameter of the ball in the units; 2.25 in or 57.15 mm when left out.
 * @param {any[][]} [units] "in" (when left out) or "mm".
 * @returns {any[][]} Gap in the units from the obstacle's edge to the centre of the near mark; negative is past the mark.
 */
export function OFFSET(bend: any[][], guard?: any[][], ballDiameter?: any[][], units?: any[][]): any[][] {
  return lift({ bend, guard, ballDiameter, units }, (b, g, d, u) => {
    const unit = toUnits(u);
    const band = isBlank(g) ? 0 : toLength("guard", g, unit);
    if (band < 0) throw messages.outOfRange("guard", g, `a guard band is 0 ${unit} or more`);
    return requiredOffset(toLength("bend", b, unit), band, toBallDiameter(d, unit));
  });
}

/**
 * Reads a ruler reading such as 1 1/8, 1-1/8, 1⅛ or 3/16" as decimal inches.
 * @customfunction INCHES
 * @param {any[][]} text Ruler reading as text, in inches unless it says mm or cm; a number is taken as inches.
 * @returns {any[][]} Length in inches.
 */
export function INCHES(text: any[][]): any[][] {
  return lift({ text }, (cell) => {
    if (typeof cell !== "string" || isBlank(cell)) return toLength("text", cell, "in");
    const inches = parseInches(cell);
    if (typeof inches !== "number") throw messages.notLength("text", cell, inches.why, 'a reading such as 1 1/8, 1-1/8, 1⅛ or 3/16"');
    return inches;
  });
}

/**
 * Writes a length as the nearest ruler fraction in lowest terms, with the rounding named where there is any.
 * @customfunction FRACTION
 * @param {any[][]} value Length in inches (or any unit that the ruler divides).
 * @param {any[][]} [denominator] Divisions of the ruler per unit, a whole number from 1 to 1000; 16 when left out.
 * @returns {any[][]} Text such as 1 1/8, or 1 1/8 (rounded down 0.005 to 1/16).
 */
export function FRACTION(value: any[][], denominator?: any[][]): any[][] {
  return lift({ value, denominator }, (v, d) =>
    rulerFraction(toLength("value", v, "in"), isBlank(d) ? 16 : toWhole("denominator", d, 1, 1000)),
  );
}

/**
 * Regression of a response on drivers by least squares; columns of text are categories, the first level met is the reference.
 * @customfunction REGRESS
 * @param {any[][]} response One column of numbers, such as bend.
 * @param {any[][]} drivers One or more columns beside it, numbers or text; rows with a blank are left out and counted.
 * @param {any[][]} [names] Names of the drivers, one per column.
 * @param {any[][]} [confidence] Confidence of the intervals as a share; 0.95 when left out.
 * @returns {any[][]} Table of term, estimate (response's unit per driver's unit), standard error, low, high and p.
 */
export function REGRESS(response: any[][], drivers: any[][], names?: any[][], confidence?: any[][]): any[][] {
  return regressTable(response, drivers, names, single("confidence", confidence));
}

/**
 * Mean and standard deviation of measurements with their intervals, and how many there are; blanks are passed over.
 * @customfunction SPREAD
 * @param {any[][]} values Measurements in any one unit, at least two.
 * @param {any[][]} [confidence] Confidence of the intervals as a share; 0.95 when left out.
 * @returns {any[][]} Table of quantity, estimate, low and high, in the unit of the values.
 */
export function SPREAD(values: any[][], confidence?: any[][]): any[][] {
  const level = toConfidence(single("confidence", confidence));
  const numbers = asMatrix(values).flatMap((cells, row) =>
    cells.flatMap((cell) => {
      if (isCellError(cell)) throw messages.errorCell("values", cell.error, ` in row ${row + 1}`);
      return isBlank(cell) ? [] : [toNumber(`values, row ${row + 1},`, cell, "a number")];
    }),
  );
  if (numbers.length < 2) throw messages.tooFew("values", numbers.length, 2);
  const { n, mean, meanInterval, standardDeviation, standardDeviationInterval } = spread(numbers, level);
  return [
    ["quantity", "estimate", "low", "high"],
    ["mean", mean, meanInterval.low, meanInterval.high],
    ["standard deviation", standardDeviation, standardDeviationInterval.low, standardDeviationInterval.high],
    ["n", n, "", ""],
  ];
}

/**
 * Success rate of a shot and its exact interval after Clopper and Pearson.
 * @customfunction MAKES
 * @param {any[][]} made Shots made, a whole number.
 * @param {any[][]} tries Shots tried, a whole number of 1 or more.
 * @param {any[][]} [confidence] Confidence of the interval as a share; 0.95 when left out.
 * @returns {any[][]} Table of success rate, low, high (shares from 0 to 1) and the method.
 */
export function MAKES(made: any[][], tries: any[][], confidence?: any[][]): any[][] {
  const level = toConfidence(single("confidence", confidence));
  const successes = toWhole("made", single("made", made), 0, Infinity);
  const shots = toWhole("tries", single("tries", tries), 1, Infinity);
  if (successes > shots) throw messages.madeAboveTries(successes, shots);
  const { rate, low, high } = proportion(successes, shots, level);
  return [
    ["success rate", "low", "high", "method"],
    [rate, low, high, PROPORTION_METHOD],
  ];
}
