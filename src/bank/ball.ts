/**
 * A moving ball: velocity and angular velocity, and the ratios people speak of.
 *
 * SI. x runs along the rail, y into the rail, z up. Angles are from square to the rail, positive along +x, whether the
 * ball goes toward the rail or comes off it.
 */

/** Standard acceleration of gravity in m/s²: ISO 80000-3, exact by definition. */
export const GRAVITY = 9.80665;

/** Velocity v in m/s and angular velocity w in rad/s. */
export interface BallState {
  readonly vx: number;
  readonly vy: number;
  readonly vz: number;
  readonly wx: number;
  readonly wy: number;
  readonly wz: number;
}

/**
 * The same as people say it. Ratios are spin at the ball's surface over speed, with v̂ the direction of travel:
 * roll = R ω·(ẑ × v̂)/|v| (1 natural roll, 0 stun, −1 full draw), side = R ω_z/|v| (positive counter-clockwise from
 * above), swerve = R ω·v̂/|v|. The angle is in radians.
 */
export interface Motion {
  readonly speed: number;
  readonly angle: number;
  readonly roll: number;
  readonly side: number;
  readonly swerve: number;
}

/**
 * State of a ball going toward the rail ("in", +y) or coming off it ("off", −y).
 * @example stateOf({ speed: 2, angle: 0, roll: 1, side: 0, swerve: 0 }, "in", 0.03).wx // -66.66666666666667
 * @example stateOf({ speed: 2, angle: Math.PI / 6, roll: 0, side: 0, swerve: 0 }, "off", 0.03).vx // 1
 */
export function stateOf(motion: Motion, way: "in" | "off", radius: number): BallState {
  const along = Math.sin(motion.angle);
  const square = way === "in" ? Math.cos(motion.angle) : -Math.cos(motion.angle);
  const spin = motion.speed / radius;
  return {
    vx: motion.speed * along,
    vy: motion.speed * square,
    vz: 0,
    wx: spin * (motion.swerve * along - motion.roll * square),
    wy: spin * (motion.swerve * square + motion.roll * along),
    wz: spin * motion.side,
  };
}

/**
 * Ratios of a state; of a ball at rest they are NaN. A vertical velocity is passed over.
 * @example motionOf({ vx: 0, vy: -2, vz: 0, wx: 0, wy: 0, wz: 100 }, 0.03).side // 1.5
 */
export function motionOf(state: BallState, radius: number): Motion {
  const speed = Math.hypot(state.vx, state.vy);
  const perSpeed = radius / (speed * speed);
  return {
    speed,
    angle: Math.atan2(state.vx, Math.abs(state.vy)),
    roll: (state.wy * state.vx - state.wx * state.vy) * perSpeed,
    side: (radius * state.wz) / speed,
    swerve: (state.wx * state.vx + state.wy * state.vy) * perSpeed,
  };
}

/**
 * Kinetic energy per mass in m²/s², of motion and spin together (inertia 2/5 M R²).
 * @example energyPerMass({ vx: 0, vy: 1, vz: 0, wx: -10, wy: 0, wz: 0 }, 0.1) // 0.7
 */
export function energyPerMass(state: BallState, radius: number): number {
  const { vx, vy, vz, wx, wy, wz } = state;
  return 0.5 * (vx * vx + vy * vy + vz * vz) + 0.2 * radius * radius * (wx * wx + wy * wy + wz * wz);
}
