/** Random numbers that come out the same for the same seed. */

export interface SeededRandom {
  /** Evenly between 0 and 1. */
  uniform(): number;
  /** Normal with mean 0 and standard deviation 1 (Box and Muller, Ann. Math. Statist. 29 (1958) 610–611). */
  normal(): number;
}

/**
 * A multiplicative congruential generator, multiplier 48271 modulo 2³¹ − 1 (Park, Miller & Stockmeyer, Comm. ACM 36
 * (1993) 108–110).
 */
export function seededRandom(seed: number): SeededRandom {
  let state = seed % 2147483647;
  const uniform = () => (state = (state * 48271) % 2147483647) / 2147483647;
  return { uniform, normal: () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform()) };
}
