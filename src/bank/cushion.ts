/**
 * What the cushion does to a ball.
 *
 * Two published models, chosen by conditions.cushionModel. "nose and bed" (the default) follows Mathavan, Jackson &
 * Parkin, Proc. IMechE C 224 (2010) 1863, with stick and reversal treated; its rigid nose holds up to 2.5 m/s square to
 * the rail. "nose alone" follows Han, J. Mech. Sci. Technol. 19 (2005) 976 as recalled, not checked against the paper's
 * print: the nose's impulse and its Coulomb friction act as if the bed were not there, and what drives the ball down is
 * lost in the bed. It is closed form; with a nose above the centre and no friction it gives v_y′ = v_y (1 − (1 + e)
 * cos²θ), not −e v_y.
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
  if (conditions.cushionModel === "nose alone")
    return noseAlone(state, radius, sine, conditions.noseFriction, restitution);
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

/**
 * Slip at the nose keeps its direction, so friction is the smaller of μ times the push and what ends the slip (2/7).
 */
function noseAlone(state: BallState, radius: number, sine: number, friction: number, restitution: number): BallState {
  const cosine = Math.sqrt(1 - sine * sine);
  const push = (1 + restitution) * cosine * state.vy;
  const slip1 = state.vx + radius * (sine * state.wy - cosine * state.wz);
  const slip2 = radius * state.wx - sine * state.vy;
  const slip = Math.hypot(slip1, slip2);
  const share = slip === 0 ? 0 : Math.min((friction * push) / slip, 2 / 7);
  const along = -share * slip1;
  const up = -share * slip2;
  const spin = 2.5 / radius;
  return {
    vx: state.vx + along,
    vy: state.vy - cosine * push - sine * up,
    vz: 0,
    wx: state.wx + spin * up,
    wy: state.wy + spin * sine * along,
    wz: state.wz - spin * cosine * along,
  };
}
