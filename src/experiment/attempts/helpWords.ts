/** Which change of a driver goes with the best chance of a target, within what the rows hold. */
import { say, type Said, joinTexts } from "../language/said";
import type { Estimated } from "../../statistics/censored/censoredFit";
import type { Setting } from "../../statistics/fit/designMatrix";
import { extent } from "../../statistics/numeric/extent";
import { chanceText, inSentence, significant, withUnit } from "../language/wording";
import { intervalText, lengthText } from "./lengthWords";
import type { ReachAnswer } from "./reach";

/** One driver moved, all others as they are asked about. */
export interface HelpfulChange {
  readonly heading: string;
  /** "humidity 38 %", 'cloth "new"'. */
  readonly to: Said;
  /** Of one attempt, there. */
  readonly chance: Estimated;
  /** How much more it bends there. */
  readonly more: Estimated;
}

/** For each driver the end of its range, or the level, where the chance is best; the best of them first. */
export function helps({ fit, columns, settings }: ReachAnswer, target: number): HelpfulChange[] {
  const found = fit.question.drivers.flatMap((driver, index): HelpfulChange[] => {
    const heading = columns[index]?.heading;
    if (!heading) return [];
    const places =
      driver.kind === "category" ? driver.levels.map((_, place) => place) : Object.values(extent(driver.values));
    return places
      .flatMap((place): HelpfulChange[] => {
        const moved = settings.map((other, j): Setting => (j === index ? place : other));
        const more = fit.difference(moved, settings);
        const chance = fit.chance(moved, target, false, "standard error");
        if (!more || more.estimate === null || !chance || chance.estimate === null) return [];
        const to =
          driver.kind === "category"
            ? `${inSentence(heading)} "${driver.levels[place] ?? ""}"`
            : say`${inSentence(heading)} ${withUnit(significant(place, 4), heading.unit)}`;
        return [{ heading: heading.text, to, chance, more }];
      })
      .sort(byChance)
      .slice(0, 1);
  });
  return found.filter(({ more }) => (more.estimate ?? 0) > 0).sort(byChance);
}

const byChance = (a: HelpfulChange, b: HelpfulChange) => (b.chance.estimate ?? 0) - (a.chance.estimate ?? 0);

/** So many are said. */
const SAID = 3;

/** What would help most, in a sentence that claims no cause; undefined without drivers. */
export function helpSentence(answer: ReachAnswer, target: number): Said | undefined {
  if (answer.columns.length === 0) return undefined;
  const { unit } = answer.attempts;
  const { confidence } = answer.fit;
  const found = helps(answer, target).slice(0, SAID);
  if (found.length === 0) return "No change of a driver within these rows goes with a better chance.";
  const told = found.map(({ to, chance, more }) => {
    const open = more.low !== null && more.low <= 0 ? ", which these attempts do not tell from none" : "";
    return say`${to}: ${chanceText(chance.estimate ?? 0)} (${chanceText(chance.low ?? 0)} to ${chanceText(chance.high ?? 1)}), with ${lengthText(more, unit)} more bend (${intervalText(more, unit, confidence)})${open}`;
  });
  return say`One attempt after changing one driver alone, the best first: ${joinTexts(told, "; ")}. This is what went together in these rows, not what causes it.`;
}
