/** Next, for a log of attempts: where to set the obstacle, and which setting goes with the farthest bend. */
import { nextSentences, nextSetting, type NextSetting } from "../attempts/nextSetting";
import type { ReachAnswer } from "../attempts/reach";
import { intervalText, lengthText } from "../attempts/lengthWords";
import type { Estimated } from "../../statistics/censored/censoredFit";
import type { Setting } from "../../statistics/fit/designMatrix";
import { extent } from "../../statistics/numeric/extent";
import { convertUnit } from "../language/unitConversion";
import { inSentence, listOf, significant, withUnit } from "../language/wording";

export interface NextAttempts {
  readonly gap: NextSetting;
  /** One per driver, within what the rows hold. */
  readonly best: readonly Setting[];
  /** The bend at one half there; undefined without drivers, or where the rows do not tell. */
  readonly half: Estimated | undefined;
}

/** Most settings are tried so often; more drivers keep theirs. */
const MOST_CORNERS = 4096;

/** From the attempts so far, in the order of the rows. */
export function nextAttempts({ attempts, fit, settings, question }: ReachAnswer): NextAttempts {
  const unit = attempts.unit === "mm" ? "mm" : "in";
  const length = (value: number) => convertUnit(value, attempts.unit, unit);
  const gap = nextSetting(
    {
      bounds: attempts.rows.map(({ bound }) => length(bound)),
      known: attempts.rows.map(({ known }) => known),
    },
    { unit, ballDiameter: length(attempts.ballDiameter), misjudged: question.misjudged ?? 0 },
  );
  const places = fit.question.drivers.map((driver): readonly Setting[] =>
    driver.kind === "category" ? driver.levels.map((_, level) => level) : Object.values(extent(driver.values)),
  );
  const corners = places.reduce<readonly (readonly Setting[])[]>(
    (all, of, index) =>
      all.length * of.length > MOST_CORNERS
        ? all.map((one) => [...one, settings[index] ?? 0])
        : all.flatMap((one) => of.map((place) => [...one, place])),
    [[]],
  );
  // The bend is a sum of straight effects, so it is largest at a corner of what was shot.
  const bend = (at: readonly Setting[]) => fit.surpassed(at, 0.5, false, "standard error")?.estimate ?? -Infinity;
  const best = corners.reduce((one, other) => (bend(other) > bend(one) ? other : one));
  return { gap, best, half: best.length > 0 ? fit.surpassed(best, 0.5) : undefined };
}

/** What to do next, in sentences. */
export function nextAttemptsSentences(answer: ReachAnswer, { gap, best, half }: NextAttempts): string[] {
  const { attempts, columns, fit } = answer;
  const unit = attempts.unit === "mm" ? "mm" : "in";
  const last = attempts.rows[attempts.rows.length - 1];
  const lastGap =
    last && Number.isFinite(last.required)
      ? convertUnit(attempts.ballDiameter / 2 - last.required, attempts.unit, unit)
      : undefined;
  const where = columns.map(({ heading }, index) => {
    const driver = fit.question.drivers[index];
    return driver?.kind === "category"
      ? `${inSentence(heading)} "${driver.levels[best[index] as number] ?? ""}"`
      : `${inSentence(heading)} ${withUnit(significant(best[index] as number, 4), heading.unit)}`;
  });
  return [
    ...nextSentences(gap, unit, lastGap),
    ...(half && half.estimate !== null && where.length > 0
      ? [
          `Within these rows the farthest bend goes with ${listOf(where)}: half of the attempts bend at least ${lengthText(half, attempts.unit)} there (${intervalText(half, attempts.unit, fit.confidence)}). The best of several is partly luck, and what goes together need not be cause and effect: shoot there and see.`,
        ]
      : []),
    "The gap is chosen from all attempts of the log alike; attempts at other settings or in other sessions make it less sharp.",
  ];
}
