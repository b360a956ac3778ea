/** Double-double arithmetic against arithmetic with 80 digits. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  add,
  copyColumn,
  divide,
  dot,
  exactColumn,
  multiply,
  multiplyColumns,
  negate,
  rootColumn,
  squareRoot,
  subtractMultiple,
  type Pair,
  type PairColumn,
} from "../../../src/statistics/numeric/doubleDouble";

const Exact = Decimal.clone({ precision: 80 });
/** A double as it is, not as it is written in few decimals: a whole number times a power of 2. */
function whole(value: number): Decimal {
  if (value === 0) return new Exact(0);
  const power = Math.floor(Math.log2(Math.abs(value))) - 52;
  return new Exact(value / 2 ** power).times(new Exact(2).pow(power));
}
const exact = ([high, low]: Pair) => whole(high).plus(whole(low));
/** Of a double-double of full length; 2⁻¹⁰⁰ leaves a few of its last bits to rounding. */
const ROUNDING = 2 ** -100;

const size = fc.double({ min: -1e6, max: 1e6, noNaN: true }).filter((value) => Math.abs(value) > 1e-6);
/** A pair whose low part is below half a unit in the last place of the high one. */
const pair = fc
  .tuple(size, fc.integer({ min: -4_900_000, max: 4_900_000 }))
  .map(([high, share]): Pair => [high, high * share * 1e-7 * 2 ** -53]);
const runs = { seed: 11, numRuns: 200 };

function expectNear(found: Pair, wanted: Decimal, scale: Decimal): void {
  expect(exact(found).minus(wanted).abs().lessThanOrEqualTo(scale.abs().times(ROUNDING))).toBe(true);
  // The low part is what the high one has no room for.
  expect(found[0] + found[1]).toBe(found[0]);
}

describe("pairs", () => {
  it("are added, multiplied, divided and rooted to some 30 digits", () => {
    fc.assert(
      fc.property(pair, pair, (a, b) => {
        const [x, y] = [exact(a), exact(b)];
        // What a sum loses is a share of its parts, not of itself.
        expectNear(add(a, b), x.plus(y), x.abs().plus(y.abs()));
        expectNear(multiply(a, b), x.times(y), x.times(y));
        expectNear(divide(a, b), x.dividedBy(y), x.dividedBy(y));
        const square = a[0] < 0 ? negate(a) : a;
        expectNear(squareRoot(square), exact(square).sqrt(), exact(square).sqrt());
        expect(exact(negate(a)).plus(x).isZero()).toBe(true);
      }),
      runs,
    );
  });
  it("have no root below zero: it is 0", () => {
    expect(squareRoot([-1, 0])).toEqual([0, 0]);
    expect(squareRoot([0, 0])).toEqual([0, 0]);
  });
});

describe("columns", () => {
  const column = fc.array(pair, { minLength: 1, maxLength: 12 }).map((pairs): PairColumn => ({
    high: Float64Array.from(pairs, ([high]) => high),
    low: Float64Array.from(pairs, ([, low]) => low),
  }));
  const values = ({ high, low }: PairColumn) => Array.from(high, (value, i) => exact([value, low[i]!]));

  it("have inner products, differences, products and roots to as many digits", () => {
    fc.assert(
      fc.property(column, column, pair, (one, other, factor) => {
        const length = Math.min(one.high.length, other.high.length);
        const cut = ({ high, low }: PairColumn) => ({ high: high.slice(0, length), low: low.slice(0, length) });
        const [a, b] = [cut(one), cut(other)];
        const [x, y] = [values(a), values(b)];
        const terms = x.map((value, i) => value.times(y[i]!));
        const sum = (parts: Decimal[]) => parts.reduce((total, part) => total.plus(part), new Exact(0));
        expectNear(dot(a, b), sum(terms), sum(terms.map((term) => term.abs())).times(length));

        const target = copyColumn(a);
        subtractMultiple(target, factor, b);
        values(target).forEach((value, i) => {
          const part = exact(factor).times(y[i]!);
          expectNear([target.high[i]!, target.low[i]!], x[i]!.minus(part), x[i]!.abs().plus(part.abs()));
          expect(exact([target.high[i]!, target.low[i]!]).equals(value)).toBe(true);
        });
        // The column that was copied stays.
        expect(values(a).every((value, i) => value.equals(x[i]!))).toBe(true);

        const product = multiplyColumns(a, b);
        values(product).forEach((value, i) => expectNear([product.high[i]!, product.low[i]!], terms[i]!, value));
        const plain = multiplyColumns(exactColumn(a.high), b);
        values(plain).forEach((_, i) =>
          expectNear([plain.high[i]!, plain.low[i]!], whole(a.high[i]!).times(y[i]!), terms[i]!),
        );
        const root = rootColumn(a.high.map(Math.abs));
        values(root).forEach((value, i) =>
          expectNear([root.high[i]!, root.low[i]!], whole(Math.abs(a.high[i]!)).sqrt(), value),
        );
      }),
      runs,
    );
  });

  it("of doubles are taken as they are", () => {
    const values = Float64Array.of(1, 2);
    expect(exactColumn(values).high).toBe(values);
    expect(exactColumn([1, 2]).high).toEqual(values);
    expect(copyColumn(exactColumn(values))).toEqual({ high: values, low: Float64Array.of(0, 0) });
  });
});
