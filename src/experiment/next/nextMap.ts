/** The prediction over one or two of the settings that may change, on a grid, with the rows that were shot. */
import type { Side } from "../../statistics/numeric/boxSearch";
import type { Estimate } from "../../statistics/fit/estimates";

export interface MapAxis {
  readonly heading: string;
  /** Places of the grid, from the least on. */
  readonly values: readonly number[];
}

export interface NextMap {
  readonly across: MapAxis;
  /** Undefined where one setting alone may change. */
  readonly up: MapAxis | undefined;
  /** Predicted mean at each place, one row of places across after the other; NaN where none is determined. */
  readonly means: readonly number[];
  /** Interval of the mean at each place; of one setting only, and where there is a scatter. */
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** Settings of each row used, and what was measured there. */
  readonly rows: readonly { readonly across: number; readonly up: number; readonly measured: number }[];
}

interface Asked {
  /** Settings that may change, with their limits, and what each row had. */
  readonly free: readonly { readonly heading: string; readonly side: Side; readonly shot: ArrayLike<number> }[];
  /** Where the settings stay that are not on the map. */
  readonly at: readonly number[];
  readonly mean: (place: readonly number[]) => Estimate | undefined;
  readonly measured: ArrayLike<number>;
}

const PLACES = { one: 41, two: 25 };

/** Of the first two that may change. */
export function nextMap({ free, at, mean, measured }: Asked): NextMap | undefined {
  const [first, second] = free;
  if (!first) return undefined;
  const count = second ? PLACES.two : PLACES.one;
  const axis = ({ heading, side }: Asked["free"][number]): MapAxis => ({
    heading,
    values: Array.from({ length: count }, (_, i) => side.low + ((side.high - side.low) * i) / (count - 1)),
  });
  const [across, up] = [axis(first), second && axis(second)];
  const found = (up?.values ?? [NaN]).flatMap((height) =>
    across.values.map((value) => mean(at.map((other, i) => (i === 0 ? value : i === 1 ? height : other)))),
  );
  return {
    across,
    up,
    means: found.map((one) => one?.value ?? NaN),
    low: up ? [] : found.map((one) => one?.low ?? NaN),
    high: up ? [] : found.map((one) => one?.high ?? NaN),
    rows: Array.from(measured, (value, i) => ({
      across: first.shot[i] ?? NaN,
      up: second?.shot[i] ?? value,
      measured: value,
    })),
  };
}
