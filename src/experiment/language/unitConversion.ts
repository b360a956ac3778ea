/**
 * Turns measurements from one unit into another of the same kind.
 *
 * Sizes are whole numbers of a common measure, so that 28.6 mm to inches is one product and one quotient. Exact by the
 * international yard and pound agreement (1959) and, for temperatures, by definition.
 */
import { there } from "../../there";

interface UnitSize {
  readonly kind: "length" | "speed" | "mass" | "temperature" | "angle" | "turning";
  readonly size: number;
  /** Where 0 of the common measure stands on this scale, in this unit. */
  readonly zero?: number;
}

const SIZES: Readonly<Record<string, UnitSize>> = {
  // Tenths of a millimetre.
  mm: { kind: "length", size: 10 },
  cm: { kind: "length", size: 100 },
  m: { kind: "length", size: 10_000 },
  in: { kind: "length", size: 254 },
  ft: { kind: "length", size: 3048 },
  // 1/900000 m/s.
  "m/s": { kind: "speed", size: 900_000 },
  "km/h": { kind: "speed", size: 250_000 },
  mph: { kind: "speed", size: 402_336 },
  "in/s": { kind: "speed", size: 22_860 },
  "ft/s": { kind: "speed", size: 274_320 },
  g: { kind: "mass", size: 1 },
  kg: { kind: "mass", size: 1000 },
  oz: { kind: "mass", size: 28.349523125 },
  "°C": { kind: "temperature", size: 9, zero: 0 },
  "°F": { kind: "temperature", size: 5, zero: 32 },
  "°": { kind: "angle", size: Math.PI / 180 },
  rad: { kind: "angle", size: 1 },
  "rad/s": { kind: "turning", size: 1 },
  rpm: { kind: "turning", size: Math.PI / 30 },
};

/** The unit of each kind that each system measures trials in. */
const OF_SYSTEM = {
  us: { length: "in", speed: "mph", mass: "oz", temperature: "°F", angle: "°", turning: "rad/s" },
  si: { length: "mm", speed: "m/s", mass: "g", temperature: "°C", angle: "°", turning: "rad/s" },
} as const;

/** What a unit measures; a unit that is not known here measures only itself. @example kindOfUnit("mph") === "speed" */
export function kindOfUnit(unit: string): string {
  return known(unit)?.kind ?? unit;
}

function known(unit: string): UnitSize | undefined {
  return Object.hasOwn(SIZES, unit) ? SIZES[unit] : undefined;
}

/**
 * The unit that a system of units has for what a unit measures; the unit itself where it has none.
 * @example unitInSystem("mm", "us") === "in"
 */
export function unitInSystem(unit: string, system: "us" | "si"): string {
  const size = known(unit);
  return size ? OF_SYSTEM[system][size.kind] : unit;
}

const OTHER: Readonly<Record<string, string>> = {
  in: "mm",
  mm: "in",
  cm: "in",
  ft: "m",
  m: "ft",
  mph: "m/s",
  "m/s": "mph",
  "km/h": "mph",
  "in/s": "m/s",
  "ft/s": "m/s",
  oz: "g",
  g: "oz",
  kg: "oz",
  "°C": "°F",
  "°F": "°C",
};

/**
 * The unit of the other system, imperial or metric, for what a unit measures; undefined where both use the same.
 * @example otherUnit("in") === "mm"
 */
export function otherUnit(unit: string): string | undefined {
  return Object.hasOwn(OTHER, unit) ? OTHER[unit] : undefined;
}

/** How much of one unit another of the same kind and zero is, unrounded. @example unitFactor("mm", "m") === 0.001 */
export function unitFactor(unit: string, of: string): number {
  return there(known(unit), `a size of ${unit}`).size / there(known(of), `a size of ${of}`).size;
}

/**
 * A value in another unit of the same kind.
 * @throws RangeError when the two units do not measure the same
 * @example convertUnit(28.575, "mm", "in") === 1.125
 */
export function convertUnit(value: number, from: string, to: string): number {
  if (from === to) return value;
  const [a, b] = [known(from), known(to)];
  if (!a || !b || a.kind !== b.kind)
    throw new RangeError(`${from || "a plain number"} cannot be turned into ${to || "a plain number"}`);
  // The last bits are the rounding of the factors, not of the reading.
  return Number((((value - (a.zero ?? 0)) * a.size) / b.size + (b.zero ?? 0)).toPrecision(15));
}
