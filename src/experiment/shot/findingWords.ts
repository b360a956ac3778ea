/** What lacks room in a whole shot, in words. SI. */
import { say, capital, type Said } from "../language/said";
import type { Finding } from "../../bank/wholeShot";
import { fixed, withUnit } from "../language/wording";
import { unitOf } from "./shotSettings";

/** A length to 0.001 in or 0.01 mm. @example toText(shownLength(0.0127, "us")) === "0.500 in" */
export function shownLength(length: number, units: "us" | "si"): Said {
  const { size, name } = unitOf("small", units);
  return withUnit(fixed(length / size, units === "us" ? 3 : 2), name);
}

/** Which is in the way, and by how much. */
export function findingSentence({ kind, what, against, clearance }: Finding, units: "us" | "si"): Said {
  const by = shownLength(-clearance, units);
  switch (kind) {
    case "in the way":
      return say`${capital(what)} does not get past ${against}: ${by} is missing.`;
    case "rail":
      return say`${capital(what)} meets ${against}: ${by} is missing.`;
    case "inside a rail":
      return say`${capital(what)} would stand ${by} inside ${against}.`;
    case "in a mouth":
      return say`${capital(what)} would stand ${by} in the mouth of ${against}.`;
    case "overlap":
      return say`${capital(what)} and ${against} would stand ${by} in each other.`;
    case "pocket":
      return say`${capital(what)} does not go into ${against}: on its line ${by} is missing between ball and jaw.`;
    case "no cushion":
      return say`Where the ball would touch there is no cushion: it is ${by} inside a pocket's mouth.`;
    default:
      return kind satisfies never;
  }
}
