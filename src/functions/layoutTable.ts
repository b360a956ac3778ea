/** BANK.LAYOUT: cells in, places out. */
import { bankLayout } from "../bank/layout";
import { isBlank, single, toBallDiameter, toLength, argumentNumber, toUnits } from "./arguments";
import { messages } from "./messages";

/** Diameter of the obstacle when none is given: an upright cylinder about a ball wide. */
const OBSTACLE_IN_BALLS = 1;

/** Rows: a header, then label, x, y. */
export function layoutTable(
  tableWidth: unknown,
  departure: unknown,
  arrival: unknown,
  swing: unknown,
  bend: unknown,
  ballDiameter: unknown,
  obstacleDiameter: unknown,
  units: unknown,
): unknown[][] {
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
  const places = bankLayout({
    tableWidth: width,
    departure: length("departure", departure),
    arrival: length("arrival", arrival),
    swing: share,
    bend: wanted,
    ballDiameter: ball,
    obstacleDiameter: obstacle,
  });
  return [["label", "x", "y"], ...places.map(({ label, x, y }) => [label, x, y])];
}
