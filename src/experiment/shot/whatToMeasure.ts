/**
 * Which of a table's constants the predicted bend waits for: what the range of each, alone, does to it. And what the
 * model cannot do at all. SI.
 */
import { say, listOf, type Said } from "../language/said";
import type { Conditions } from "../../bank/conditions";
import { conditionProblem } from "../../bank/conditions";
import { conditionsOfSetup, SETUP_ITEMS, type Setup } from "../setup/setup";
import { bendOfShot, type ShotPart } from "./computedShot";
import { shownSmall } from "./shotWords";

const CONSTANTS = [
  "slipFriction",
  "noseFriction",
  "restitution",
  "noseHeight",
  "rollFriction",
  "sideFriction",
  "ballDiameter",
  "ballMass",
] as const satisfies readonly (keyof Conditions & keyof Setup)[];

export interface ConstantEffect {
  readonly name: (typeof CONSTANTS)[number];
  readonly label: string;
  /** Least and largest bend over its range, the others at their values; NaN where the ball never arrives. */
  readonly low: number;
  readonly high: number;
  readonly measure: string;
}

/** Each constant that has a range, the one that moves the bend most first. */
export function constantEffects(shot: ShotPart, setup: Setup): ConstantEffect[] {
  const base = conditionsOfSetup(setup);
  return CONSTANTS.filter((name) => setup[name].high > setup[name].low)
    .map((name): ConstantEffect => {
      const { low, value, high } = setup[name];
      const bends = [low, value, high]
        .map((at) => ({ ...base, [name]: at }))
        .filter((conditions) => conditionProblem(conditions) === undefined)
        .map((conditions) => bendOfShot(shot, conditions));
      const { label, measure } = SETUP_ITEMS[name];
      return { name, label, low: Math.min(...bends), high: Math.max(...bends), measure };
    })
    .sort((a, b) => spanOf(b) - spanOf(a));
}

const spanOf = ({ low, high }: ConstantEffect) => (Number.isNaN(high - low) ? Infinity : high - low);

/** Which to measure first, in a sentence. */
export function measureFirst(effects: readonly ConstantEffect[], units: "us" | "si"): Said {
  const [first, second] = effects;
  if (!first) return "Every constant is taken as known: give ranges in the set-up to see which one matters.";
  const of = ({ label, low, high }: ConstantEffect) =>
    Number.isNaN(high - low)
      ? `${label}: over its range the ball may not even arrive`
      : say`${label}: over its range the bend goes from ${shownSmall(low, units)} to ${shownSmall(high, units)} (+ short, − long)`;
  const then = second && spanOf(second) > 0.25 * spanOf(first) ? say` Then ${of(second)}.` : "";
  const rest = effects.filter((one) => one !== first && spanOf(one) < 0.05 * spanOf(first)).map(({ label }) => label);
  const little = rest.length > 0 ? ` Hardly worth it for this shot: ${listOf(rest)}.` : "";
  return say`Measure first ${of(first)}.${then}${little}`;
}

/** What no measuring of constants helps against. */
export const CANNOT = [
  "How humidity and temperature change cloth, cushion and balls: no source settles it, so measure on the day, and let your rows tell.",
  "Cushions above 2.5 m/s (5.6 mph) square to the rail: the published nose is rigid and holds up to there.",
  "A ball that leaves the bed, rails that are worn unevenly, cloth with a nap or a grain.",
  "What the cue ball does after the hit, and what happens behind a pocket's jaws.",
] as const;
