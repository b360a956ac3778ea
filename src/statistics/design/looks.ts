/** Looking early and often: how it makes false alarms. */
import { normalQuantile } from "../distributions/distributions";
import { normalDensity, normalLower } from "../distributions/normal";
import { gaussLegendre } from "../numeric/gaussLegendre";

/** More looks than this are not worked out. */
export const MOST_LOOKS = 1000;

/**
 * Chance that at least one of several equally spaced looks at a growing heap of shots calls a difference where there is
 * none, when each look is a two-sided test at the same level, as if it were the only one.
 *
 * The sums of equal batches are a walk of normal steps that must stay between ±z·√k at look k; its density is carried
 * from look to look (Armitage, McPherson & Rowe, Journal of the Royal Statistical Society A 132 (1969) 235–244), by the
 * Gauss–Legendre rule. For the many degrees of freedom of a real plan; with few, alarms are a little more frequent.
 * @param looks a whole number from 1 to 1000
 * @throws RangeError naming what is out of range
 * @example falseAlarms(1) // 0.05
 */
export function falseAlarms(looks: number, level = 0.05): number {
  if (!Number.isInteger(looks) || looks < 1 || looks > MOST_LOOKS)
    throw new RangeError(`looks is ${looks}: it must be a whole number from 1 to ${MOST_LOOKS}`);
  if (!(level > 0 && level < 1)) throw new RangeError(`level is ${level}: it must lie between 0 and 1`);
  const z = normalQuantile(1 - level / 2);
  let alarms = level;
  let places: Placed = rule(z, looks);
  let heights = places.x.map(normalDensity);
  for (let k = 2; k <= looks; k++) {
    const bound = z * Math.sqrt(k);
    // What leaves at this look, as a sum of positive parts.
    places.x.forEach(
      (x, i) => (alarms += places.weights[i] * heights[i] * (normalLower(x - bound) + normalLower(-x - bound))),
    );
    if (k === looks) break;
    const next = rule(bound, looks);
    heights = next.x.map((y) => {
      let total = 0;
      for (let i = 0; i < places.x.length; i++) {
        const apart = y - places.x[i];
        if (Math.abs(apart) < 9) total += places.weights[i] * heights[i] * normalDensity(apart);
      }
      return total;
    });
    places = next;
  }
  return alarms;
}

interface Placed {
  readonly x: number[];
  readonly weights: number[];
}

/**
 * Points between ±bound: panels about two steps wide, so that a normal density over each is exact to rounding; wider
 * ones, to 9 digits, for very many looks.
 */
function rule(bound: number, looks: number): Placed {
  const panels = Math.ceil((2 * bound) / (looks > 100 ? 4 : 2));
  const half = bound / panels;
  const placed: Placed = { x: [], weights: [] };
  for (let panel = 0; panel < panels; panel++) {
    const centre = -bound + (2 * panel + 1) * half;
    LEGENDRE.nodes.forEach((x, k) => {
      placed.x.push(centre + half * x);
      placed.weights.push(half * LEGENDRE.weights[k]);
    });
  }
  return placed;
}

const LEGENDRE = gaussLegendre(16);
