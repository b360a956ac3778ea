/** The least and the largest of many numbers. */

export interface Extent {
  readonly low: number;
  readonly high: number;
}

/**
 * Infinity and −Infinity where there are none; a loop, because a call takes only so many arguments.
 * @example extent([2, 1, 3]) // { low: 1, high: 3 }
 */
export function extent(values: ArrayLike<number>): Extent {
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < values.length; i++) {
    if (values[i] < low) low = values[i];
    if (values[i] > high) high = values[i];
  }
  return { low, high };
}
