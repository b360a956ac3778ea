/** What few sessions, a coarse ruler and misjudged outcomes do to the answer, in sentences with their figures. */
import { say, listOf, type Said, saysSame } from "../language/said";
import { asRead } from "../../bank/ruler";
import { censoredFit, type CensoredFit } from "../../statistics/censored/censoredFit";
import { studentQuantile } from "../../statistics/distributions/distributions";
import type { Sentence } from "../question/answer";
import { counted, fixed, measured, significant, withUnit } from "../language/wording";
import { lengthText } from "./lengthWords";
import type { ReachAnswer } from "./reach";
import { shareOfAttempts } from "./shareWords";

/** From so many sessions on they hardly widen an interval. */
const MANY_SESSIONS = 10;
/** What a light touch that nobody sees may come to; common practice, no source. */
const LIGHT_TOUCH = 0.02;
/** A second fit of more rows takes longer than it is worth. */
const MOST_ROWS = 2000;

/** One sentence for each that applies; none where the attempts give no figures. */
export function limitSentences(answer: ReachAnswer): Sentence[] {
  return [...sessionsText(answer), ...rulerText(answer), ...misjudgedText(answer)].map((text): Sentence => ({
    kind: "caution",
    text,
  }));
}

function sessionsText({ fit, attempts }: ReachAnswer): Said[] {
  const groups = fit.session?.groups ?? 0;
  if (groups < 3 || groups >= MANY_SESSIONS || fit.untold.length > 0) return [];
  const wider = studentQuantile(fit.confidence, groups - 1) / studentQuantile(fit.confidence, 1e6);
  return [
    say`The intervals rest on ${counted(groups, "session")} rather than on ${counted(attempts.rows.length, "attempt")}, which makes them about ${significant(wider, 2)} times as wide as many sessions would: another session narrows them more than more attempts in one.`,
  ];
}

/** Divisions that rulers have, the coarsest first. */
const DIVISIONS = { in: [1, 1 / 2, 1 / 4, 1 / 8, 1 / 16, 1 / 32, 1 / 64], mm: [10, 5, 1, 0.5], cm: [1, 0.5, 0.1] };

/** The coarsest division of which every gap is a whole number; undefined where there is none, or too few gaps. */
export function divisionOf(gaps: readonly number[], unit: keyof typeof DIVISIONS): number | undefined {
  if (new Set(gaps).size < 3) return undefined;
  return DIVISIONS[unit].find((division) =>
    gaps.every((gap) => Math.abs(gap / division - Math.round(gap / division)) < 1e-6),
  );
}

function rulerText({ fit, attempts: { rows, unit, ballDiameter } }: ReachAnswer): Said[] {
  const scatter = fit.scatter.estimate;
  const gaps = rows.flatMap(({ required, known }) => (known === "value" ? [] : [ballDiameter / 2 - required]));
  const division = divisionOf(gaps, unit);
  if (scatter === null || division === undefined) return [];
  // An error that is even over one division: JCGM 100:2008, 4.3.7.
  const error = division / Math.sqrt(12);
  const said = withUnit(unit === "in" ? asRead(division) : significant(division, 2), unit);
  const lead = say`Gaps are written in whole ${said}; were each off by up to half of that, it would add ${withUnit(measured(error, 2), unit)} (standard deviation)`;
  const rest = scatter ** 2 - error ** 2;
  if (rest < scatter ** 2 / 4)
    return [
      say`${lead}, as much as the scatter of ${lengthText(fit.scatter, unit)} itself: read the gap finer before the scatter is believed.`,
    ];
  const inUnit = (one: number) => withUnit(measured(one, 3), unit);
  const [own, seen] = [inUnit(Math.sqrt(rest)), inUnit(scatter)];
  if (saysSame(own, seen)) return [say`${lead}, too little beside the scatter of ${seen} to change it.`];
  return [say`${lead}, and the ball's own scatter would be ${own} rather than ${seen}; the bend at one half stays.`];
}

/** The answer beside that of another share of misjudged outcomes. */
function misjudgedText(answer: ReachAnswer): Said[] {
  const { fit, question, attempts } = answer;
  const { misjudged = 0 } = question;
  if (attempts.rows.length > MOST_ROWS || attempts.counts.cleared + attempts.counts.hit === 0) return [];
  const other = bendsOf(answer, censoredFit({ ...fit.question, misjudged: misjudged > 0 ? 0 : LIGHT_TOUCH }));
  const own = bendsOf(answer, fit);
  if (own.every(({ bend }) => bend === null)) return [];
  const lead =
    misjudged > 0
      ? say`${significant(100 * misjudged, 3)} % of the outcomes are taken to be misjudged. Were none,`
      : `Outcomes are taken as they were seen. Were ${100 * LIGHT_TOUCH} % of them misjudged, as a light touch is,`;
  const decimals = attempts.unit === "in" ? 3 : 1;
  const moved = own.some(({ bend }, index) => Math.abs((bend ?? 0) - (other[index]?.bend ?? NaN)) >= 10 ** -decimals);
  if (!moved && other.every(({ bend }) => bend !== null)) return [say`${lead} the bends would stay as they are.`];
  const told = own.flatMap(({ share, bend }, index) => {
    const then = other[index]?.bend ?? null;
    if (bend === null || then === null) return [];
    const inUnit = (one: number) => withUnit(fixed(one, decimals), attempts.unit);
    const [there, here] = [inUnit(then), inUnit(bend)];
    return saysSame(there, here)
      ? [say`${share} would bend at least ${here} as before`]
      : [say`${share} would bend at least ${there} rather than ${here}`];
  });
  return [told.length > 0 ? say`${lead} ${listOf(told)}.` : say`${lead} the attempts would give no single figure.`];
}

function bendsOf({ settings, question }: ReachAnswer, fit: CensoredFit) {
  return question.probabilities.map((probability) => ({
    share: shareOfAttempts(probability),
    bend: fit.surpassed(settings, probability, false, "standard error")?.estimate ?? null,
  }));
}
