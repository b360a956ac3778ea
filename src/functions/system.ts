/**
 * Units of the shot functions: a name in the cell.
 */
import { SYSTEMS, type System } from "../bank/units";
import { isBlank, single } from "./arguments";
import { messages } from "./messages";

export { DEGREE, type System } from "../bank/units";

/** "us" when left out. */
export function toSystem(cell: unknown): System {
  if (isBlank(cell)) return SYSTEMS.us;
  const name = typeof cell === "string" ? cell.trim().toLowerCase() : "";
  if (name !== "us" && name !== "si") throw messages.system(cell);
  return SYSTEMS[name];
}

export function systemOf(argument: unknown): System {
  return toSystem(single("units", argument));
}
