/**
 * The worksheet functions: thin declarations whose comments become the metadata that Excel and the embedded grid show.
 *
 * Declarations, not arrows, and `any` types: the metadata generator passes over everything else.
 */
/* eslint-disable @typescript-eslint/no-explicit-any */
import { bendOfGap, clearanceAtMarks, requiredOffset } from "../bank/bend";
import { parseInches, rulerFraction } from "../bank/ruler";
import { proportion, PROPORTION_METHOD } from "../statistics/measure/proportion";
import { spread } from "../statistics/measure/spread";
import { isCellError } from "../workbook/book";
import { absoluteHumidities, dewPoints, mixingRatios, relativeHumidities, vapourPressures } from "./airCells";
import {
  asMatrix,
  finiteTable,
  isBlank,
  lift,
  single,
  toBallDiameter,
  argumentConfidence,
  toLength,
  argumentNumber,
  toUnits,
  toWhole,
} from "./arguments";
import { nextGapTable, reachTable } from "./attemptTable";
import { compareTable } from "./compareTable";
import { reboundTable, rollingTable, slidingTable, speeds, spinRow } from "./measureTable";
import { messages } from "./messages";
import { powerCells, shotsCells } from "./planCells";
import { gateRow } from "./gateTable";
import { layoutTable } from "./layoutTable";
import { regressTable } from "./regressTable";
import { alignmentOf, beatsCells, uncertaintyRow } from "./uncertaintyTable";
import { cautions, impactRow, pathTable, predictions, runRow, swingTable } from "./shotTable";
import { pathClearanceTable, trackBendTable } from "./trackTable";

/**
 * Bend of a ball that grazed both gates and the obstacle: ball radius less gap. In inches with a 2.25 in ball unless units is "mm" (57.15 mm).
 * @customfunction BEND
 * @param {any[][]} gap From the obstacle's edge to the centre of the near mark, square to the line, in the units; a number or a ruler fraction such as "1 1/8".
 * @param {any[][]} [ballDiameter] Diameter of the ball in the units; 2.25 in or 57.15 mm when left out.
 * @param {any[][]} [units] "in" (when left out) or "mm".
 * @returns {any[][]} Bend in the units; negative when the obstacle stands clear of the straight channel.
 * @example =BANK.BEND(1/8) → 1
 * @example =BANK.BEND(3,,"mm") → 25.575
 */
export function BEND(gap: any[][], ballDiameter?: any[][], units?: any[][]): any[][] {
  return lift({ gap, ballDiameter, units }, (g, d, u) => {
    const unit = toUnits(u);
    return bendOfGap(toLength("gap", g, unit), toBallDiameter(d, unit));
  });
}

/**
 * How far the ball's edge passed the obstacle's edge at the marks: bend less (ball radius less gap). Negative is a hit. In inches with a 2.25 in ball unless units is "mm" (57.15 mm).
 * @customfunction CLEARANCE
 * @param {any[][]} bend Bend of the ball's path at the marks, in the units.
 * @param {any[][]} gap From the obstacle's edge to the centre of the near mark, square to the line, in the units.
 * @param {any[][]} [ballDiameter] Diameter of the ball in the units; 2.25 in or 57.15 mm when left out.
 * @param {any[][]} [units] "in" (when left out) or "mm".
 * @returns {any[][]} Clearance in the units; negative is a hit.
 * @example =BANK.CLEARANCE(1,1/4) → 0.125
 */
export function CLEARANCE(bend: any[][], gap: any[][], ballDiameter?: any[][], units?: any[][]): any[][] {
  return lift({ bend, gap, ballDiameter, units }, (b, g, d, u) => {
    const unit = toUnits(u);
    return clearanceAtMarks(toLength("bend", b, unit), toLength("gap", g, unit), toBallDiameter(d, unit));
  });
}

/**
 * Gap to set so that clearing the obstacle needs the bend, tightened by a guard band: ball radius less bend less guard. In inches with a 2.25 in ball unless units is "mm" (57.15 mm).
 * @customfunction OFFSET
 * @param {any[][]} bend Bend that clearing the obstacle shall need, in the units.
 * @param {any[][]} [guard] Guard band for the measurement's uncertainty, 0 or more, in the units; 0 when left out.
 * @param {any[][]} [ballDiameter] Diameter of the ball in the units; 2.25 in or 57.15 mm when left out.
 * @param {any[][]} [units] "in" (when left out) or "mm".
 * @returns {any[][]} Gap in the units from the obstacle's edge to the centre of the near mark; negative is past the mark.
 * @example =BANK.OFFSET(1,1/32) → 0.09375
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
 * Reads a ruler reading such as 1 1/8, 1-1/8, 1⅛ or 3/16" as decimal inches; mm and cm are turned into inches.
 * @customfunction INCHES
 * @param {any[][]} text Ruler reading as text, in inches unless it says mm or cm; a number is taken as inches.
 * @returns {any[][]} Length in inches.
 * @example =BANK.INCHES("1-1/8") → 1.125
 */
export function INCHES(text: any[][]): any[][] {
  return lift({ text }, (cell) => {
    if (typeof cell !== "string" || isBlank(cell)) return toLength("text", cell, "in");
    const inches = parseInches(cell);
    if (typeof inches !== "number")
      throw messages.notLength("text", cell, inches.why, 'a reading such as 1 1/8, 1-1/8, 1⅛ or 3/16"');
    return inches;
  });
}

/**
 * Writes a length in inches as the nearest ruler fraction in lowest terms, to 1/16 when nothing else is said, with the rounding named where there is any.
 * @customfunction FRACTION
 * @param {any[][]} value Length in inches (or any unit that the ruler divides).
 * @param {any[][]} [denominator] Divisions of the ruler per unit, a whole number from 1 to 1000; 16 when left out.
 * @returns {any[][]} Text such as 1 1/8, or 1 1/8 (rounded down 0.005 to 1/16).
 * @example =BANK.FRACTION(1.13) → 1 1/8 (rounded down 0.005 to 1/16)
 */
export function FRACTION(value: any[][], denominator?: any[][]): any[][] {
  return lift({ value, denominator }, (v, d) =>
    rulerFraction(toLength("value", v, "in"), isBlank(d) ? 16 : toWhole("denominator", d, 1, 1000)),
  );
}

/**
 * Regression of a response on drivers by least squares, in the response's unit per driver's unit, with 95 % intervals when nothing else is said; columns of text are categories, the first level met is the reference.
 * @customfunction REGRESS
 * @param {any[][]} response One column of numbers, such as bend.
 * @param {any[][]} drivers One or more columns beside it, numbers or text; rows with a blank are left out and counted.
 * @param {any[][]} [names] Names of the drivers, one per column; x1, x2 … when left out.
 * @param {any[][]} [confidence] Confidence of the intervals as a share; 0.95 when left out.
 * @param {any[][]} [groups] One column that says which rows belong together, such as the session; each row by itself when left out.
 * @param {any[][]} [scatter] "cluster" (when left out and groups is given), "random" for a random shift per group, or "robust" without groups.
 * @param {any[][]} [weights] One column of weights above 0, such as shots per row: weight 2 scatters with half the variance of weight 1; all alike when left out.
 * @param {any[][]} [degrees] One per driver: 1 for a straight line, 2 to 10 for a curve; 1 when left out.
 * @param {any[][]} [joint] Two columns of drivers, by name or number: each row is a pair whose effects may depend on each other; none when left out.
 * @returns {any[][]} Table of term, estimate (response's unit per driver's unit), standard error, low, high and p; with groups or scatter also df.
 * @example =BANK.REGRESS({0.5;0.56;0.58;0.66},{8;9;10;11}) → term | estimate | standard error | low | high | p
 * @example =BANK.REGRESS({0.5;0.56;0.58;0.66;0.7},{8;9;10;11;12},"speed",,,"robust",{1;2;4;2;1},2) → term | estimate | standard error | low | high | p | df
 */
export function REGRESS(
  response: any[][],
  drivers: any[][],
  names?: any[][],
  confidence?: any[][],
  groups?: any[][],
  scatter?: any[][],
  weights?: any[][],
  degrees?: any[][],
  joint?: any[][],
): any[][] {
  return finiteTable(() =>
    regressTable(
      response,
      drivers,
      names,
      single("confidence", confidence),
      groups,
      single("scatter", scatter),
      weights,
      degrees,
      joint,
    ),
  );
}

/**
 * Mean and standard deviation of measurements with their 95 % intervals (when nothing else is said), and how many there are, in the unit of the values; blanks are passed over.
 * @customfunction SPREAD
 * @param {any[][]} values Measurements in any one unit, at least two.
 * @param {any[][]} [confidence] Confidence of the intervals as a share; 0.95 when left out.
 * @returns {any[][]} Table of quantity, estimate, low and high, in the unit of the values.
 * @example =BANK.SPREAD({0.61;0.58;0.66;0.63}) → quantity | estimate | low | high
 */
export function SPREAD(values: any[][], confidence?: any[][]): any[][] {
  const level = argumentConfidence(single("confidence", confidence));
  const numbers = asMatrix(values).flatMap((cells, row) =>
    cells.flatMap((cell) => {
      if (isCellError(cell)) throw messages.errorCell("values", cell.error, ` in row ${row + 1}`);
      return isBlank(cell) ? [] : [argumentNumber(`values, row ${row + 1},`, cell, "a number")];
    }),
  );
  if (numbers.length < 2) throw messages.tooFew("values", numbers.length, 2);
  const { n, mean, meanInterval, standardDeviation, standardDeviationInterval } = spread(numbers, level);
  return finiteTable(() => [
    ["quantity", "estimate", "low", "high"],
    ["mean", mean, meanInterval.low, meanInterval.high],
    ["standard deviation", standardDeviation, standardDeviationInterval.low, standardDeviationInterval.high],
    ["n", n, "", ""],
  ]);
}

/**
 * Success rate of a shot as a share from 0 to 1 and its exact 95 % interval (when nothing else is said) after Clopper and Pearson.
 * @customfunction MAKES
 * @param {any[][]} made Shots made, a whole number.
 * @param {any[][]} tries Shots tried, a whole number of 1 or more.
 * @param {any[][]} [confidence] Confidence of the interval as a share; 0.95 when left out.
 * @returns {any[][]} Table of success rate, low, high (shares from 0 to 1) and the method.
 * @example =BANK.MAKES(7,10) → success rate | low | high | method
 */
export function MAKES(made: any[][], tries: any[][], confidence?: any[][]): any[][] {
  const level = argumentConfidence(single("confidence", confidence));
  const successes = toWhole("made", single("made", made), 0, Infinity);
  const shots = toWhole("tries", single("tries", tries), 1, Infinity);
  if (successes > shots) throw messages.madeAboveTries(successes, shots);
  const { rate, low, high } = proportion(successes, shots, level);
  return [
    ["success rate", "low", "high", "method"],
    [rate, low, high, PROPORTION_METHOD],
  ];
}

/**
 * Mean speed of a ball over a distance, from a time or from frames of a video and their rate. In mph and inches unless units is "si" (m/s, m).
 * @customfunction SPEED
 * @param {any[][]} distance Distance travelled, above 0, in the units (in or m).
 * @param {any[][]} time Time in s, or a count of frames when a frame rate is given.
 * @param {any[][]} [frameRate] Frames per second of the video; the time is in s when left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Speed in the units (mph or m/s).
 * @example =BANK.SPEED(100,2.5) → 2.27273
 */
export function SPEED(distance: any[][], time: any[][], frameRate?: any[][], units?: any[][]): any[][] {
  return finiteTable(() => speeds(distance, time, frameRate, units));
}

/**
 * Spin that a tip's place on the cue ball gives, and what is left of it after a straight run of cloth. In mph and inches unless units is "si" (m/s, m).
 * @customfunction SPIN
 * @param {any[][]} up Tip above the ball's centre, in the units (in or m); negative is below.
 * @param {any[][]} [right] Tip to the shooter's right of the centre, in the units; 0 when left out.
 * @param {any[][]} [speed] Speed of the cue ball in the units (mph or m/s), needed with a distance; may be left out without one.
 * @param {any[][]} [distance] Run of cloth after the stroke in the units; at the stroke itself when left out.
 * @param {any[][]} [conditions] Label and value, such as columns A and B of the sheet Conditions: slip friction, roll friction, side friction, nose friction, restitution, nose height (share of the diameter), ball diameter, ball mass; defaults for what is left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} One row: roll and side as ratios.
 * @example =BANK.SPIN(0.4) → 0.888889 | 0
 */
export function SPIN(
  up: any[][],
  right?: any[][],
  speed?: any[][],
  distance?: any[][],
  conditions?: any[][],
  units?: any[][],
): any[][] {
  return finiteTable(() => spinRow(up, right, speed, distance, conditions, units));
}

/**
 * Rolling friction from roll-outs: distances and times of a rolling ball until it rests, with the uncertainty of their mean. In inches unless units is "si" (m).
 * @customfunction ROLLING
 * @param {any[][]} distance Distances that the ball rolled to rest, in the units (in or m).
 * @param {any[][]} time Times in s that it took.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Table of roll friction, standard uncertainty (of repeated runs), low, high (95 %) and n.
 * @example =BANK.ROLLING({60;64},{3.1;3.2}) → roll friction | standard uncertainty | low | high | n
 */
export function ROLLING(distance: any[][], time: any[][], units?: any[][]): any[][] {
  return finiteTable(() => rollingTable(distance, time, units));
}

/**
 * Sliding friction from stun runs: speeds at the start and distances until the ball rolls, with the uncertainty of their mean. In mph and inches unless units is "si" (m/s, m).
 * @customfunction SLIDING
 * @param {any[][]} speed Speeds of the stunned ball at the start of its slip, in the units (mph or m/s).
 * @param {any[][]} distance Distances from there to where it first rolls, in the units (in or m).
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Table of slip friction, standard uncertainty (of repeated runs), low, high (95 %) and n.
 * @example =BANK.SLIDING({4;4.2},{12;13}) → slip friction | standard uncertainty | low | high | n
 */
export function SLIDING(speed: any[][], distance: any[][], units?: any[][]): any[][] {
  return finiteTable(() => slidingTable(speed, distance, units));
}

/**
 * Restitution of a cushion from straight lags: the value with which the model gives the measured speeds back. In mph unless units is "si" (m/s).
 * @customfunction REBOUND
 * @param {any[][]} before Speeds just before the cushion, square to it, in the units (mph or m/s).
 * @param {any[][]} after Speeds just after the cushion, in the units.
 * @param {any[][]} [roll] Roll at the cushion as a ratio; 1, a rolling ball, when left out.
 * @param {any[][]} [conditions] Label and value, such as columns A and B of the sheet Conditions: slip friction, roll friction, side friction, nose friction, restitution, nose height (share of the diameter), ball diameter, ball mass; defaults for what is left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Table of restitution, standard uncertainty (of repeated lags), low, high (95 %), n and the share of speed kept.
 * @example =BANK.REBOUND(4,3) → restitution | standard uncertainty | low | high | n | speed kept
 */
export function REBOUND(
  before: any[][],
  after: any[][],
  roll?: any[][],
  conditions?: any[][],
  units?: any[][],
): any[][] {
  return finiteTable(() => reboundTable(before, after, roll, conditions, units));
}

/**
 * Dew point of the air by the Magnus form of WMO-No. 8, in °F, or in °C with units "si".
 * @customfunction DEWPOINT
 * @param {any[][]} temperature Temperature of the air in the units (°F or °C).
 * @param {any[][]} humidity Relative humidity in %, such as 45 or 45%; up to 1 it is taken as a share.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Dew point in the units (°F or °C).
 * @example =BANK.DEWPOINT(68,50) → 48.6593
 */
export function DEWPOINT(temperature: any[][], humidity: any[][], units?: any[][]): any[][] {
  return finiteTable(() => dewPoints(temperature, humidity, units));
}

/**
 * Vapour pressure of the air in hPa by the Magnus form of WMO-No. 8; of saturated air when the humidity is left out. Temperature in °F, or in °C with units "si".
 * @customfunction VAPOUR
 * @param {any[][]} temperature Temperature of the air in the units (°F or °C).
 * @param {any[][]} [humidity] Relative humidity in %, such as 45 or 45%; saturated when left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Vapour pressure in hPa.
 * @example =BANK.VAPOUR(68,50) → 11.663
 */
export function VAPOUR(temperature: any[][], humidity?: any[][], units?: any[][]): any[][] {
  return finiteTable(() => vapourPressures(temperature, humidity, units));
}

/**
 * Absolute humidity of the air: grams of vapour in a cubic metre. Temperature in °F, or in °C with units "si".
 * @customfunction ABSHUMIDITY
 * @param {any[][]} temperature Temperature of the air in the units (°F or °C).
 * @param {any[][]} humidity Relative humidity in %, such as 45 or 45%; up to 1 it is taken as a share.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Absolute humidity in g/m³.
 * @example =BANK.ABSHUMIDITY(68,50) → 8.62081
 */
export function ABSHUMIDITY(temperature: any[][], humidity: any[][], units?: any[][]): any[][] {
  return finiteTable(() => absoluteHumidities(temperature, humidity, units));
}

/**
 * Mixing ratio of the air: grams of vapour to a kilogram of dry air. Temperature in °F, or in °C with units "si"; 1013.25 hPa when nothing else is said.
 * @customfunction MIXINGRATIO
 * @param {any[][]} temperature Temperature of the air in the units (°F or °C).
 * @param {any[][]} humidity Relative humidity in %, such as 45 or 45%; up to 1 it is taken as a share.
 * @param {any[][]} [pressure] Pressure of the air in hPa; 1013.25 when left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Mixing ratio in g/kg.
 * @example =BANK.MIXINGRATIO(68,50) → 7.24265
 */
export function MIXINGRATIO(temperature: any[][], humidity: any[][], pressure?: any[][], units?: any[][]): any[][] {
  return finiteTable(() => mixingRatios(temperature, humidity, pressure, units));
}

/**
 * Relative humidity of the air in % from its temperature and dew point, in °F, or in °C with units "si".
 * @customfunction RELHUMIDITY
 * @param {any[][]} temperature Temperature of the air in the units (°F or °C).
 * @param {any[][]} dewPoint Dew point in the units, at or below the temperature.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Relative humidity in %.
 * @example =BANK.RELHUMIDITY(68,48.7) → 50.0761
 */
export function RELHUMIDITY(temperature: any[][], dewPoint: any[][], units?: any[][]): any[][] {
  return finiteTable(() => relativeHumidities(temperature, dewPoint, units));
}

/**
 * What a straight run of cloth leaves of a ball's speed and spin: it slips, then rolls, and its side dies away. In mph and inches unless units is "si" (m/s, m).
 * @customfunction CLOTHRUN
 * @param {any[][]} speed Speed of the ball at the start, above 0, in the units (mph or m/s).
 * @param {any[][]} roll Roll at the start as a ratio: 1 natural roll, 0 stun, -1 full draw.
 * @param {any[][]} side Side at the start as a ratio, positive counter-clockwise seen from above.
 * @param {any[][]} distance Length of the run, 0 or more, in the units (in or m).
 * @param {any[][]} [conditions] Label and value, such as columns A and B of the sheet Conditions: slip friction, roll friction, side friction, nose friction, restitution, nose height (share of the diameter), ball diameter, ball mass, cushion model ("nose and bed" or "nose alone"); defaults for what is left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} One row: speed in the units, roll, side.
 * @example =BANK.CLOTHRUN(5,0,0.5,40) → 3.51713 | 1 | 0.607142
 */
export function CLOTHRUN(
  speed: any[][],
  roll: any[][],
  side: any[][],
  distance: any[][],
  conditions?: any[][],
  units?: any[][],
): any[][] {
  return finiteTable(() => runRow(speed, roll, side, distance, conditions, units));
}

/**
 * Old name of BANK.CLOTHRUN, which takes its place: Excel knows RUN from its macros. Workbooks that have it go on computing.
 * @customfunction RUN
 * @param {any[][]} speed Speed of the ball at the start, above 0, in the units (mph or m/s).
 * @param {any[][]} roll Roll at the start as a ratio: 1 natural roll, 0 stun, -1 full draw.
 * @param {any[][]} side Side at the start as a ratio, positive counter-clockwise seen from above.
 * @param {any[][]} distance Length of the run, 0 or more, in the units (in or m).
 * @param {any[][]} [conditions] Label and value, such as columns A and B of the sheet Conditions: slip friction, roll friction, side friction, nose friction, restitution, nose height (share of the diameter), ball diameter, ball mass; defaults for what is left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} One row: speed in the units, roll, side.
 * @example =BANK.RUN(5,0,0.5,40) → 3.51713 | 1 | 0.607142
 */
export function RUN(
  speed: any[][],
  roll: any[][],
  side: any[][],
  distance: any[][],
  conditions?: any[][],
  units?: any[][],
): any[][] {
  return CLOTHRUN(speed, roll, side, distance, conditions, units);
}

/**
 * What the cushion makes of a ball's speed, angle and spin; a rigid nose, which holds up to 2.5 m/s (5.6 mph) square to the rail. In mph unless units is "si" (m/s).
 * @customfunction IMPACT
 * @param {any[][]} speed Speed of the ball at the cushion, above 0, in the units.
 * @param {any[][]} angle Angle at the cushion in degrees from square to the rail, positive along +x, between -90 and 90.
 * @param {any[][]} roll Roll at the cushion as a ratio: 1 natural roll, 0 stun, -1 full draw.
 * @param {any[][]} side Side at the cushion as a ratio, positive counter-clockwise seen from above.
 * @param {any[][]} [conditions] Label and value, such as columns A and B of the sheet Conditions: slip friction, roll friction, side friction, nose friction, restitution, nose height (share of the diameter), ball diameter, ball mass; defaults for what is left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} One row after the cushion: speed in the units, angle in degrees (positive: the ball keeps going that way), roll, side, swerve.
 * @example =BANK.IMPACT(5,20,0.5,0.5) → 4.55137 | 22.0891 | -0.0673196 | 0.471891 | -0.33939
 */
export function IMPACT(
  speed: any[][],
  angle: any[][],
  roll: any[][],
  side: any[][],
  conditions?: any[][],
  units?: any[][],
): any[][] {
  return finiteTable(() => impactRow(speed, angle, roll, side, conditions, units));
}

/**
 * Bend of the path from the cushion to a line across the table: largest distance from the straight chord, + short, - long. See CAUTION. In mph and inches unless units is "si" (m/s, m).
 * @customfunction PREDICT
 * @param {any[][]} speed Speed of the ball at the cushion, above 0, in the units.
 * @param {any[][]} angle Angle at the cushion in degrees from square to the rail, positive along +x, between -90 and 90.
 * @param {any[][]} roll Roll at the cushion as a ratio: 1 natural roll, 0 stun, -1 full draw.
 * @param {any[][]} side Side at the cushion as a ratio, positive counter-clockwise seen from above.
 * @param {any[][]} across Distance of the line from the cushion, centre to centre, square to the rail, in the units.
 * @param {any[][]} [conditions] Label and value, such as columns A and B of the sheet Conditions: slip friction, roll friction, side friction, nose friction, restitution, nose height (share of the diameter), ball diameter, ball mass; defaults for what is left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Bend in the units (in or m), + when the ball arrives shorter than it left, - when longer; over rows.
 * @example =BANK.PREDICT(5,20,1,0,45) → -1.09287
 * @example =BANK.PREDICT(5,20,1,0,45,{"nose friction",0.2;"restitution",0.9}) → -1.14516
 */
export function PREDICT(
  speed: any[][],
  angle: any[][],
  roll: any[][],
  side: any[][],
  across: any[][],
  conditions?: any[][],
  units?: any[][],
): any[][] {
  return finiteTable(() => predictions([speed, angle, roll, side, across], conditions, units));
}

/**
 * What to know about a prediction: too fast for the model's rigid nose, or likely airborne. Arguments as in PREDICT. In mph and inches unless units is "si" (m/s, m).
 * @customfunction CAUTION
 * @param {any[][]} speed Speed of the ball at the cushion, above 0, in the units.
 * @param {any[][]} angle Angle at the cushion in degrees from square to the rail, positive along +x, between -90 and 90.
 * @param {any[][]} roll Roll at the cushion as a ratio: 1 natural roll, 0 stun, -1 full draw.
 * @param {any[][]} side Side at the cushion as a ratio, positive counter-clockwise seen from above.
 * @param {any[][]} across Distance of the line from the cushion, centre to centre, square to the rail, in the units.
 * @param {any[][]} [conditions] Label and value, such as columns A and B of the sheet Conditions: slip friction, roll friction, side friction, nose friction, restitution, nose height (share of the diameter), ball diameter, ball mass; defaults for what is left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Text, empty when there is nothing to say; over rows.
 * @example =BANK.CAUTION(5,20,1,0,45) →
 */
export function CAUTION(
  speed: any[][],
  angle: any[][],
  roll: any[][],
  side: any[][],
  across: any[][],
  conditions?: any[][],
  units?: any[][],
): any[][] {
  return finiteTable(() => cautions([speed, angle, roll, side, across], conditions, units));
}

/**
 * Path of the ball from the cushion to a line across the table. Arguments as in PREDICT. In mph and inches unless units is "si" (m/s, m).
 * @customfunction PATH
 * @param {any[][]} speed Speed of the ball at the cushion, above 0, in the units.
 * @param {any[][]} angle Angle at the cushion in degrees from square to the rail, positive along +x, between -90 and 90.
 * @param {any[][]} roll Roll at the cushion as a ratio: 1 natural roll, 0 stun, -1 full draw.
 * @param {any[][]} side Side at the cushion as a ratio, positive counter-clockwise seen from above.
 * @param {any[][]} across Distance of the line from the cushion, centre to centre, square to the rail, in the units.
 * @param {any[][]} [conditions] Label and value, such as columns A and B of the sheet Conditions: slip friction, roll friction, side friction, nose friction, restitution, nose height (share of the diameter), ball diameter, ball mass; defaults for what is left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Table of time in s, x along the rail and y into the rail (0 at the cushion, -across at the line) in the units, and phase: slip or roll.
 * @example =BANK.PATH(5,20,1,0,45) → time | x | y | phase
 */
export function PATH(
  speed: any[][],
  angle: any[][],
  roll: any[][],
  side: any[][],
  across: any[][],
  conditions?: any[][],
  units?: any[][],
): any[][] {
  return finiteTable(() => pathTable([speed, angle, roll, side, across], conditions, units));
}

/**
 * Where, when and how far the path swings widest from its chord, and how the ball leaves and arrives. Arguments as in PREDICT. In mph and inches unless units is "si" (m/s, m).
 * @customfunction SWING
 * @param {any[][]} speed Speed of the ball at the cushion, above 0, in the units.
 * @param {any[][]} angle Angle at the cushion in degrees from square to the rail, positive along +x, between -90 and 90.
 * @param {any[][]} roll Roll at the cushion as a ratio: 1 natural roll, 0 stun, -1 full draw.
 * @param {any[][]} side Side at the cushion as a ratio, positive counter-clockwise seen from above.
 * @param {any[][]} across Distance of the line from the cushion, centre to centre, square to the rail, in the units.
 * @param {any[][]} [conditions] Label and value, such as columns A and B of the sheet Conditions: slip friction, roll friction, side friction, nose friction, restitution, nose height (share of the diameter), ball diameter, ball mass; defaults for what is left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Table of bend, time in s, x, y and distance along the chord of the widest place, departure and arrival angle, arrival x, speed and phase, and cautions.
 * @example =BANK.SWING(5,20,1,0,45) → bend | time | x | y | along | departure angle | arrival angle | arrival x | arrival speed | phase | caution
 */
export function SWING(
  speed: any[][],
  angle: any[][],
  roll: any[][],
  side: any[][],
  across: any[][],
  conditions?: any[][],
  units?: any[][],
): any[][] {
  return finiteTable(() => swingTable([speed, angle, roll, side, across], conditions, units));
}

/**
 * Bend of a path seen on video, in the unit of its points: largest distance of a smooth path, fitted through the points and robust to bad ones, from its own chord.
 * @customfunction TRACKBEND
 * @param {any[][]} x One column of x in the order of travel, at least 6 points, in any one unit.
 * @param {any[][]} y The column of y beside it, in the same unit.
 * @returns {any[][]} Table of bend (0 or more) and its standard error in the unit of the points, x and y of the widest place, which way the path turns, points used and left out, and the bend's 95 % interval.
 * @example =BANK.TRACKBEND({0;4;8;12;16;20},{0;1.6;2.4;2.4;1.6;0}) → bend | standard error | x | y | turns | points used | points left out | low | high
 */
export function TRACKBEND(x: any[][], y: any[][]): any[][] {
  return finiteTable(() => trackBendTable(x, y));
}

/**
 * Smallest clearance of a ball on a path past round obstacles, and which of them; negative is a hit. In inches unless units is "si" (m).
 * @customfunction PATHCLEARANCE
 * @param {any[][]} path Two columns of x and y of the ball's centre, or what PATH gives with its header, in the units (in or m).
 * @param {any[][]} obstacles Columns of x, y, radius and, if you like, label; a header x, y, diameter says that diameters are given. In the units.
 * @param {any[][]} [ballDiameter] Diameter of the ball in the units; 2.25 in when left out.
 * @param {any[][]} [units] "us" (when left out: in, mph, degrees, °F, oz) or "si" (m, m/s, degrees, °C, kg).
 * @returns {any[][]} Table of clearance in the units, obstacle (label or number), and x, y of the ball's centre where it is nearest.
 * @example =BANK.PATHCLEARANCE({0,0;10,10},{8,2,1}) → clearance | obstacle | x | y
 */
export function PATHCLEARANCE(path: any[][], obstacles: any[][], ballDiameter?: any[][], units?: any[][]): any[][] {
  return finiteTable(() => pathClearanceTable(path, obstacles, ballDiameter, units));
}

/**
 * All levels of a category compared with each other in the response's unit, drivers alike, with 95 % intervals (when nothing else is said) and p that hold for all pairs at once.
 * @customfunction COMPARE
 * @param {any[][]} response One column of numbers, such as bend.
 * @param {any[][]} among The column of levels beside it, such as tables or cloths.
 * @param {any[][]} [drivers] Columns to hold alike: numbers at their mean, text as categories with equal weight; none when left out.
 * @param {any[][]} [confidence] Confidence of the intervals as a share; 0.95 when left out.
 * @param {any[][]} [margin] Largest difference that counts as none, in the response's unit; asks whether levels are the same to it; not asked when left out.
 * @param {any[][]} [reference] Level that every other one is compared with; all pairs when left out.
 * @returns {any[][]} Table of pairs (first less second: difference, standard error, low, high, p), then of levels with rows and mean.
 * @example =BANK.COMPARE({1;2;3;2;3;5},{"A";"A";"A";"B";"B";"B"}) → first | second | difference | standard error | low | high | p
 * @example =BANK.COMPARE({1;2;3;2;3;5},{"A";"A";"A";"B";"B";"B"},,,,"A") → first | second | difference | standard error | low | high | p
 */
export function COMPARE(
  response: any[][],
  among: any[][],
  drivers?: any[][],
  confidence?: any[][],
  margin?: any[][],
  reference?: any[][],
): any[][] {
  return finiteTable(() =>
    compareTable(
      response,
      among,
      drivers,
      single("confidence", confidence),
      single("margin", margin),
      single("reference", reference),
    ),
  );
}

/**
 * Chance from 0 to 1 to see a true difference between two tables with so many shots on each, by a two-sided t test at 0.05 when nothing else is said; difference and spread in any one unit.
 * @customfunction POWER
 * @param {any[][]} difference True difference of the two means, in any one unit.
 * @param {any[][]} spread Standard deviation of single shots on one table, in the unit of difference.
 * @param {any[][]} shots Shots per table, a whole number from 2 up; with sessions those of each session, from 1 up.
 * @param {any[][]} [level] Chance of calling a difference where there is none; 0.05 when left out.
 * @param {any[][]} [tables] How many tables are compared, difference being that of the two farthest apart; 2 when left out.
 * @param {any[][]} [sessionSpread] Standard deviation between sessions of one table, in the unit of difference; shots are then those of each session; no sessions when left out.
 * @param {any[][]} [sessions] Sessions on each table, each on one table only; a whole number from 2 up; left out with sessionSpread.
 * @returns {any[][]} Power as a share between 0 and 1; over ranges.
 * @example =BANK.POWER(1,1,17) → 0.807037
 * @example =BANK.POWER(1,1,8,,,0.5,6) → 0.722474
 */
export function POWER(
  difference: any[][],
  spread: any[][],
  shots: any[][],
  level?: any[][],
  tables?: any[][],
  sessionSpread?: any[][],
  sessions?: any[][],
): any[][] {
  return finiteTable(() => powerCells(difference, spread, shots, level, tables, sessionSpread, sessions));
}

/**
 * Fewest shots per table that see a true difference between two tables with the power wanted, by a two-sided t test at 0.05 when nothing else is said; difference and spread in any one unit.
 * @customfunction SHOTS
 * @param {any[][]} difference True difference of the two means, not 0, in any one unit.
 * @param {any[][]} spread Standard deviation of single shots on one table, in the unit of difference.
 * @param {any[][]} power Power wanted as a share, such as 0.8, above the level.
 * @param {any[][]} [level] Chance of calling a difference where there is none; 0.05 when left out.
 * @param {any[][]} [tables] How many tables are compared, difference being that of the two farthest apart; 2 when left out.
 * @param {any[][]} [sessionSpread] Standard deviation between sessions of one table, in the unit of difference; shots are then those of each session; no sessions when left out.
 * @param {any[][]} [sessions] Sessions on each table, each on one table only; a whole number from 2 up; left out with sessionSpread.
 * @returns {any[][]} Shots per table, or with sessions in each session; over ranges.
 * @example =BANK.SHOTS(1,1,0.8,,4) → 23
 * @example =BANK.SHOTS(1,1,0.8) → 17
 */
export function SHOTS(
  difference: any[][],
  spread: any[][],
  power: any[][],
  level?: any[][],
  tables?: any[][],
  sessionSpread?: any[][],
  sessions?: any[][],
): any[][] {
  return finiteTable(() => shotsCells(difference, spread, power, level, tables, sessionSpread, sessions));
}

/**
 * Bend from ruler readings of the gap with its uncertainty budget after the Guide to the expression of uncertainty (JCGM 100). In inches unless units is "mm".
 * @customfunction UNCERTAINTY
 * @param {any[][]} readings Readings of the gap of one layout, in the units; repeated readings lower the uncertainty.
 * @param {any[][]} rulerDivision Smallest division of the ruler in the units, such as 1/16.
 * @param {any[][]} [markError] Half-width of where the near mark may stand, in the units; 0 when left out.
 * @param {any[][]} [ballTolerance] Half-width of the ball's diameter, in the units; 0 when left out.
 * @param {any[][]} [alignmentError] Half-width of how far the sighted line may be off, in the units; 0 when left out.
 * @param {any[][]} [confidence] Confidence of the expanded uncertainty as a share; 0.95 when left out.
 * @param {any[][]} [units] "in" (when left out; ball 2.25) or "mm" (ball 57.15).
 * @param {any[][]} [scatter] Standard deviation of single readings of one layout, known from earlier ones by this ruler, in the units; a single reading needs it, from repeated ones it is computed when left out.
 * @param {any[][]} [scatterDegrees] Degrees of freedom behind scatter; infinite when left out.
 * @returns {any[][]} One row: bend, standard uncertainty, effective degrees of freedom, expanded uncertainty; words where a single reading cannot say.
 * @example =BANK.UNCERTAINTY({0.25;0.3125;0.25},1/16) → 0.854167 | 0.0208336 | 2.26615 | 0.0802697
 */
export function UNCERTAINTY(
  readings: any[][],
  rulerDivision: any[][],
  markError?: any[][],
  ballTolerance?: any[][],
  alignmentError?: any[][],
  confidence?: any[][],
  units?: any[][],
  scatter?: any[][],
  scatterDegrees?: any[][],
): any[][] {
  return finiteTable(() =>
    uncertaintyRow(
      readings,
      rulerDivision,
      markError,
      ballTolerance,
      alignmentError,
      confidence,
      units,
      scatter,
      scatterDegrees,
    ),
  );
}

/**
 * Probability from 0 to 1 that a target was truly beaten, given the measured bend and its standard uncertainty, all in any one unit (JCGM 106).
 * @customfunction BEATS
 * @param {any[][]} bend Measured bend, in any one unit.
 * @param {any[][]} standardUncertainty Standard uncertainty of the bend, in the unit of bend.
 * @param {any[][]} target Bend to beat, in the unit of bend.
 * @param {any[][]} [degreesOfFreedom] Degrees of freedom of the uncertainty; infinite when left out.
 * @returns {any[][]} Probability from 0 to 1; over ranges.
 * @example =BANK.BEATS(1,0.05,0.95) → 0.841345
 */
export function BEATS(
  bend: any[][],
  standardUncertainty: any[][],
  target: any[][],
  degreesOfFreedom?: any[][],
): any[][] {
  return finiteTable(() => beatsCells(bend, standardUncertainty, target, degreesOfFreedom));
}

/**
 * Bend, in the unit of what was asked for, that an attempt gets at least with a probability (0.5 when nothing else is said), from attempts past an obstacle: got by says at least what the obstacle asked for, a hit less.
 * @customfunction REACH
 * @param {any[][]} required Bend that the obstacle asked for at each attempt (ball radius less gap), in any one length unit.
 * @param {any[][]} outcomes How each attempt ended: made, cleared, hit obstacle or missed; a row without an outcome is not counted.
 * @param {any[][]} [probability] Share of attempts that get the bend at least; 0.5 when left out.
 * @param {any[][]} [confidence] Confidence of the interval as a share; 0.95 when left out.
 * @param {any[][]} [misjudged] Share of outcomes that are taken for the opposite, such as a light touch that nobody saw; 0 when left out.
 * @returns {any[][]} Table of bend, low, high and scatter (standard deviation of single attempts) in the unit of required; blank where the attempts do not tell.
 * @example =BANK.REACH({0.75;0.875;1;0.875;1;0.875},{"made";"hit";"hit";"cleared";"cleared";"hit"}) → bend | low | high | scatter
 */
export function REACH(
  required: any[][],
  outcomes: any[][],
  probability?: any[][],
  confidence?: any[][],
  misjudged?: any[][],
): any[][] {
  return finiteTable(() => reachTable(required, outcomes, probability, confidence, misjudged));
}

/**
 * Gap of the obstacle to set next, on the ruler, so that the bend becomes known soonest from the attempts so far. In inches with a 2.25 in ball unless units is "mm" (57.15 mm).
 * @customfunction NEXTGAP
 * @param {any[][]} required Bend that the obstacle asked for at each attempt so far (ball radius less gap), in the units.
 * @param {any[][]} outcomes How each attempt ended: made, cleared, hit obstacle or missed.
 * @param {any[][]} [step] Smallest division of the ruler in the units; 1/32 in or 1 mm when left out.
 * @param {any[][]} [probability] Share of attempts whose bend is looked for; 0.5 when left out.
 * @param {any[][]} [ballDiameter] Diameter of the ball in the units; 2.25 in or 57.15 mm when left out.
 * @param {any[][]} [units] "in" (when left out) or "mm".
 * @param {any[][]} [misjudged] Share of outcomes that are taken for the opposite; 0 when left out.
 * @returns {any[][]} Table of gap and required bend in the units, the chance to get by there, and how many more attempts about halve what is open.
 * @example =BANK.NEXTGAP({0.75;0.875;1},{"made";"cleared";"hit"}) → gap | required bend | chance to get by | attempts to halve
 */
export function NEXTGAP(
  required: any[][],
  outcomes: any[][],
  step?: any[][],
  probability?: any[][],
  ballDiameter?: any[][],
  units?: any[][],
  misjudged?: any[][],
): any[][] {
  return finiteTable(() => nextGapTable(required, outcomes, step, probability, ballDiameter, units, misjudged));
}

/**
 * Largest distance of the balls between from the line through the outer two, in the unit of x and y: are the sighted balls in line?
 * @customfunction ALIGNMENT
 * @param {any[][]} x Places of at least three balls across, in any one length unit.
 * @param {any[][]} y Places of the same balls along, in the unit of x.
 * @returns {any[][]} Distance in the unit of x and y; 0 when they stand in line.
 * @example =BANK.ALIGNMENT({0;5;10},{0;0.06;0}) → 0.06
 */
export function ALIGNMENT(x: any[][], y: any[][]): any[][] {
  return finiteTable(() => [[alignmentOf(x, y)]]);
}

/**
 * Where a gate frozen to the banked rail stands, and how far beyond grazing the departing ball's line passes it. In inches with a 2.25 in ball unless units is "mm" (57.15 mm).
 * @customfunction GATE
 * @param {any[][]} approach Angle at which the ball comes to the rail, degrees from square, 0 to below 90.
 * @param {any[][]} departure Angle at which it leaves, degrees from square, 0 to below 90.
 * @param {any[][]} side "near", where the ball comes from, or "far".
 * @param {any[][]} [ballDiameter] Diameter of the ball in the units; 2.25 in or 57.15 mm when left out.
 * @param {any[][]} [units] "in" (when left out) or "mm".
 * @returns {any[][]} One row in the units: distance along the rail from the ball's centre at the cushion to the gate's centre; how far beyond grazing the departing line passes the gate, negative when the ball starts inside the channel.
 * @example =BANK.GATE(30,40,"near") → 2.59808 | -0.259758
 */
export function GATE(
  approach: any[][],
  departure: any[][],
  side: any[][],
  ballDiameter?: any[][],
  units?: any[][],
): any[][] {
  return finiteTable(() => gateRow(approach, departure, side, ballDiameter, units));
}

/**
 * Where gates, guides, marks and obstacle of a bank stand, measured from two rails: x along the rail banked from, y square to it. In inches with a 2.25 in ball unless units is "mm" (57.15 mm).
 * @customfunction LAYOUT
 * @param {any[][]} tableWidth Distance between the rail banked from and the rail opposite, nose to nose, in the units.
 * @param {any[][]} departure Where the ball's centre leaves, along the rail banked from, in the units.
 * @param {any[][]} arrival Where the ball's centre arrives, along the rail opposite, in the units.
 * @param {any[][]} swing Where the swing is widest, as a share of the path from 0 to 1.
 * @param {any[][]} bend Bend that clearing the obstacle shall need, in the units; + short, - long.
 * @param {any[][]} [ballDiameter] Diameter of the ball in the units; 2.25 in or 57.15 mm when left out.
 * @param {any[][]} [obstacleDiameter] Diameter of the upright obstacle in the units; a ball's when left out.
 * @param {any[][]} [units] "in" (when left out) or "mm".
 * @param {any[][]} [approach] Angle at which the ball comes to the rail, degrees from square, positive from the side opposite to where it goes; when given, the departure gate lets the ball come, and the bend is that of the ball's own path; a gate on the line when left out.
 * @param {any[][]} [gate] Where the departure gate stands: "near" (frozen to the rail where the ball comes from; when left out, of a bend short), "inside" (in the angle, off the rail) or "far" (frozen where the ball goes; when left out, of a bend long).
 * @returns {any[][]} Table of label, x and y in the units; with an approach also gap, set bend (ball radius less gap) and bend of the path, each in the place of x.
 * @example =BANK.LAYOUT(50,20,40,0.5,0.75) → label | x | y
 * @example =BANK.LAYOUT(50,20,40,0.5,0.75,,,,30) → label | x | y
 */
export function LAYOUT(
  tableWidth: any[][],
  departure: any[][],
  arrival: any[][],
  swing: any[][],
  bend: any[][],
  ballDiameter?: any[][],
  obstacleDiameter?: any[][],
  units?: any[][],
  approach?: any[][],
  gate?: any[][],
): any[][] {
  return finiteTable(() =>
    layoutTable(tableWidth, departure, arrival, swing, bend, ballDiameter, obstacleDiameter, units, approach, gate),
  );
}
