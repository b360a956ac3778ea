/**
 * What a reading that was picked because it was large says, given what was to be expected before anybody looked.
 *
 * Before looking, Y is normal with a mean and a standard deviation. Y at least b, where b has an uncertainty of its
 * own, multiplies this by Φ((y − b)/u_b); a reading m ± u by φ((m − y)/u). Given the expectation the picking changes
 * nothing
 * (Dawid, in Multivariate Analysis and its Applications, IMS Lecture Notes 24 (1994) 211–220), and a reading alone is
 * drawn to the mean by the share u²/(u² + s²) of its distance, which is what makes the largest of many no surer than it
 * should be (Efron, J. Am. Stat. Assoc. 106 (2011) 1602–1614).
 */
import { normalLowerLog } from "../distributions/normalLog";

/** A value with its standard uncertainty. */
export interface WithError {
  readonly value: number;
  /** 0 or more; above 0 for what was to be expected. */
  readonly standard: number;
}

export interface Picked {
  /** What was to be expected of one value before looking. */
  readonly expected: WithError;
  /** The value as it was read. */
  readonly reading?: WithError;
  /** What the value was at least. */
  readonly atLeast?: WithError;
}

export interface Joined extends WithError {
  /** The chance that the value is at least so much. */
  chanceOf(limit: number): number;
  /** The value below which a share of what is believed lies. */
  quantile(share: number): number;
}

/** Places of the sum, and how many standard deviations it reaches out. */
const [PLACES, REACH] = [4001, 8];
/** A bound that is taken as exact is this share of a standard deviation wide, so that the sum has a slope to follow. */
const EXACT = 1e-3;

/**
 * @throws RangeError for an expectation without a spread
 * @example joined({ expected: { value: 0, standard: 3 }, reading: { value: 5, standard: 4 } }).value // 1.8
 */
export function joined({ expected, reading, atLeast }: Picked): Joined {
  if (!(expected.standard > 0)) throw new RangeError(`what was to be expected has a spread of ${expected.standard}`);
  const { value, standard } = reading ? weighted(expected, reading) : expected;
  const edge = atLeast && { value: atLeast.value, standard: Math.max(atLeast.standard, EXACT * standard) };
  const low = value - REACH * standard;
  const high = Math.max(value, edge?.value ?? value) + REACH * standard;
  const step = (high - low) / (PLACES - 1);
  const logs = Float64Array.from({ length: PLACES }, (_, i) => {
    const y = low + i * step;
    const plain = -(((y - value) / standard) ** 2) / 2;
    return edge ? plain + normalLowerLog((y - edge.value) / edge.standard) : plain;
  });
  const top = logs.reduce((most, one) => Math.max(most, one), -Infinity);
  const below = new Float64Array(PLACES);
  let [total, first, second] = [0, 0, 0];
  logs.forEach((log, i) => {
    const weight = Math.exp(log - top);
    // Half of a place's weight lies below its middle.
    below[i] = total + weight / 2;
    total += weight;
    first += weight * i;
    second += weight * i * i;
  });
  const mean = first / total;
  return {
    value: low + step * mean,
    standard: step * Math.sqrt(Math.max(0, second / total - mean * mean)),
    chanceOf(limit) {
      const at = (limit - low) / step;
      if (at <= 0) return 1;
      if (at >= PLACES - 1) return 0;
      const i = Math.floor(at);
      return 1 - (below[i] + (at - i) * (below[i + 1] - below[i])) / total;
    },
    quantile(share) {
      const i = below.findIndex((sum) => sum >= share * total);
      if (i <= 0) return i === 0 ? low : high;
      const part = (share * total - below[i - 1]) / (below[i] - below[i - 1]);
      return low + step * (i - 1 + part);
    },
  };
}

/** Two of one value, by their precisions. */
function weighted(expected: WithError, reading: WithError): WithError {
  const share = expected.standard ** 2 / (expected.standard ** 2 + reading.standard ** 2);
  return {
    value: expected.value + share * (reading.value - expected.value),
    standard: Math.max(Math.sqrt(share) * reading.standard, 1e-9 * expected.standard),
  };
}
