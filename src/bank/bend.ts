/**
 * The bend rule of a bank shot past an obstacle.
 *
 * Lengths are in any one unit, the same for all arguments. R is the ball's radius, the gap g runs from the obstacle's
 * edge to the centre of the near mark, square to the line. The obstacle stands R − g into the straight channel, so a
 * ball that grazes both gates and the obstacle has been bent by R − g. Common practice of the trade, no source.
 */

/** Diameter of a pool ball: 2 1/4 in, and the same in mm. World Pool-Billiard Association equipment specification. */
export const STANDARD_BALL_DIAMETER = { in: 2.25, mm: 57.15 } as const;

/**
 * Bend that a grazing ball has been given: R − gap. Negative when the obstacle stands clear of the straight channel.
 * @example bendOfGap(0.125, 2.25) === 1
 */
export function bendOfGap(gap: number, ballDiameter: number): number {
  return ballDiameter / 2 - gap;
}

/**
 * How far the ball's edge passes the obstacle's edge at the marks: bend − (R − gap). Negative is a hit.
 * @example clearanceAtMarks(1, 0.25, 2.25) === 0.125
 */
export function clearanceAtMarks(bend: number, gap: number, ballDiameter: number): number {
  return bend - bendOfGap(gap, ballDiameter);
}

/**
 * Gap to set so that clearing the obstacle needs the bend, tightened by a guard band: R − bend − guard.
 * @example requiredOffset(1, 0.0625, 2.25) === 0.0625
 */
export function requiredOffset(bend: number, guard: number, ballDiameter: number): number {
  return ballDiameter / 2 - bend - guard;
}
