/** The chance to see the difference against the number of shots, for a plan shot more or less often. */
import { makePlan, PlanProblem, type Plan, type PlanWish } from "./plan";
import { planPower, type SessionDifference } from "./planPower";

export interface ChancePlace {
  readonly replicates: number;
  /** Shots that count. */
  readonly shots: number;
  /** Of the setting that is hardest to see; null where some cannot be judged. */
  readonly chance: number | null;
  /** Its heading. */
  readonly hardest: string;
}

/** Plans of more shots than this are not tried: the curve is flat there, or the plan nobody's. */
const MOST_SHOTS = 400;
const TRIED = [1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 48, 64];

/** The hardest setting's chance at numbers of replicates that the plan's blocks allow; yields the share done. */
export function* chanceCurve(wish: PlanWish, difference: SessionDifference): Generator<number, ChancePlace[]> {
  const places: ChancePlace[] = [];
  const tried = [...new Set([...TRIED, wish.replicates])].sort((a, b) => a - b);
  for (const [index, replicates] of tried.entries()) {
    yield index / tried.length;
    const plan = planOf(wish, replicates);
    if (!plan) continue;
    places.push(chanceOf(plan, difference));
    if (shotsOf(plan) > MOST_SHOTS) break;
  }
  return places;
}

const shotsOf = ({ shots }: Plan) => shots.filter(({ settings }) => settings).length;

function planOf(wish: PlanWish, replicates: number): Plan | undefined {
  try {
    return makePlan({ ...wish, replicates });
  } catch (problem) {
    if (problem instanceof PlanProblem) return undefined;
    throw problem;
  }
}

/** Of one plan. */
export function chanceOf(plan: Plan, difference: SessionDifference): ChancePlace {
  const powers = planPower(plan, difference);
  const hardest = powers.reduce((a, b) => ((b.power ?? -1) < (a.power ?? -1) ? b : a));
  return {
    replicates: plan.wish.replicates,
    shots: shotsOf(plan),
    chance: hardest.power,
    hardest: hardest.heading,
  };
}
