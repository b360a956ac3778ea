/** What a plan can tell of one setting, in words. */
import { say, type Said } from "../language/said";
import { counted, significant } from "../language/wording";
import type { ChancePlace } from "./chanceCurve";
import type { PlanWish } from "./plan";
import type { SettingPower } from "./planPower";

/** The chance to see its effect, or why there is none. @param sessionSpread undefined where it is not known */
export function chanceWords(
  { sessions, tables }: Pick<PlanWish, "sessions" | "tables">,
  chance: number | null,
  by: SettingPower["by"],
  sessionSpread: number | undefined,
): Said {
  if (by === "shots")
    return chance === null
      ? "it cannot say, no shots are left over to judge the scatter"
      : say`${significant(100 * chance, 2)} %`;
  const visits = sessions * tables.length;
  if (chance !== null)
    return say`${significant(100 * chance, 2)} %; it never changes within a session, so the ${visits} sessions tell of it and more shots in each hardly help`;
  return sessionSpread === undefined
    ? "it cannot say: it never changes within a session, and how sessions scatter among each other is not known; give the spread of sessions, or change it within each"
    : `it cannot say: it never changes within a session, and ${visits} sessions leave none over to judge how they scatter; plan more sessions, or change it within each`;
}

/**
 * What is said beside chances that hold for measured bends. The Fisher information of a normal mean from one bound at
 * the mean itself is φ(0)² / ¼ = 2/π of that of the value, and less at any other bound.
 */
export const ATTEMPTS_TELL_LESS = say`These chances hold for measured bends. An attempt that says only got by or hit tells at most 2/π of that, 64 %, with the obstacle where half get by: plan at least ${1.6} times the shots.`;

/** What the plan comes to, in one line. @param difference as it is read, with its unit */
export function planLine({ shots, chance, hardest }: ChancePlace, visits: number, difference: string): Said {
  const lead = `${counted(shots, "shot")} in ${counted(visits, "session")}`;
  return chance === null
    ? `${lead}; whether they show a difference of ${difference} in ${hardest} cannot be said.`
    : say`${lead} show a difference of ${difference} with a chance of ${significant(100 * chance, 2)} % (${hardest}, the hardest to see).`;
}
