/** Does a driver matter at all, given the others? */
import type { FTest } from "./estimates";
import type { Regression } from "./regression";

export interface TermTest {
  /** "Cloth", or "Humidity × Cloth" for a joint effect. */
  readonly name: string;
  /** Indices of the drivers tested: one, or two for a joint effect. */
  readonly drivers: readonly number[];
  readonly test: FTest;
}

/**
 * One F test per driver and per joint effect, given all the rest. A driver is tested together with every joint effect
 * that it takes part in, so the answer does not depend on which level is the reference or where a number's zero is.
 * @example termTests(regress({ response: [1, 3, 5, 8], drivers: [{ kind: "number", name: "x", values: [0, 1, 2, 3], degree: 1 }] }))[0].test.df2 === 2
 */
export function termTests(regression: Regression): TermTest[] {
  const { drivers, joint = [] } = regression.question;
  const { test } = regression;
  const singles = drivers.map(({ name }, index) => ({
    name,
    drivers: [index],
    test: test((column) => column.drivers.includes(index)),
  }));
  const pairs = joint.map(([a, b]) => ({
    name: `${drivers[a].name} × ${drivers[b].name}`,
    drivers: [a, b],
    test: test((column) => column.drivers.length === 2 && column.drivers[0] === a && column.drivers[1] === b),
  }));
  return [...singles, ...pairs];
}

/** Would a straight line do for this number driver? Tests its powers above the first together. */
export function curveTest(regression: Regression, driver: number): FTest {
  return regression.test((column) => column.drivers.length === 1 && column.drivers[0] === driver && column.power > 1);
}
