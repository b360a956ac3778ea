/** What lacks room in a whole shot, in words. SI. */
import type { Finding } from "../../bank/wholeShot";
import { capital, fixed, withUnit } from "../language/wording";
import { unitOf } from "./shotSettings";

/** A length to 0.001 in or 0.01 mm. @example shownLength(0.0127, "us") === "0.500 in" */
export function shownLength(length: number, units: "us" | "si"): string {
  const { size, name } = unitOf("small", units);
  return withUnit(fixed(length / size, units === "us" ? 3 : 2), name);
}

/** Which is in the way, and by how much. */
export function findingSentence({ kind, what, against, clearance }: Finding, units: "us" | "si"): string {
  const by = shownLength(-clearance, units);
  switch (kind) {
    case "in the way":
      return `${capital(what)} does not get past ${against}: ${by} is missing.`;
    case "rail":
      return `${capital(what)} meets ${against}: ${by} is missing.`;
    case "inside a rail":
      return `${capital(what)} would stand ${by} inside ${against}.`;
    case "in a mouth":
      return `${capital(what)} would stand ${by} in the mouth of ${against}.`;
    case "overlap":
      return `${capital(what)} and ${against} would stand ${by} in each other.`;
    case "pocket":
      return `${capital(what)} does not go into ${against}: on its line ${by} is missing between ball and jaw.`;
    case "no cushion":
      return `Where the ball would touch there is no cushion: it is ${by} inside a pocket's mouth.`;
    default:
      return kind satisfies never;
  }
}
