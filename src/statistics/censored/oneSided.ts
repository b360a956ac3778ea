/**
 * What rows that all lie on one side of their bounds still tell, whatever the response's distribution.
 *
 * A row that reaches a bound reaches every lower one, so k rows that all reached bounds of b or more say that the
 * chance at b is at least α^(1/k): were it less, k in a row would be rarer than α. (The exact binomial limit for k of
 * k: Clopper & Pearson, Biometrika 26 (1934) 404–413.)
 */
import type { End } from "./profile";

/**
 * The highest value that a row surpasses at least with the probability, as far as rows that all reached their bounds
 * tell.
 * @returns null where they are too few
 * @example leastSurpassed([1, 1, 1, 1, 1], 0.5, 0.95) // 1
 */
export function leastSurpassed(reached: readonly number[], probability: number, confidence: number): End {
  const needed = Math.ceil(Math.log(1 - confidence) / Math.log(probability) - 1e-9);
  return [...reached].sort((a, b) => b - a)[needed - 1] ?? null;
}

/**
 * The lowest value that a row surpasses at most with the probability, as far as rows that all fell short of their
 * bounds tell.
 * @example mostSurpassed([1, 1, 1, 1, 1], 0.5, 0.95) // 1
 */
export function mostSurpassed(missed: readonly number[], probability: number, confidence: number): End {
  const turned = leastSurpassed(
    missed.map((bound) => -bound),
    1 - probability,
    confidence,
  );
  return turned === null ? null : -turned;
}
