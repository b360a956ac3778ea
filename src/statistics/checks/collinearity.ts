/** Drivers that go along with each other, and what that costs. */
import type { Driver } from "../fit/designMatrix";
import { regress, type Regression } from "../fit/regression";
import { columnSummary } from "../numeric/columnSummary";

export interface Together {
  /** Index of the driver. */
  readonly driver: number;
  /** Share of the driver's variation that goes with the other drivers; of a category the largest over its levels. */
  readonly share: number;
  /**
   * How many times as wide the driver's interval is as if it went along with none: the root of what is called variance
   * inflation.
   */
  readonly widening: number;
}

/**
 * How far each driver goes along with the others: it is fitted on them. Curves and joint effects are left aside, since
 * a driver goes along with its own square whatever the rows. A driver that the others determine has widening Infinity.
 * @returns one entry per driver that varies, where there are two drivers or more; a step per driver
 */
export function* collinearity({ question: { drivers } }: Pick<Regression, "question">): Generator<number, Together[]> {
  const found: Together[] = [];
  if (drivers.length < 2) return found;
  for (let index = 0; index < drivers.length; index++) {
    const others = drivers
      .filter((_, other) => other !== index)
      .map((other) => (other.kind === "number" ? { ...other, degree: 1 } : other));
    const shares = columnsOf(drivers[index]).flatMap((response) => {
      const { rSquared } = regress({ response, drivers: others });
      return rSquared === null ? [] : [rSquared];
    });
    if (shares.length > 0) {
      // What is left within rounding of nothing is nothing.
      const share = Math.min(1, Math.max(...shares));
      found.push({ driver: index, share, widening: 1 - share < 1e-12 ? Infinity : 1 / Math.sqrt(1 - share) });
    }
    yield (index + 1) / drivers.length;
  }
  return found;
}

/** A number's values, or for each level of a category which rows have it. */
function columnsOf(driver: Driver): ArrayLike<number>[] {
  if (driver.kind === "number") return [driver.values];
  return driver.levels.map((_, level) =>
    Float64Array.from(driver.values as ArrayLike<number>, (value) => (value === level ? 1 : 0)),
  );
}

/**
 * The same widening from a fit that is there: the root of a coefficient's factor of variance times its column's squares
 * about the mean, for each number taken straight and each category of two levels that is in no joint effect.
 * @returns one per driver; undefined where the fit does not say it so, as with weights or without a constant
 */
export function widenings({ question, design, fit }: Regression): (number | undefined)[] {
  const { drivers, constant = true, weights, joint = [] } = question;
  if (!constant || weights || drivers.length < 2) return drivers.map(() => undefined);
  const inverse = fit.inverseCross();
  return drivers.map((driver, index) => {
    if (joint.some((pair) => pair.includes(index))) return undefined;
    const own = design.columns.flatMap((column, place) => (column.drivers.includes(index) ? [place] : []));
    const [only] = own;
    if (only === undefined || own.length > 1 || (driver.kind === "number" && driver.degree > 1)) return undefined;
    const place = fit.kept.indexOf(only);
    const values = design.columns[only]?.values.high;
    const factor = inverse[place]?.[place];
    return values && factor !== undefined ? Math.max(1, Math.sqrt(factor * columnSummary(values).squares)) : undefined;
  });
}
