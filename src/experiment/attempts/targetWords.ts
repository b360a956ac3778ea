/** How likely a target is: at one attempt, and at least once in a number of them. */
import { say, capital, type Said } from "../language/said";
import { parseInches } from "../../bank/ruler";
import type { Estimated } from "../../statistics/censored/censoredFit";
import { chanceText, significant, withUnit } from "../language/wording";
import { typedNumber } from "../language/typedNumber";
import { helpSentence } from "./helpWords";
import type { ReachAnswer } from "./reach";
import { atSettings } from "./reachWords";

/** The chance of at least one in so many tries within a session, which rises with the chance of one. */
export function atLeastOnce({ estimate, low, high }: Estimated, tries: number): Estimated {
  const of = (chance: number | null) => (chance === null ? null : -Math.expm1(tries * Math.log1p(-chance)));
  return { estimate: of(estimate), low: of(low), high: of(high) };
}

/**
 * The chance of a target in words, or what is wrong with what was typed; undefined where nothing was.
 * @param target as typed, in the unit of the attempts @param tries as typed; nothing is one
 */
export function targetSentence(answer: ReachAnswer, target: string, tries: string): Said | undefined {
  const { attempts, fit, settings } = answer;
  const { unit } = attempts;
  if (target.trim() === "") return undefined;
  const typed = typedNumber(target.trim());
  const bend = typeof typed === "number" ? typed : unit === "in" ? parseInches(target) : undefined;
  if (typeof bend !== "number")
    return `The target is "${target}": give a bend in ${unit === "in" ? "inches" : unit}, such as ${unit === "in" ? "1 1/8" : "28"}.`;
  const count = tries.trim() === "" ? 1 : Number(tries);
  if (!Number.isInteger(count) || count < 1) return `The tries are "${tries}": give a whole number of 1 or more.`;
  const one = fit.chance(settings, bend);
  if (!one || one.estimate === null)
    return say`How likely ${withUnit(significant(bend, 4), unit)} is, these attempts do not tell.`;
  const session = answer.question.sessions.length > 0 ? ", in an average session" : "";
  const said = (chance: Estimated) =>
    say`${chanceText(chance.estimate ?? 0)} (${significant(100 * fit.confidence, 4)} % interval ${chanceText(chance.low ?? 0)} to ${chanceText(chance.high ?? 1)})`;
  const lead = say`${atSettings(answer)}one attempt gets by an obstacle that asks for ${withUnit(significant(bend, 4), unit)} with ${said(one)}`;
  const many = count > 1 ? say`; one of ${count} tries or more with ${said(atLeastOnce(one, count))}` : "";
  const help = helpSentence(answer, bend);
  return say`${capital(lead)}${many}${session}.${help === undefined ? "" : say` ${help}`}`;
}
