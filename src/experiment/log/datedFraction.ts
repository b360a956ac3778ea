/** Ruler readings that a spreadsheet turned into dates, and how to mend them. */
import { say, type Said } from "../language/said";
import { dayOfSerial } from "../../workbook/cellText";

/** Divisions that rulers have. */
const DIVISIONS = new Set([2, 4, 8, 16, 32, 64]);

/**
 * The fraction that was typed where a date stands now: 5/16 became 16 May (or, day first, 5/12 a day in December), and
 * 3/32, which is no day, the first of March 1932.
 * @param serial the date as a spreadsheet stores it
 * @returns undefined where no division of a ruler gives that date
 * @example fractionOfDate(46158) === "5/16"
 */
export function fractionOfDate(serial: number): string | undefined {
  const [year = NaN, month = NaN, day = NaN] = dayOfSerial(serial).split("-").map(Number);
  const pairs: readonly (readonly [number, number])[] = [
    ...(day === 1 ? [[month, year % 100] as const] : []),
    [month, day],
    [day, month],
  ];
  const found = pairs.find(([top, bottom]) => DIVISIONS.has(bottom) && top < bottom);
  return found?.join("/");
}

/**
 * What a date among readings probably was and what to type, to follow the cell's address.
 * @example toText(dateMend(46158)) // "the date 2026-05-16, which 5/16 is turned into: type 0 5/16 or =5/16 there"
 */
export function dateMend(serial: number): Said {
  const fraction = fractionOfDate(serial);
  const said = say`the date ${{ day: dayOfSerial(serial) }}`;
  return fraction === undefined
    ? say`${said}: a fraction may have been turned into a date; type it as 0 5/16 or =5/16`
    : say`${said}, which ${fraction} is turned into: type 0 ${fraction} or =${fraction} there`;
}
