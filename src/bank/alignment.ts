/** Are sighted balls in line? */

/**
 * Largest distance of the points from the line through the two that lie farthest apart. Any one length unit.
 * @param points at least two places; with two the distance is 0
 * @example lineDeviation([[0, 0], [5, 0.5], [10, 0]]) === 0.5
 */
export function lineDeviation(points: readonly (readonly [number, number])[]): number {
  let longest = 0;
  let [x0, y0, x1, y1] = [0, 0, 0, 0];
  points.forEach((a, i) => {
    for (const b of points.slice(i + 1)) {
      const apart = Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (apart > longest) {
        longest = apart;
        [x0, y0] = a;
        [x1, y1] = b;
      }
    }
  });
  if (longest === 0) return 0;
  return points.reduce(
    (most, [x, y]) => Math.max(most, Math.abs((x - x0) * (y1 - y0) - (y - y0) * (x1 - x0)) / longest),
    0,
  );
}
