/**
 * From columns of a data table to the columns of a least squares design.
 */
import { columnRangeOf, type ColumnRange, type RangeMemory } from "./columnRange";
import { exactColumn, multiply, multiplyColumns, type Column, type Pair } from "../numeric/doubleDouble";

/** A driver that is a number; `degree` 2 or more lets its line curve. */
export interface NumberDriver {
  readonly kind: "number";
  readonly name: string;
  readonly values: ArrayLike<number>;
  readonly degree: number;
}

/** A driver that is a category: `values` index into `levels`, of which the first is the reference. */
export interface CategoryDriver {
  readonly kind: "category";
  readonly name: string;
  readonly values: ArrayLike<number>;
  readonly levels: readonly string[];
}

export type Driver = NumberDriver | CategoryDriver;

export interface DesignColumn {
  /** As the reader sees it: "constant", "Humidity", "Humidity²", "Cloth: worn", "Humidity × Cloth: worn". */
  readonly label: string;
  /** Indices of the drivers that it belongs to: none for the constant, two for a joint effect. */
  readonly drivers: readonly number[];
  readonly values: Column;
  /** Power of the number that it is; 1 for everything else. */
  readonly power: number;
  /** The stored values are the true ones divided by this power of two. */
  readonly scale: number;
}

export interface Design {
  readonly columns: readonly DesignColumn[];
  /** One weight per column for a row at the given settings, one per driver: a number, a level's index, or "even". */
  weights(settings: readonly Setting[]): Pair[];
}

/** A value for a number; a level's index for a category, or "even" for all its levels with equal weight. */
export type Setting = number | "even";

const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

/** Columns made for earlier designs on the same rows, by the drivers' arrays of values, which must not change. */
export interface DesignMemory {
  readonly parts: WeakMap<object, Map<string, readonly Part[]>>;
  readonly products: WeakMap<Float64Array, WeakMap<Float64Array, Column>>;
  readonly ranges: RangeMemory;
  ones?: Column;
}

/** One part of a driver: a power of a number, or a level of a category. */
interface Part {
  readonly label: string;
  readonly values: Column;
  readonly scale: number;
  weight(setting: Setting): Pair;
}

/**
 * Builds the columns: the constant, then each driver's (a number's powers ascending, a category's levels after the
 * first), then for each joint pair the products of their first-degree parts. Powers are formed in double-double.
 * @param joint pairs of indices into drivers
 * @param memory of earlier designs on the same rows; this one adds to it
 */
export function buildDesign(
  rows: number,
  drivers: readonly Driver[],
  joint: readonly (readonly [number, number])[],
  constant: boolean,
  memory: DesignMemory = designMemory(),
): Design {
  const parts = drivers.map((driver) => partsOf(driver, memory));
  const columns: DesignColumn[] = [];
  const weighers: ((settings: readonly Setting[]) => Pair)[] = [];
  if (constant) {
    columns.push({
      label: "constant",
      drivers: [],
      values: (memory.ones ??= exactColumn(new Float64Array(rows).fill(1))),
      power: 1,
      scale: 1,
    });
    weighers.push(() => [1, 0]);
  }
  parts.forEach((ofDriver, index) => {
    ofDriver.forEach(({ label, values, scale, weight }, place) => {
      columns.push({ label, drivers: [index], values, power: drivers[index].kind === "number" ? place + 1 : 1, scale });
      weighers.push((settings) => weight(settings[index]));
    });
  });
  for (const [first, second] of joint) {
    for (const a of linearParts(drivers[first], parts[first])) {
      for (const b of linearParts(drivers[second], parts[second])) {
        columns.push({
          label: `${a.label} × ${b.label}`,
          drivers: [first, second],
          values: productOf(a.values, b.values, memory),
          power: 1,
          scale: a.scale * b.scale,
        });
        weighers.push((settings) => multiply(a.weight(settings[first]), b.weight(settings[second])));
      }
    }
  }
  return { columns, weights: (settings) => weighers.map((weigh) => weigh(settings)) };
}

export function designMemory(ranges: RangeMemory = new WeakMap()): DesignMemory {
  return { parts: new WeakMap(), products: new WeakMap(), ranges };
}

function partsOf(driver: Driver, { parts, ranges }: DesignMemory): readonly Part[] {
  const key =
    driver.kind === "number" ? `${driver.name} ^ ${driver.degree}` : `${driver.name}: ${JSON.stringify(driver.levels)}`;
  const known = parts.get(driver.values) ?? new Map<string, readonly Part[]>();
  const made =
    known.get(key) ??
    (driver.kind === "number" ? numberParts(driver, columnRangeOf(driver.values, ranges)) : categoryParts(driver));
  parts.set(driver.values, known.set(key, made));
  return made;
}

function productOf(a: Column, b: Column, { products }: DesignMemory): Column {
  const known = products.get(a.high) ?? new WeakMap<Float64Array, Column>();
  const made = known.get(b.high) ?? multiplyColumns(a, b);
  products.set(a.high, known.set(b.high, made));
  return made;
}

function linearParts(driver: Driver, parts: readonly Part[]): readonly Part[] {
  return driver.kind === "number" ? parts.slice(0, 1) : parts;
}

function numberParts({ name, values, degree }: NumberDriver, { low, high }: ColumnRange): Part[] {
  const largest = Math.max(high, -low);
  const unit = degree === 1 && inUsualRange(largest, values.length) ? 1 : unitOf(largest);
  const first = unit === 1 ? exactColumn(values) : { high: Float64Array.from(values, (value) => value / unit) };
  const parts: Part[] = [];
  let powers: Column = first;
  for (let power = 1; power <= degree; power++) {
    if (power > 1) powers = multiplyColumns(powers, first);
    const exponent = power;
    parts.push({
      label: power === 1 ? name : name + String(power).replace(/\d/g, (digit) => SUPERSCRIPTS[Number(digit)]),
      values: powers,
      scale: unit ** power,
      weight(setting) {
        if (setting === "even") throw new RangeError(`a number driver (${name}) needs a value, not "even"`);
        const base: Pair = [setting / unit, 0];
        let product = base;
        for (let k = 1; k < exponent; k++) product = multiply(product, base);
        return product;
      },
    });
  }
  return parts;
}

/**
 * Far from where products of squares overflow or vanish? Then a straight line in the numbers is taken as it stands,
 * without a copy.
 */
function inUsualRange(largest: number, rows: number): boolean {
  return largest > 2 ** -100 && Math.sqrt(rows) * largest < 2 ** 100;
}

/** The power of two at or below the largest value, so that powers of values over it neither overflow nor vanish. */
function unitOf(largest: number): number {
  return largest > 0 ? 2 ** Math.floor(Math.log2(largest)) : 1;
}

function categoryParts({ name, values, levels }: CategoryDriver): Part[] {
  return levels.slice(1).map((level, index) => {
    const high = new Float64Array(values.length);
    for (let i = 0; i < values.length; i++) high[i] = values[i] === index + 1 ? 1 : 0;
    return {
      label: `${name}: ${level}`,
      values: { high },
      scale: 1,
      weight: (setting) => [setting === "even" ? 1 / levels.length : setting === index + 1 ? 1 : 0, 0],
    };
  });
}
