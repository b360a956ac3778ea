/**
 * BANK.TRACKBEND and PATHCLEARANCE: paths as points.
 */
import { STANDARD_BALL_DIAMETER } from "../bank/bend";
import { closestPassing, type Point } from "../bank/pathClearance";
import { FEWEST_TRACK_POINTS, trackBend } from "../experiment/track/trackBend";
import { isCellError } from "../workbook/book";
import { asMatrix, columnsOf, isBlank, shapeOf, single, argumentNumber, type CellMatrix } from "./arguments";
import { messages } from "./messages";
import { systemOf } from "./system";

/**
 * Header and one row: bend, standard error, x and y of the widest place, which way it turns, points used and left out,
 * the 95 % interval.
 */
export function trackBendTable(x: unknown, y: unknown): unknown[][] {
  const xs = asMatrix(x).flat();
  const ys = asMatrix(y).flat();
  if (xs.length !== ys.length) throw messages.columnsDiffer("x", xs.length, "y", ys.length);
  const points = xs.flatMap((cell, i) => {
    if (isBlank(cell) && isBlank(ys[i])) return [];
    return [toPoint(cell, ys[i], i + 1)];
  });
  if (points.length < FEWEST_TRACK_POINTS) throw messages.tooFew("x", points.length, FEWEST_TRACK_POINTS);
  const track = trackBend(
    points.map((point) => point.x),
    points.map((point) => point.y),
  );
  if (!track) throw messages.noTravel();
  const used = points.length - track.leftOut.length;
  return [
    ["bend", "standard error", "x", "y", "turns", "points used", "points left out", "low", "high"],
    [track.bend, track.standardError, track.x, track.y, track.turns, used, track.leftOut.length, track.low, track.high],
  ];
}

function toPoint(x: unknown, y: unknown, row: number): Point {
  for (const [name, cell] of [
    ["x", x],
    ["y", y],
  ] as const)
    if (isCellError(cell)) throw messages.errorCell(name, cell.error, ` in row ${row}`);
  if (isBlank(x) || isBlank(y)) throw messages.halfPoint(row);
  return { x: argumentNumber(`x, row ${row},`, x, "a number"), y: argumentNumber(`y, row ${row},`, y, "a number") };
}

const headerOf = ([first = []]: CellMatrix) =>
  first.map((cell) => (typeof cell === "string" ? cell.trim().toLowerCase() : ""));

/**
 * Header and one row: clearance, the obstacle (its label, or its number from 1), and the ball's centre where it is
 * nearest.
 */
export function pathClearanceTable(
  path: unknown,
  obstacles: unknown,
  ballDiameter: unknown,
  units: unknown,
): unknown[][] {
  const system = systemOf(units);
  const diameterCell = single("ballDiameter", ballDiameter);
  const diameter = isBlank(diameterCell)
    ? STANDARD_BALL_DIAMETER.mm / 1000 / system.length
    : argumentNumber("ballDiameter", diameterCell, `a diameter in ${system.lengthName}`);
  if (!(diameter > 0))
    throw messages.outOfRange("ballDiameter", diameterCell, `a diameter is above 0 ${system.lengthName}`);

  const track = asMatrix(path);
  const names = headerOf(track);
  const titled = names.includes("x") && names.includes("y");
  if (!titled && columnsOf(track) !== 2) throw messages.pathShape(shapeOf(track));
  const [atX, atY] = titled ? ([names.indexOf("x"), names.indexOf("y")] as const) : ([0, 1] as const);
  const points = track.flatMap((row, i) =>
    (titled && i === 0) || (isBlank(row[atX]) && isBlank(row[atY])) ? [] : [toPoint(row[atX], row[atY], i + 1)],
  );
  if (points.length === 0) throw messages.tooFew("path", 0, 1);

  const rows = asMatrix(obstacles);
  if (columnsOf(rows) !== 3 && columnsOf(rows) !== 4) throw messages.obstacleShape(shapeOf(rows));
  const heads = headerOf(rows);
  const headed = heads[0] === "x" && heads[1] === "y";
  const share = headed && heads[2] === "diameter" ? 0.5 : 1;
  const round = rows.flatMap((row, i) => {
    if ((headed && i === 0) || row.every(isBlank)) return [];
    const name = `obstacles, row ${i + 1}, ${share === 1 ? "radius" : "diameter"}`;
    const size = argumentNumber(name, row[2], "a number");
    if (!(size >= 0)) throw messages.outOfRange(name, row[2], "give 0 or more");
    return [{ ...toPoint(row[0], row[1], i + 1), radius: size * share, label: isBlank(row[3]) ? undefined : row[3] }];
  });
  const passing = closestPassing(points, round, diameter / 2);
  if (!passing) throw messages.tooFew("obstacles", 0, 1);
  return [
    ["clearance", "obstacle", "x", "y"],
    [passing.clearance, round[passing.obstacle]?.label ?? passing.obstacle + 1, passing.at.x, passing.at.y],
  ];
}
