/** BANK.GATE: cells in, one row out. */
import { departureGate, GATE_SIDES, type GateSide } from "../bank/gate";
import { isBlank, single, toBallDiameter, argumentNumber, toUnits } from "./arguments";
import { messages } from "./messages";

/** One row: distance along the rail, and how far beyond grazing the leaving ball's line passes the gate. */
export function gateRow(
  approach: unknown,
  departure: unknown,
  side: unknown,
  ballDiameter: unknown,
  units: unknown,
): unknown[][] {
  const unit = toUnits(single("units", units));
  const diameter = toBallDiameter(single("ballDiameter", ballDiameter), unit);
  const { distance, beyondGrazing } = departureGate(
    toAngle("approach", single("approach", approach)),
    toAngle("departure", single("departure", departure)),
    toSide(single("side", side)),
    diameter,
  );
  return [[distance, beyondGrazing]];
}

function toAngle(name: string, cell: unknown): number {
  const angle = argumentNumber(name, cell, "an angle in degrees from square to the rail");
  if (!(angle >= 0 && angle < 90))
    throw messages.outOfRange(name, cell, "give degrees from square to the rail, 0 to below 90");
  return angle;
}

function toSide(cell: unknown): GateSide {
  if (isBlank(cell)) throw messages.blank("side", SIDES);
  const found = GATE_SIDES.find((side) => typeof cell === "string" && cell.trim().toLowerCase() === side);
  if (!found) throw messages.outOfRange("side", cell, `give ${SIDES}`);
  return found;
}

const SIDES = '"near" (where the ball comes from) or "far"';
