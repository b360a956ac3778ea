/**
 * Where a session's integrand is looked at, so that its integral over the session's shift z is right.
 *
 * Mostly by adaptive Gauss–Hermite quadrature: nodes about the integrand's own peak, as wide as it is there (Liu &
 * Pierce, Biometrika 81 (1994) 624–629). Where sessions differ by much more than a row scatters, each row is a step in
 * z, nodes so far apart miss it, and the likelihood would get bumps that are none of its own: then by
 * panels between the places where the integrand, which is log-concave, has fallen by so much.
 */
import { gaussLegendre } from "../numeric/gaussLegendre";
import type { Rule } from "../numeric/gaussHermite";
import { seenHazard, seenLog } from "./seen";

/** One session's rows: what they are, and η without the shift. */
export interface SessionRows {
  readonly members: readonly number[];
  /** 1 for at least, −1 otherwise. */
  readonly signs: Int8Array;
  readonly exact: Uint8Array;
  readonly misjudged: number;
  readonly eta: Float64Array;
  /** Standard deviation between sessions over that within. */
  readonly lambda: number;
}

/** The integral of exp(log) is the sum of exp(log + logWeight). */
export interface ShiftNodes {
  readonly at: Float64Array;
  readonly logWeights: Float64Array;
}

/**
 * λ up to which 25 nodes about the peak are right to 1e-7 of the logarithm, whatever the rows; at 3 they are off by up
 * to 0.002, at 10 by 0.2. Panels are right to 1e-9 up to 5, to 1e-6 at 10.
 */
const STEEP = 1.5;

/** The nodes for one session. @param rule of Gauss and Hermite */
export function shiftNodes(rows: SessionRows, rule: Rule): ShiftNodes {
  const { peak, spread } = peakOf(rows);
  return Math.abs(rows.lambda) > STEEP ? panelNodes(rows, peak) : aboutPeak(rule, peak, spread);
}

function aboutPeak({ nodes, weights }: Rule, peak: number, spread: number): ShiftNodes {
  const unit = Math.SQRT2 * spread;
  const at = new Float64Array(nodes.length);
  const logWeights = new Float64Array(nodes.length);
  for (let k = 0; k < nodes.length; k++) {
    at[k] = peak + unit * nodes[k];
    logWeights[k] = Math.log(unit * weights[k]) + nodes[k] * nodes[k];
  }
  return { at, logWeights };
}

/** Falls of the integrand's logarithm at which a panel ends; what lies beyond the last is 1e-9 of the whole. */
const FALLS = [20, 6, 2, 0.5, 0.05];
const WITHIN = gaussLegendre(10);

function panelNodes(rows: SessionRows, peak: number): ShiftNodes {
  const top = heightOf(rows, peak).value;
  const below = fallsTo(rows, peak, top, -1);
  const above = fallsTo(rows, peak, top, 1);
  const ends = [...below, peak, ...above.reverse()];
  const count = WITHIN.nodes.length;
  const at = new Float64Array((ends.length - 1) * count);
  const logWeights = new Float64Array(at.length);
  for (let panel = 0; panel + 1 < ends.length; panel++) {
    const half = (ends[panel + 1] - ends[panel]) / 2;
    const logHalf = Math.log(half);
    for (let k = 0; k < count; k++) {
      at[panel * count + k] = ends[panel] + half * (1 + WITHIN.nodes[k]);
      logWeights[panel * count + k] = logHalf + Math.log(WITHIN.weights[k]);
    }
  }
  return { at, logWeights };
}

/**
 * The places on one side where the integrand has fallen so far, the farthest first: Newton's steps from beyond, which
 * never pass the place, as the fall is convex. They need not be met closely.
 */
function fallsTo(rows: SessionRows, peak: number, top: number, side: 1 | -1): number[] {
  // The normal curve of the shift alone falls so far by then.
  let distance = Math.sqrt(2 * FALLS[0]);
  return FALLS.map((fall) => {
    for (let step = 0; step < 40; step++) {
      const { value, slope } = heightOf(rows, peak + side * distance);
      const fallen = top - value;
      const down = -side * slope;
      if (fallen <= 1.3 * fall || !(down > 0)) break;
      distance = Math.max(distance / 8, distance - (fallen - fall) / down);
    }
    return peak + side * distance;
  });
}

/** The logarithm of the integrand, but for a constant, and its slope. */
function heightOf({ members, signs, exact, misjudged, eta, lambda }: SessionRows, z: number) {
  let value = (-z * z) / 2;
  let slope = -z;
  for (const i of members) {
    const at = eta[i] + signs[i] * lambda * z;
    const own = exact[i] ? (-at * at) / 2 : seenLog(at, misjudged);
    value += own;
    slope += (exact[i] ? -at : seenHazard(at, misjudged, own)) * signs[i] * lambda;
  }
  return { value, slope };
}

/** Misjudged rows may bend the integrand the other way, far from them: never less than this is taken for its own. */
const LEAST_BENT = 0.25;

/**
 * Where a session's integrand is largest over z, and the standard deviation of the normal curve with its curvature
 * there.
 */
function peakOf({ members, signs, exact, misjudged, eta, lambda }: SessionRows): {
  readonly peak: number;
  readonly spread: number;
} {
  let z = 0;
  let bent = 1;
  // Concave with a curvature of −1 or more, but for misjudged rows: each step is shortened only where it leaps.
  for (let step = 0; step < 50; step++) {
    let slope = -z;
    bent = 1;
    for (const i of members) {
      const at = eta[i] + signs[i] * lambda * z;
      const hazard = exact[i] ? -at : seenHazard(at, misjudged);
      slope += hazard * signs[i] * lambda;
      bent += (exact[i] ? 1 : hazard * (hazard + at)) * lambda * lambda;
    }
    bent = Math.max(LEAST_BENT, bent);
    const move = Math.max(-2, Math.min(2, slope / bent));
    z += move;
    if (Math.abs(move) < 1e-8) break;
  }
  return { peak: z, spread: 1 / Math.sqrt(bent) };
}
