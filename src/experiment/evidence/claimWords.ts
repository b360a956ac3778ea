/**
 * Was it reached? What a claimed bend comes to beside the attempts that went before, in sentences with their figures.
 */
import { say, listOf, type Said, joinTexts } from "../language/said";
import { joined, type Joined } from "../../statistics/measure/expected";
import { probabilityAbove } from "../../statistics/measure/uncertainty";
import { normalQuantile } from "../../statistics/distributions/distributions";
import { normalLower } from "../../statistics/distributions/normal";
import { chanceText, confidenceText, counted, decimalsFor, fixed, withUnit } from "../language/wording";
import type { TriesBefore, Claim, EvidenceRules, SideStanding } from "./evidence";

/** What is believed of a claimed bend. */
export interface Belief {
  /** By its own reading or obstacle alone, that it reached a bend. */
  readonly aloneOf: (target: number) => number;
  /** With what was to be expected before looking; undefined where nobody knows that. */
  readonly together: Joined | undefined;
}

/** @param claim with a bend; its size counts */
export function beliefOf({ bend = 0, uncertainty, shows, before }: Claim): Belief {
  const own = { value: Math.abs(bend), standard: uncertainty };
  const expected = before?.expected;
  return {
    aloneOf: (target) => probabilityAbove(own.value, { standard: own.standard, df: Infinity }, target),
    together:
      expected && !("why" in expected)
        ? joined({ expected, ...(shows === "measured" ? { reading: own } : { atLeast: own }) })
        : undefined,
  };
}

/** That a claim reached a bend, by all that is known of it. */
export function chanceReached(claim: Claim, target: number): number {
  const { aloneOf, together } = beliefOf(claim);
  return together ? together.chanceOf(target) : aloneOf(target);
}

/** "attempt 37 of 200", "one of 12 tries", "number of tries not recorded". */
export function triesText({ before, tries }: Pick<Claim, "before" | "tries">): string {
  if (before) return `attempt ${before.place} of ${before.all}`;
  return tries === undefined ? "number of tries not recorded" : tries === 1 ? "the only try" : `one of ${tries} tries`;
}

/** A bend's size with its interval. */
export interface SizeBetween {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/**
 * How large the claimed bend was: by the reading or obstacle alone, and with what the other attempts let expect.
 * @returns undefined where no bend was recorded
 */
export function sizesOf(
  claim: Claim,
  confidence: number,
): { readonly alone: SizeBetween; readonly together: SizeBetween | undefined } | undefined {
  if (claim.bend === undefined) return undefined;
  const value = Math.abs(claim.bend);
  const half = normalQuantile((1 + confidence) / 2) * claim.uncertainty;
  const { together } = beliefOf(claim);
  return {
    alone: { value, low: value - half, high: value + half },
    together: together && {
      value: together.value,
      low: together.quantile((1 - confidence) / 2),
      high: together.quantile((1 + confidence) / 2),
    },
  };
}

/** The standing in one line: the claim in front of each side with its interval, and who is tied with it. */
export function standingLine(
  sides: readonly SideStanding[],
  claims: readonly Claim[],
  { unit, confidence }: EvidenceRules,
): Said {
  const leads = sides.flatMap(({ side, standing: [first] }) => {
    const sizes = first && sizesOf(first.claim, confidence);
    if (!first || !sizes) return [];
    const { claim, tiedWith } = first;
    const { value, low, high } = sizes.alone;
    const decimals = decimalsFor(claim.uncertainty);
    const shown = (length: number) => fixed(length, decimals);
    const tied = tiedWith.length === 0 ? "" : `, tied with ${listOf(tiedWith)}`;
    return [
      say`${claim.label} has the largest ${side} bend that stands: ${withUnit(shown(value), unit)}, ${confidenceText(confidence)} % interval ${shown(low)} to ${shown(high)}${tied}.`,
    ];
  });
  const sound = claims.filter(({ stands }) => stands).length;
  return leads.length > 0
    ? joinTexts(leads, " ")
    : `${sound} of ${counted(claims.length, "claim")} stands.`.replace(/^0/, "None");
}

/**
 * The verdict on one claim.
 * @param target in the unit of the rules; undefined where none is asked about
 * @param sure probability with which a target is to be reached
 */
export function verdictSentences(
  claim: Claim,
  { unit, confidence }: EvidenceRules,
  target?: number,
  sure = 0.95,
): Said[] {
  const { bend, uncertainty, shows, before, label } = claim;
  if (bend === undefined) return [];
  const decimals = decimalsFor(uncertainty);
  const shown = (length: number) => withUnit(fixed(length, decimals), unit);
  const { aloneOf, together } = beliefOf(claim);
  const both = sizesOf(claim, confidence)?.together;
  const lead =
    shows === "measured"
      ? say`${label} was measured to bend ${shown(Math.abs(bend))}`
      : say`${label} got by an obstacle that asked for ${shown(Math.abs(bend))}`;
  return [
    say`${lead} (standard uncertainty ${withUnit(fixed(uncertainty, decimals), unit)}), ${triesText(claim)}.`,
    ...(before ? [beforeText(claim, before, shown)] : unknownText(claim)),
    ...(both
      ? [
          say`With what was to be expected it bent ${shown(both.value)} (${confidenceText(confidence)} % interval ${fixed(both.low, decimals)} to ${shown(both.high)}).`,
        ]
      : []),
    ...(target === undefined
      ? []
      : [targetText(claim, aloneOf(target), together?.chanceOf(target), shown(target), sure)]),
  ];
}

function beforeText({ bend = 0, shows }: Claim, before: TriesBefore, shown: (length: number) => Said): Said {
  const { asFar, gotBy, expected, all } = before;
  const went =
    asFar === 0
      ? "No attempt before it was asked for as much."
      : `Of ${counted(asFar, "attempt")} before it that ${asFar === 1 ? "was" : "were"} asked for as much, ${gotBy === 0 ? "none" : gotBy} got by.`;
  if ("why" in expected) return `${went} How much luck is in it cannot be told: ${expected.why}.`;
  const one = normalLower((expected.value - Math.abs(bend)) / expected.standard);
  const tries = shows === "measured" ? all : asFar + 1;
  const many =
    tries > 1 ? say`, one of ${tries} or more with ${chanceText(-Math.expm1(tries * Math.log1p(-one)))}` : "";
  return say`${went} By the other ${all - 1} attempts one was expected to bend ${shown(expected.value)}, give or take ${shown(expected.standard)}: as much as this comes with ${chanceText(one)}${many}.`;
}

function unknownText({ tries }: Claim): string[] {
  return [
    tries === undefined || tries > 1
      ? "How those shots scatter is not recorded, so how much luck is in the best of them cannot be told: take the claim from its log of attempts."
      : "How the shooter's shots scatter is not recorded, so what was to be expected cannot be told.",
  ];
}

function targetText({ shows }: Claim, alone: number, together: number | undefined, target: Said, sure: number): Said {
  const chance = together ?? alone;
  const verdict =
    chance >= sure
      ? say`${target} was reached`
      : chance > 1 - sure
        ? say`it is open whether ${target} was reached`
        : say`${target} was not reached`;
  const own =
    shows === "measured"
      ? say`by the reading alone ${chanceText(alone)}`
      : say`that the obstacle asked for so much, by its gap alone, ${chanceText(alone)}`;
  const both = together === undefined ? own : say`the chance is ${chanceText(together)}; ${own}`;
  return say`At the ${chanceText(sure)} asked for ${verdict}: ${both}.`;
}
