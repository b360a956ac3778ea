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
    path.forEach((from, i) => {
      const at = nearest(from, path[i + 1] ?? from, obstacle);
      const clearance = Math.hypot(at.x - obstacle.x, at.y - obstacle.y) - (ballRadius + obstacle.radius);
      if (!closest || clearance < closest.clearance) closest = { clearance, obstacle: index, at };
    });
  });
  return closest;
}

function nearest(from: Point, to: Point, point: Point): Point {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const square = dx * dx + dy * dy;
  const share =
    square === 0 ? 0 : Math.min(1, Math.max(0, ((point.x - from.x) * dx + (point.y - from.y) * dy) / square));
  return { x: from.x + share * dx, y: from.y + share * dy };
}
