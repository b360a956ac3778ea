/** Nodes and weights of the Gauss–Legendre rule: ∫ f(x) dx from −1 to 1 ≈ Σ weight · f(node). */
import type { Rule } from "./gaussHermite";

/**
 * The rule with so many nodes, exact for polynomials of degree 2·count − 1 (Abramowitz & Stegun, Handbook of
 * Mathematical Functions (1964), 25.4.29): roots of the polynomial by Newton's steps from the usual guess.
 * @example gaussLegendre(1).weights[0] // 2
 */
export function gaussLegendre(count: number): Rule {
  const nodes = new Float64Array(count);
  const weights = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (count + 0.5));
    let slope = 1;
    for (let step = 0; step < 20; step++) {
      let [before, here] = [1, x];
      for (let k = 2; k <= count; k++) [before, here] = [here, ((2 * k - 1) * x * here - (k - 1) * before) / k];
      slope = (count * (x * here - before)) / (x * x - 1);
      const move = here / slope;
      x -= move;
      if (Math.abs(move) < 1e-16) break;
    }
    nodes[i] = x;
    weights[i] = 2 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}
