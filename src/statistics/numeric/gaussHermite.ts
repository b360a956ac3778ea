/** Nodes and weights of the Gauss–Hermite rule: ∫ exp(−t²) f(t) dt ≈ Σ weight · f(node). */

export interface Rule {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

const known = new Map<number, Rule>();

/**
 * The rule with so many nodes, exact for polynomials of degree 2·count − 1 (Abramowitz & Stegun, Handbook of
 * Mathematical Functions (1964), 25.4.46). Zeros of the orthonormal Hermite functions are bracketed by sign changes on
 * a fine grid and closed in on by Newton's steps, so that nothing overflows.
 * @param count 1 to 64
 * @throws RangeError for another count
 * @example gaussHermite(1).nodes[0] // 0
 */
export function gaussHermite(count: number): Rule {
  if (!Number.isInteger(count) || count < 1 || count > 64)
    throw new RangeError(`a Gauss–Hermite rule has 1 to 64 nodes, not ${count}`);
  const found = known.get(count) ?? made(count);
  known.set(count, found);
  return found;
}

/** The orthonormal Hermite polynomials of degree n and n − 1 at t, for the weight exp(−t²). */
function hermite(n: number, t: number): readonly [number, number] {
  let before = 0;
  let here = Math.PI ** -0.25;
  for (let j = 0; j < n; j++)
    [before, here] = [here, t * Math.sqrt(2 / (j + 1)) * here - Math.sqrt(j / (j + 1)) * before];
  return [here, before];
}

function made(count: number): Rule {
  const nodes = new Float64Array(count);
  const weights = new Float64Array(count);
  const end = Math.sqrt(2 * count + 1);
  // Neighbouring zeros are at least π / √(2n + 1) apart; an odd number of steps keeps 0 inside one of them.
  const steps = 16 * count + 1;
  let place = 0;
  for (let i = 0; i < steps && place < count; i++) {
    let [low, high] = [-end + (2 * end * i) / steps, -end + (2 * end * (i + 1)) / steps];
    const sign = Math.sign(hermite(count, low)[0]);
    if (sign === Math.sign(hermite(count, high)[0])) continue;
    let t = (low + high) / 2;
    for (let step = 0; step < 100; step++) {
      const [value, before] = hermite(count, t);
      if (Math.sign(value) === sign) low = t;
      else high = t;
      const next = t - value / (Math.sqrt(2 * count) * before);
      const kept = next > low && next < high ? next : (low + high) / 2;
      if (Math.abs(kept - t) <= 1e-15 * end) break;
      t = kept;
    }
    nodes[place] = t;
    weights[place] = 1 / (count * hermite(count, t)[1] ** 2);
    place++;
  }
  return { nodes, weights };
}
