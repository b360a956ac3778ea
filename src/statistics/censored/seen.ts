/**
 * The chance that a row is seen to reach its bound, where a share of rows is taken for the opposite of what they are.
 *
 * P = ε + (1 − 2ε)·Φ(η): the psychometric function with its guess and lapse rates, both ε (Wichmann & Hill, Perception
 * & Psychophysics 63 (2001) 1293–1313). With ε = 0 it is Φ(η), and the logarithm is concave in η; with ε above 0 it is
 * not, far below.
 */
import { normalHazard, normalLowerLog } from "../distributions/normalLog";
import { normalLower } from "../distributions/normal";

/** The chance that it is seen, from the chance that it is so. @example seenChance(1, 0.02) // 0.98 */
export function seenChance(chance: number, misjudged: number): number {
  return misjudged + (1 - 2 * misjudged) * chance;
}

/** log P at η. @example seenLog(0, 0.02) // Math.log(0.5) */
export function seenLog(eta: number, misjudged: number): number {
  return misjudged === 0 ? normalLowerLog(eta) : Math.log(seenChance(normalLower(eta), misjudged));
}

/**
 * The slope of `seenLog`; its own slope is −hazard·(hazard + η), as without misjudged rows.
 * @param log the value of `seenLog` at η, where that is known already
 * @example seenHazard(0, 0) // 2 / Math.sqrt(2 * Math.PI)
 */
export function seenHazard(eta: number, misjudged: number, log = seenLog(eta, misjudged)): number {
  return (1 - 2 * misjudged) * normalHazard(eta, log);
}
