/** The middle of many numbers. */

/**
 * Median, by selection and not by sorting; NaN of nothing. The array is left as it is.
 * @example median([3, 1, 2, 10]) // 2.5
 */
export function median(values: ArrayLike<number>): number {
  return medianOfOwn(Float64Array.from(values));
}

/** The same of an array that nobody else needs in its order: no copy is made of a long column. */
export function medianOfOwn(rest: Float64Array): number {
  const half = rest.length >> 1;
  if (rest.length === 0) return NaN;
  const upper = select(rest, half);
  if (rest.length % 2) return upper;
  // Selection leaves everything before its place below it.
  let lower = -Infinity;
  for (let i = 0; i < half; i++) lower = Math.max(lower, rest[i]);
  return (lower + upper) / 2;
}

/**
 * Puts the value that sorting would put at a place there, smaller ones before it (Hoare, Algorithm 65, Comm. ACM 4
 * (1961) 321–322).
 */
export function select(values: Float64Array, place: number): number {
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1];
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i] < pivot) i++;
      while (values[j] > pivot) j--;
      if (i > j) break;
      const swap = values[i];
      values[i++] = values[j];
      values[j--] = swap;
    }
    if (place <= j) high = j;
    else if (place >= i) low = i;
    else break;
  }
  return values[place];
}
