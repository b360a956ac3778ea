/** BANK.LAYOUT: cells in, places out. */
import { ARRANGEMENTS, gatedLayout, type Arrangement } from "../bank/gatedLayout";
import { bankLayout, type LayoutRequest } from "../bank/layout";
import { DEGREE } from "../bank/units";
import { isBlank, single, toBallDiameter, toLength, argumentNumber, toUnits } from "./arguments";
import { messages } from "./messages";

/** Diameter of the obstacle when none is given: an upright cylinder about a ball wide. */
const OBSTACLE_IN_BALLS = 1;

/** Rows: a header, then label, x, y; with an approach also gap and bends. */
export function layoutTable(
  tableWidth: unknown,
  departure: unknown,
  arrival: unknown,
  swing: unknown,
  bend: unknown,
  ballDiameter: unknown,
  obstacleDiameter: unknown,
  units: unknown,
  approach: unknown,
  gate: unknown,
): unknown[][] {
  const request = toRequest(tableWidth, departure, arrival, swing, bend, ballDiameter, obstacleDiameter, units);
  const head = ["label", "x", "y"];
  const comes = single("approach", approach);
  const stands = single("gate", gate);
  if (isBlank(comes)) {
    if (!isBlank(stands))
      throw messages.blank("approach", "the angle at which the ball comes, which the gate must let by");
    return [head, ...bankLayout(request).map(({ label, x, y }) => [label, x, y])];
  }
  const angle = argumentNumber("approach", comes, "an angle in degrees from square to the rail");
  if (!(Math.abs(angle) < 90)) throw messages.outOfRange("approach", comes, "give degrees from square, below 90");
  const laid = gatedLayout({ ...request, approach: angle * DEGREE, arrangement: toArrangement(stands, request.bend) });
  return [
    head,
    ...laid.places.map(({ label, x, y }) => [label, x, y]),
    ["gap", laid.gap, ""],
    ["set bend", laid.setBend, ""],
    ["bend of the path", Math.abs(request.bend), ""],
  ];
}

function toArrangement(cell: unknown, bend: number): Arrangement {
  if (isBlank(cell)) return bend < 0 ? "far" : "near";
  const found = ARRANGEMENTS.find((one) => typeof cell === "string" && cell.trim().toLowerCase() === one);
  if (!found) throw messages.outOfRange("gate", cell, 'give "near", "inside" or "far"');
  return found;
}

/** @throws SheetError for what no layout can be */
function toRequest(
  tableWidth: unknown,
  departure: unknown,
  arrival: unknown,
  swing: unknown,
  bend: unknown,
  ballDiameter: unknown,
  obstacleDiameter: unknown,
  units: unknown,
): LayoutRequest {
  const unit = toUnits(single("units", units));
  const length = (name: string, argument: unknown) => toLength(name, single(name, argument), unit);
  const ball = toBallDiameter(single("ballDiameter", ballDiameter), unit);
  const width = length("tableWidth", tableWidth);
  if (!(width > 2 * ball))
    throw messages.outOfRange(
      "tableWidth",
      width,
      `give the distance between the rails' noses in ${unit}, more than two balls`,
    );
  const share = argumentNumber("swing", single("swing", swing), "a share of the path such as 0.5");
  if (!(share > 0 && share < 1)) throw messages.outOfRange("swing", share, "give a share of the path between 0 and 1");
  const obstacle = isBlank(single("obstacleDiameter", obstacleDiameter))
    ? OBSTACLE_IN_BALLS * ball
    : length("obstacleDiameter", obstacleDiameter);
  if (!(obstacle > 0)) throw messages.outOfRange("obstacleDiameter", obstacle, `give a diameter above 0 ${unit}`);
  const wanted = length("bend", bend);
  if (Math.abs(wanted) > ball)
    throw messages.outOfRange("bend", wanted, `a bend is less than a ball's width (${ball} ${unit})`);
  return {
    tableWidth: width,
    departure: length("departure", departure),
    arrival: length("arrival", arrival),
    swing: share,
    bend: wanted,
    ballDiameter: ball,
    obstacleDiameter: obstacle,
  };
}
