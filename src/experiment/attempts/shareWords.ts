/** A share of the attempts in words. */
import { say, type Said } from "../language/said";
import { significant } from "../language/wording";

/** "half of the attempts", "nine in ten attempts", "75 % of the attempts". */
export function shareOfAttempts(probability: number): Said {
  const tenths = probability * 10;
  if (probability === 0.5) return "half of the attempts";
  const words = ["", "one", "two", "three", "four", "", "six", "seven", "eight", "nine"];
  const word = Number.isInteger(Number(tenths.toFixed(9))) ? words[Math.round(tenths)] : undefined;
  return word ? `${word} in ten attempts` : say`${significant(100 * probability, 4)} % of the attempts`;
}
