/**
 * Table and ball constants: defaults with their sources, and what is impossible.
 */
import { STANDARD_BALL_DIAMETER } from "./bend";

/**
 * Restitution of the cushion: a constant, or one that falls with the normal speed in m/s from `slow` by `fall` per m/s
 * down to `least`.
 */
export type Restitution = number | { readonly slow: number; readonly fall: number; readonly least: number };

export interface Conditions {
  /** Sliding friction of ball on cloth, μ_s; also that of the bed during the impact. */
  readonly slipFriction: number;
  /** Rolling resistance μ_r: a rolling ball slows by μ_r g. */
  readonly rollFriction: number;
  /** Friction against side spin μ_z: R ω_z falls by 5/2 μ_z g. */
  readonly sideFriction: number;
  /** Coulomb friction of ball on the cushion's nose. */
  readonly noseFriction: number;
  /** Energetic restitution: the work that the cushion gives back is e² of the work it stored. */
  readonly restitution: Restitution;
  /** Height of the nose over the bed as a share of the ball's diameter. */
  readonly noseHeight: number;
  /** In m. */
  readonly ballDiameter: number;
  /** In kg. */
  readonly ballMass: number;
}

/**
 * What holds when nothing is said. One source each:
 * - slip and roll friction: Marlow, The Physics of Pocket Billiards (1995), the middle of 0.15–0.25 and 0.005–0.015;
 *   from memory, not looked up in print.
 * - side friction: no source; 0.0116 slows a pool ball's side by 10 rad/s², common practice from memory.
 * - nose friction and restitution: Mathavan, Jackson & Parkin, Proc. IMechE C 224 (2010) 1863, on their table.
 * - nose height, diameter, mass (mid-range of 5.5–6 oz): World Pool-Billiard Association equipment specifications,
 *   from memory.
 */
export const DEFAULT_CONDITIONS: Conditions = {
  slipFriction: 0.2,
  rollFriction: 0.01,
  sideFriction: 0.0116,
  noseFriction: 0.14,
  restitution: 0.98,
  noseHeight: 0.635,
  ballDiameter: STANDARD_BALL_DIAMETER.mm / 1000,
  ballMass: 0.163,
};

/** What is wrong with a set of conditions: which constant, and what it must be. */
export interface ConditionProblem {
  readonly constant: keyof Conditions;
  readonly mend: string;
}

/**
 * The first impossible constant, or undefined when all can be.
 * @example conditionProblem(DEFAULT_CONDITIONS) === undefined
 * @example conditionProblem({ ...DEFAULT_CONDITIONS, noseHeight: 0.4 }).constant === "noseHeight"
 */
export function conditionProblem(conditions: Conditions): ConditionProblem | undefined {
  for (const constant of ["slipFriction", "rollFriction", "sideFriction", "noseFriction"] as const) {
    if (!(conditions[constant] >= 0 && conditions[constant] <= 1))
      return { constant, mend: "a friction is between 0 and 1" };
  }
  const { restitution, noseHeight, ballDiameter, ballMass } = conditions;
  const { slow, fall, least } =
    typeof restitution === "number" ? { slow: restitution, fall: 0, least: restitution } : restitution;
  if (!(least >= 0 && slow >= least && slow <= 1 && fall >= 0))
    return { constant: "restitution", mend: "a restitution is between 0 and 1, and falls with speed if it changes" };
  if (!(noseHeight >= 0.5))
    return { constant: "noseHeight", mend: "the nose is at or above the ball's centre, 0.5 of its diameter or more" };
  if (!(noseHeight < 1))
    return { constant: "noseHeight", mend: "the nose is below the ball's top, less than 1 of its diameter" };
  if (!(ballDiameter > 0 && ballDiameter < Infinity))
    return { constant: "ballDiameter", mend: "a diameter is above 0" };
  if (!(ballMass > 0 && ballMass < Infinity)) return { constant: "ballMass", mend: "a mass is above 0" };
  const sine = 2 * noseHeight - 1;
  const cosine = Math.sqrt(1 - sine * sine);
  const held = sine * conditions.noseFriction + conditions.slipFriction * (sine + cosine * conditions.noseFriction);
  if (held >= cosine)
    return {
      constant: "noseHeight",
      mend: "at these frictions the ball would be wedged under the nose: lower the nose or the frictions",
    };
  return undefined;
}

/** Throws a RangeError that names the first impossible constant. */
export function checkConditions(conditions: Conditions): void {
  const problem = conditionProblem(conditions);
  if (problem) throw new RangeError(`${problem.constant} is ${String(conditions[problem.constant])}: ${problem.mend}`);
}

/**
 * Restitution at a normal speed in m/s.
 * @example restitutionAt({ slow: 0.95, fall: 0.05, least: 0.7 }, 2) // 0.85
 */
export function restitutionAt(restitution: Restitution, normalSpeed: number): number {
  return typeof restitution === "number"
    ? restitution
    : Math.max(restitution.least, restitution.slow - restitution.fall * normalSpeed);
}
