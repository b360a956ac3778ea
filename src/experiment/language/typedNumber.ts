/** A number that somebody types into a form. */
import { plainNumber } from "../../workbook/cellText";

/** Why a text is no number; `why` completes the sentence "the text … ". */
export interface NoNumber {
  readonly why: string;
}

/**
 * Reads a number with a decimal point, or with a decimal comma where the comma can be nothing else: "1,234" may be a
 * thousand, "0,234" and "1,23" may not.
 * @example typedNumber("0,5") === 0.5
 */
export function typedNumber(text: string): number | NoNumber {
  const [, sign, whole, part] = /^\s*([+\-\u2212]?)(\d*),(\d+)\s*$/.exec(text) ?? [];
  if (whole !== undefined && part !== undefined) {
    if (part.length === 3 && /^[1-9]\d{0,2}$/.test(whole))
      return {
        why: `may mean ${whole}.${part} or ${whole}${part}: write a point for decimals and nothing between thousands`,
      };
    return plainNumber(`${sign}${whole || "0"}.${part}`) ?? { why: "is no number" };
  }
  const number = /%/.test(text) ? undefined : plainNumber(text);
  return number === undefined || !Number.isFinite(number) ? { why: "is no number" } : number;
}
