/** Numbers, units and names as sentences carry them; what they look like is settled in said.ts. */
import { say, type Said, type Figured } from "./said";

/** What a sentence needs of a column: "Humidity" in "%". */
export interface NamedQuantity {
  readonly name: string;
  /** "" where there is none. */
  readonly unit: string;
}

/**
 * Decimals so that a standard error shows two significant digits.
 * @example decimalsFor(0.0234) === 3
 */
export function decimalsFor(standardError: number): number {
  if (!(standardError > 0) || !Number.isFinite(standardError)) return 4;
  return Math.min(12, Math.max(0, 1 - Math.floor(Math.log10(standardError))));
}

/** A number with a fixed count of decimals; few digits of very large ones. */
export function fixed(value: number, decimals: number): Figured {
  return { value, decimals };
}

/** A number with so many significant digits and no zeros after them. @example toText(significant(0.123456, 3)) === "0.123" */
export function significant(value: number, digits: number): Figured {
  return { value, digits };
}

/**
 * A measured size with so many significant digits, a zero at the end among them, for it was measured, too.
 * @example toText(measured(0.0996, 2)) === "0.10"
 */
export function measured(value: number, digits: number): Figured {
  const rounded = Number(value.toPrecision(digits));
  if (rounded === 0) return { value: 0, decimals: 0 };
  const whole = Math.floor(Math.log10(Math.abs(rounded)));
  return fixed(rounded, Math.min(12, Math.max(0, digits - 1 - whole)));
}

/**
 * Decimals as decimalsFor has them, and more where an end that is not 0 would be shown as 0.
 * @example decimalsShowing(0.1, -0.3, 0.001) === 3
 */
export function decimalsShowing(standardError: number, ...ends: readonly number[]): number {
  const least = Math.min(...ends.map((end) => (end === 0 ? Infinity : Math.abs(end))));
  const usual = decimalsFor(standardError);
  if (!Number.isFinite(least) || Number(least.toFixed(usual)) !== 0) return usual;
  return Math.min(12, Math.ceil(-Math.log10(least)));
}

/**
 * A confidence in percent, with as many digits as keep it from being certain.
 * @example toText(confidenceText(0.9999999)) === "99.99999"
 */
export function confidenceText(confidence: number): Figured {
  const percent = 100 * confidence;
  for (let digits = 4; digits < 17; digits++)
    if (Number(percent.toPrecision(digits)) !== 100) return significant(percent, digits);
  return significant(100, 3);
}

/** Fewer degrees of freedom than this cannot show that scatter is as normal as a very small p counts on. */
const FEW = 10;

/**
 * A p-value for reading: two digits, however small; with few degrees of freedom behind it no smaller than one can know.
 * @example toText(pText(3.2e-12)) === "p = 3.2e−12"
 * @example toText(pText(3.2e-12, 2)) === "p < 0.001 on 2 degrees of freedom, which few sessions or rows cannot tell closer"
 */
export function pText(p: number, df: number | null = Infinity): Said {
  if (df !== null && df < FEW && p < 0.001)
    return say`p < ${0.001} on ${counted(Number(df.toPrecision(2)), "degree")} of freedom, which few sessions or rows cannot tell closer`;
  return p === 0 ? "p < 1e−300" : say`p = ${significant(p, 2)}`;
}

/**
 * A p-value where how small it is cannot be relied on: of a fit that counts too much as evidence.
 * @example toText(roughP(1e-12)) === "p < 0.001"
 */
export function roughP(p: number): Said {
  return p < 0.001 ? say`p < ${0.001}` : pText(p);
}

/**
 * What holds of one, or of several at once.
 * @param more what belongs to each
 * @example allOf(1, "pair") === "the one pair"
 */
export function allOf(count: number, one: string, more = ""): string {
  return count === 1 ? `the one ${one}${more}` : `all ${counted(count, one)}${more} at once`;
}

/** A probability for reading; never 0 or 100 %. @example toText(chanceText(0.97254)) === "97.3 %" */
export function chanceText(share: number): Said {
  if (share > 0.9995) return say`more than ${99.9} %`;
  return share < 0.0005 ? say`less than ${0.1} %` : say`${significant(100 * share, 3)} %`;
}

/** "in" after a number needs a space, "%" too; "" for no unit. */
export function withUnit(text: Said, unit: string): Said {
  return unit === "" ? text : say`${text} ${unit}`;
}

/** A column's name inside a sentence: "Humidity" → "humidity", "RH" stays. */
export function inSentence({ name }: Pick<NamedQuantity, "name">): string {
  return /^[A-Z][a-z]/.test(name) ? name.charAt(0).toLowerCase() + name.slice(1) : name;
}

/** "1 row", "2 rows". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/**
 * Several of what a column names: "sessions"; "values of balls used" where the name is no plain word.
 * @example severalOf("session") === "sessions"
 */
export function severalOf(name: string): string {
  return /^[a-z]*[^\Ws]$/.test(name) ? `${name}s` : `values of ${name}`;
}

const POINTS: Record<number, string> = {
  1: "one point",
  2: "two points",
  5: "five points",
  10: "ten points",
  20: "twenty points",
  50: "fifty points",
};

/** "ten points more humidity", "2 mph more speed". */
export function moreOf(step: number, heading: NamedQuantity): Said {
  const amount =
    heading.unit === "%"
      ? (POINTS[step] ?? say`${significant(step, 3)} points`)
      : withUnit(significant(step, 3), heading.unit);
  return say`${amount} more ${inSentence(heading)}`;
}

/** 1, 2 or 5 times a power of ten, the largest not above the value. @example roundStep(7.3) === 5 */
export function roundStep(value: number): number {
  if (!(value > 0)) return 1;
  const power = Math.floor(Math.log10(value) + 1e-12);
  const lead = value / 10 ** power;
  const step = lead >= 5 ? 5 : lead >= 2 ? 2 : 1;
  return Number(`${step}e${power}`);
}
