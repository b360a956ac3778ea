/**
 * What the cushion does to a ball.
 *
 * Impulse with friction at nose and bed, after Mathavan, Jackson & Parkin, Proc. IMechE C 224 (2010) 1863, with stick
 * and reversal treated; the rigid nose holds up to 2.5 m/s square to the rail.
 */
import type { BallState } from "./ball";
import { checkConditions, restitutionAt, type Conditions } from "./conditions";
import { noseImpulse, type Integration, type NoseImpulseInput, type NoseImpulseOutput } from "./impact/noseImpulse";

/** Speed square to the rail in m/s up to which the rigid nose was found to hold: Mathavan et al. (2010). */
export const RIGID_NOSE_LIMIT = 2.5;

const input: NoseImpulseInput = {
  vx: 0,
  vy: 0,
  wx: 0,
  wy: 0,
  wz: 0,
  sine: 0,
  noseFriction: 0,
  bedFriction: 0,
  restitution: 0,
};
const output: NoseImpulseOutput = { vx: 0, vy: 0, vz: 0, wx: 0, wy: 0, wz: 0, impulse: 0, steps: 0 };

/**
 * State of the ball just after the cushion. The ball must go toward the rail (vy > 0); a vertical velocity that it
 * brings is passed over. A vz > 0 afterwards is a ball that the nose's friction has lifted off the bed.
 * @throws RangeError for an impossible condition, or a ball that does not go toward the rail
 * @example impact({ vx: 0, vy: 1, vz: 0, wx: 0, wy: 0, wz: 0 }, { ...DEFAULT_CONDITIONS, noseFriction: 0, slipFriction: 0, restitution: 0.8 }).vy // -0.8
 */
export function impact(state: BallState, conditions: Conditions, options: Integration = {}): BallState {
  checkConditions(conditions);
  const { vx, vy, wx, wy, wz } = state;
  if (!(vy > 0 && vy < Infinity) || !Number.isFinite(vx + wx + wy + wz))
    throw new RangeError(`the ball must go toward the rail with finite speed and spin: vy is ${vy}`);
  const radius = conditions.ballDiameter / 2;
  const sine = 2 * conditions.noseHeight - 1;
  const restitution = restitutionAt(conditions.restitution, vy);
  input.vx = vx;
  input.vy = vy;
  input.wx = radius * wx;
  input.wy = radius * wy;
  input.wz = radius * wz;
  input.sine = sine;
  input.noseFriction = conditions.noseFriction;
  input.bedFriction = conditions.slipFriction;
  input.restitution = restitution;
  noseImpulse(input, output, options);
  return {
    vx: output.vx,
    vy: output.vy,
    vz: output.vz,
    wx: output.wx / radius,
    wy: output.wy / radius,
    wz: output.wz / radius,
  };
}
