/** Scales and the numbers beside them, alike for every drawing. */
import type { Said } from "../../experiment/language/said";
import { extent } from "d3-array";
import { scaleLinear, scaleLog, type ScaleLinear } from "d3-scale";
import { significant } from "../../experiment/language/wording";

/**
 * Values closer together than this share of their size differ by rounding only. Stretched over the whole axis they
 * would show the sixteenth digit of one number.
 */
const ROUNDING = 1e-9;

/**
 * A linear scale over the values, with round ends; about a single value where they do not differ.
 * @param range in pixels
 */
export function scaleOver(values: readonly number[], range: readonly [number, number]): ScaleLinear<number, number> {
  const [low = 0, high = 1] = extent(values);
  const size = Math.max(Math.abs(low), Math.abs(high));
  const rest = high - low <= ROUNDING * size ? size * 0.1 || 1 : 0;
  return scaleLinear([low - rest, high + rest], [...range]).nice(5);
}

export interface Tick {
  readonly at: number;
  readonly text: Said;
}

/** Where ticks stand and what they say: the digits that the step needs, with a power of ten where zeros would crowd. */
export function ticksOf(scale: ScaleLinear<number, number>, count: number): Tick[] {
  const places = scale.ticks(count);
  const [first = 1, second] = places;
  const step = second === undefined ? Math.abs(first) || 1 : second - first;
  const size = Math.max(...places.map(Math.abs), step);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const digits = Math.max(1, Math.floor(Math.log10(size) + 1e-9) - Math.floor(Math.log10(step) + 1e-9) + 1);
  const powers = size < 1e-4 || size >= 1e7;
  const text = (at: number): Said =>
    at === 0 ? "0" : powers ? { value: at, digits, power: true } : { value: at, decimals };
  return places.map((at) => ({ at, text: text(at) }));
}

/** A scale on which equal steps are equal factors. @param values above 0; others are left out */
export function ratioScaleOver(values: readonly number[], range: readonly [number, number]) {
  const [low = 1, high = 1] = extent(values.filter((value) => value > 0 && Number.isFinite(value)));
  return scaleLog([Math.min(low, high / 1.5), Math.max(high, low * 1.5)], [...range]).clamp(true);
}

const ROUND_RATIOS = [1, 2, 5];

/** Ratios of 1, 2 and 5 with powers of ten within the scale; every other one where they would crowd. */
export function ratioTicks([low = 1, high = 1]: readonly number[], most: number): Tick[] {
  const powers = Array.from(
    { length: Math.ceil(Math.log10(high)) - Math.floor(Math.log10(low)) + 1 },
    (_, i) => i + Math.floor(Math.log10(low)),
  );
  const all = powers.flatMap((power) => ROUND_RATIOS.map((one) => Number(`${one}e${power}`)));
  const within = all.filter((at) => at >= low && at <= high);
  const step = Math.ceil(within.length / most);
  return within.filter((_, i) => i % step === 0).map((at) => ({ at, text: significant(at, 12) }));
}
