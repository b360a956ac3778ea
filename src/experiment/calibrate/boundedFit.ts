/**
 * The constants fitted to attempts: bends that were measured beside bends of which only a bound is known.
 *
 * With a normal scatter σ about the model a measured bend adds ((predicted − bend)/σ)² to −2 log of the likelihood, and
 * a bound −2 log Φ(±(predicted − bound)/σ): squares of deviance residuals (McCullagh & Nelder, 1989, 2.4.3), so least
 * squares finds the highest likelihood for a σ. The σ itself is where it is highest for the constants found, in turns.
 */
import { normalHazard, normalLowerLog } from "../../statistics/distributions/normalLog";
import type { Known } from "../../statistics/censored/censoredFit";

/**
 * A row's share of −2 log of the likelihood as a residual, with the side that it pulls to.
 * @param off predicted − bend
 */
export function devianceResidual(known: Known, off: number, scatter: number): number {
  const z = off / scatter;
  if (known === "value") return z;
  return known === "at least" ? -deviance(z) : deviance(-z);
}

/** √(−2 log Φ(z)), which falls to nothing as the bound is passed by far. */
function deviance(z: number): number {
  return Math.sqrt(Math.max(0, -2 * normalLowerLog(z)));
}

/**
 * What a row of the Jacobian of deviance residuals is to be multiplied by, so that its squares are Fisher's
 * information: √(h(z)·h(−z)) over the residual's own slope h(z)/r.
 */
export function informationShare(known: Known, off: number, scatter: number): number {
  if (known === "value") return 1;
  const z = known === "at least" ? off / scatter : -off / scatter;
  const residual = deviance(z);
  const hazard = normalHazard(z);
  return hazard > 0 && residual > 0 ? (residual * Math.sqrt(hazard * normalHazard(-z))) / hazard : 0;
}

/** Fisher's information of a row on the model's bend, over that of a measured one. */
export function boundWorth(known: Known, off: number, scatter: number): number {
  return known === "value" ? 1 : normalHazard(off / scatter) * normalHazard(-off / scatter);
}

/** A row as it lies: what is known of it, and how far the model is above it. */
interface Lying {
  readonly known: Known;
  readonly off: number;
}

/** −2 log of the likelihood, but for what does not depend on the scatter. */
export function minusTwoLog(rows: readonly Lying[], scatter: number): number {
  return rows.reduce(
    (sum, { known, off }) =>
      sum + devianceResidual(known, off, scatter) ** 2 + (known === "value" ? 2 * Math.log(scatter) : 0),
    0,
  );
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;
const ROUNDS = 40;

/** The scatter between two where what is given is least, by golden section along its logarithm. */
export function bestScatter(low: number, high: number, minus: (scatter: number) => number): number {
  let [a, b] = [Math.log(low), Math.log(high)];
  let [c, d] = [b - GOLDEN * (b - a), a + GOLDEN * (b - a)];
  let [atC, atD] = [minus(Math.exp(c)), minus(Math.exp(d))];
  for (let i = 0; i < ROUNDS; i++) {
    if (atC < atD) {
      [b, d, atD] = [d, c, atC];
      c = b - GOLDEN * (b - a);
      atC = minus(Math.exp(c));
    } else {
      [a, c, atC] = [c, d, atD];
      d = a + GOLDEN * (b - a);
      atD = minus(Math.exp(d));
    }
  }
  return Math.exp((a + b) / 2);
}
