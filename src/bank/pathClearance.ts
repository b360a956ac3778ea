/**
 * How a path passes round obstacles. Lengths in any one unit.
 */
export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Obstacle extends Point {
  readonly radius: number;
}

export interface Passing {
  /** Smallest distance between ball's edge and obstacle's edge; negative is a hit. */
  readonly clearance: number;
  /** Index of the obstacle. */
  readonly obstacle: number;
  /** Centre of the ball where it is nearest. */
  readonly at: Point;
}

/**
 * The closest passing of a ball along straight pieces between points: distance of path and obstacle's centre, less the
 * sum of the radii. Of equally close obstacles the first.
 * @example closestPassing([{ x: 0, y: 0 }, { x: 10, y: 0 }], [{ x: 5, y: 4, radius: 1 }], 1).clearance === 2
 */
export function closestPassing(
  path: readonly Point[],
  obstacles: readonly Obstacle[],
  ballRadius: number,
): Passing | undefined {
  let closest: Passing | undefined;
  obstacles.forEach((obstacle, index) => {
    const reach = ballRadius + obstacle.radius;
    path.forEach((from, i) => {
      const to = path[i + 1] ?? from;
      const share = shareNearest(from, to, obstacle);
      const x = from.x + share * (to.x - from.x);
      const y = from.y + share * (to.y - from.y);
      const clearance = Math.sqrt((x - obstacle.x) ** 2 + (y - obstacle.y) ** 2) - reach;
      if (!closest || clearance < closest.clearance) closest = { clearance, obstacle: index, at: { x, y } };
    });
  });
  return closest;
}

function shareNearest(from: Point, to: Point, point: Point): number {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const square = dx * dx + dy * dy;
  return square === 0 ? 0 : Math.min(1, Math.max(0, ((point.x - from.x) * dx + (point.y - from.y) * dy) / square));
}
