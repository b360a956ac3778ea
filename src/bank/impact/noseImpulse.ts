/**
 * The impact as Mathavan, Jackson & Parkin put it (Proc. IMechE C 224 (2010) 1863): the ball touches nose and bed at
 * once, Coulomb friction at both, followed through the growing normal impulse of the nose, with energetic restitution
 * (Stronge). Stick and reversal of slip at each contact, and the ball leaving the bed, are events.
 *
 * Per mass and with spin as surface speed w = R ω, everything is in m/s. With s = sin θ and c = cos θ of the nose, the
 * nose pushes along −(0, c, s); its friction is f₁ along x and f₂ along (0, −s, c), the bed's G₁, G₂ along x, y, and
 * the bed bears q′ = s − c f₂, all per unit of nose impulse p. Then
 *
 *     slip at nose   σ₁′ = 7/2 f₁ + κ G₁            κ = 1 − 5/2 s
 *                    σ₂′ = s c + α f₂ + γ G₂        α = 5/2 + s², γ = 5/2 − s     (7/2 f₂ when off the bed)
 *     slip at bed    u₁′ = κ f₁ + 7/2 G₁
 *                    u₂′ = −c + γ f₂ + 7/2 G₂
 *     approach       n′  = −1 + c G₂ + s q′
 *
 * with f = −μ σ/|σ| and G = −μ_s q′ u/|u| while they slip, and what keeps the slip at zero while they stick. The
 * right-hand sides are analytic between events, so each step sums their power series in p: no fixed step, no rejected
 * step, and every event is the root of a polynomial.
 */
import { settle, settleBetween } from "./contacts";
import {
  BED_BREAKS,
  BED_STOPS,
  COMPRESSED,
  firstEvent,
  LANDS,
  LIFTS,
  NONE,
  NOSE_BREAKS,
  NOSE_STOPS,
  RESTORED,
} from "./events";
import { advance, expand, MOST_TERMS, reach, series } from "./series";
import { model, now, start, step, sums } from "./state";

const { approach, bed1, bed2, lift, slip1, slip2, work } = series;

/** Where the impact begins and the table's part in it. Speeds in m/s, spin as surface speed R ω. */
export interface NoseImpulseInput {
  vx: number;
  vy: number;
  wx: number;
  wy: number;
  wz: number;
  sine: number;
  noseFriction: number;
  bedFriction: number;
  restitution: number;
}

/** What comes out, written into by `noseImpulse`; vz > 0 is a ball that has left the bed. */
export interface NoseImpulseOutput {
  vx: number;
  vy: number;
  vz: number;
  wx: number;
  wy: number;
  wz: number;
  /** Normal impulse of the nose per mass, m/s. */
  impulse: number;
  steps: number;
}

export interface Integration {
  /**
   * Error of a speed, as a share of the normal speed, that the steps are chosen for; 1e-10 when left out, 1e-12 at the
   * least.
   */
  readonly tolerance?: number;
  /** Terms of the power series, 2 to 24; 14 when left out. */
  readonly order?: number;
  /** A fixed step as a share of the normal speed, to study convergence; chosen by the tolerance when left out. */
  readonly step?: number;
}

const MOST_STEPS = 20_000;
/** A friction, or a restitution, below this is none. */
const NEGLIGIBLE = 1e-13;

/**
 * Follows the impact from first touch until the cushion has given back its share of the work.
 * @param input vy > 0, sine from 0 to below 1; frictions small enough not to wedge the ball
 */
export function noseImpulse(input: NoseImpulseInput, output: NoseImpulseOutput, integration: Integration = {}): void {
  choose(integration);
  begin(input);
  output.steps = follow(input.restitution);
  write(input, output);
}

function choose({ order = 14, tolerance = 1e-10, step: fixed }: Integration): void {
  now.terms = Math.min(MOST_TERMS, Math.max(2, Math.round(order)));
  const each = 0.1 * Math.max(tolerance, 1e-12);
  step.settled = Math.max(2 * each, 2e-12);
  step.tolerance = fixed === undefined ? each : Infinity;
  step.longest = fixed ?? 4;
}

/** Speeds from here on are shares of the normal speed at the nose. */
function begin(input: NoseImpulseInput): void {
  model.sine = input.sine;
  model.noseFriction = input.noseFriction < NEGLIGIBLE ? 0 : input.noseFriction;
  model.bedFriction = input.bedFriction < NEGLIGIBLE ? 0 : input.bedFriction;
  model.cosine = Math.sqrt(1 - model.sine * model.sine);
  model.kappa = 1 - 2.5 * model.sine;
  model.alpha = 2.5 + model.sine * model.sine;
  model.gamma = 2.5 - model.sine;
  const scale = model.cosine * input.vy;
  slip1[0] = (input.vx + model.sine * input.wy - model.cosine * input.wz) / scale;
  slip2[0] = (input.wx - model.sine * input.vy) / scale;
  bed1[0] = (input.vx - input.wy) / scale;
  bed2[0] = (input.vy + input.wx) / scale;
  approach[0] = 1;
  work[0] = lift[0] = 0;
  now.lifted = now.restoring = false;
  start.turn1 = start.turn2 = 0;
  sums.p = sums.f1 = sums.f2 = sums.g1 = sums.g2 = 0;
}

/** @returns steps taken */
function follow(restitution: number): number {
  settle(false, false);
  for (let steps = 1; steps <= MOST_STEPS; steps++) {
    settleBetween();
    expand();
    reach();
    const event = firstEvent();
    advance();
    now.bedBegins = false;
    if (event === RESTORED) return steps;
    if (event === COMPRESSED) {
      turn(restitution);
      if (work[0] < NEGLIGIBLE * NEGLIGIBLE) return steps;
    } else if (event !== NONE) pass(event);
  }
  throw new Error("the impact did not end: too many steps");
}

/** Compression ends: the cushion gives back a share of the work, energetic restitution. */
function turn(restitution: number): void {
  approach[0] = 0;
  now.restoring = true;
  work[0] *= restitution * restitution;
}

/** A contact changes; both are decided anew. */
function pass(event: number): void {
  if (event === NOSE_STOPS) slip1[0] = slip2[0] = 0;
  if (event === BED_STOPS) bed1[0] = bed2[0] = 0;
  if (event === LIFTS) {
    now.lifted = true;
    lift[0] = 0;
  }
  if (event === LANDS) now.lifted = false;
  settle(event === NOSE_BREAKS, event === BED_BREAKS);
}

function write(input: NoseImpulseInput, output: NoseImpulseOutput): void {
  const { sine, cosine } = model;
  const scale = cosine * input.vy;
  output.vx = input.vx + scale * (sums.f1 + sums.g1);
  output.vy = input.vy + scale * (sums.g2 - sine * sums.f2 - cosine * sums.p);
  output.vz = now.lifted ? scale * lift[0] : 0;
  output.wx = input.wx + 2.5 * scale * (sums.f2 + sums.g2);
  output.wy = input.wy + 2.5 * scale * (sine * sums.f1 - sums.g1);
  output.wz = input.wz - 2.5 * scale * cosine * sums.f1;
  output.impulse = scale * sums.p;
}
