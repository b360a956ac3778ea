/** Next, for a log of attempts: where to set the obstacle, and which setting goes with the farthest bend. */
import { say, listOf, type Said } from "../language/said";
import { nextSentences, nextSetting, type NextSetting } from "../attempts/nextSetting";
import type { ReachAnswer } from "../attempts/reach";
import { intervalText, lengthText } from "../attempts/lengthWords";
import type { Estimated } from "../../statistics/censored/censoredFit";
import type { Driver, Setting } from "../../statistics/fit/designMatrix";
import { extent } from "../../statistics/numeric/extent";
import { convertUnit } from "../language/unitConversion";
import { inSentence, significant, withUnit } from "../language/wording";
import { refuseReversed, type NextWish } from "./whatNext";

export interface NextAttempts {
  readonly gap: NextSetting;
  /** One per driver, within what may change. */
  readonly best: readonly Setting[];
  /** Headings of the drivers that may change. */
  readonly free: readonly string[];
  /** Headings of the drivers whose best setting lies beyond all rows. */
  readonly beyond: readonly string[];
  /** The bend at one half there; undefined without drivers, or where the rows do not tell. */
  readonly half: Estimated | undefined;
}

/** Most settings are tried so often; more drivers keep theirs. */
const MOST_CORNERS = 4096;

/**
 * From the attempts so far, in the order of the rows.
 * @param wish what may be set, and within which limits; what is held stays
 * @throws RangeError naming a limit that is reversed, or a value that no row has
 */
export function nextAttempts(
  { attempts, fit, settings, question }: ReachAnswer,
  wish: Pick<NextWish, "limits" | "held">,
): NextAttempts {
  const unit = attempts.unit === "mm" ? "mm" : "in";
  const length = (value: number) => convertUnit(value, attempts.unit, unit);
  const gap = nextSetting(
    {
      bounds: attempts.rows.map(({ bound }) => length(bound)),
      known: attempts.rows.map(({ known }) => known),
    },
    { unit, ballDiameter: length(attempts.ballDiameter), misjudged: question.misjudged ?? 0 },
  );
  const headings = question.drivers.map(({ heading }) => heading);
  const free = headings.filter((heading) => Object.hasOwn(wish.limits, heading));
  refuseReversed(wish, free);
  const places = fit.question.drivers.map((driver, index) =>
    placesOf(driver, headings[index] ?? "", settings[index] ?? 0, wish),
  );
  const corners = places.reduce<readonly (readonly Setting[])[]>(
    (all, of, index) =>
      all.length * of.length > MOST_CORNERS
        ? all.map((one) => [...one, settings[index] ?? 0])
        : all.flatMap((one) => of.map((place) => [...one, place])),
    [[]],
  );
  // The bend is a sum of straight effects, so it is largest at a corner of what may be set.
  const bend = (at: readonly Setting[]) => fit.surpassed(at, 0.5, false, "standard error")?.estimate ?? -Infinity;
  const best = corners.reduce((one, other) => (bend(other) > bend(one) ? other : one));
  const beyond = headings.filter((_, index) => {
    const driver = fit.question.drivers[index];
    if (driver?.kind !== "number") return false;
    const { low, high } = extent(driver.values);
    return Number(best[index]) < low || Number(best[index]) > high;
  });
  return { gap, best, free, beyond, half: best.length > 0 ? fit.surpassed(best, 0.5) : undefined };
}

/** Where a driver may be set: at the ends of its limits, or as it is now. */
function placesOf(
  driver: Driver,
  heading: string,
  usual: Setting,
  { limits, held }: Pick<NextWish, "limits" | "held">,
): readonly Setting[] {
  const side = limits[heading];
  if (side && driver.kind === "number") return [side.low, side.high];
  const now = held[heading];
  if (driver.kind === "number") return [typeof now === "number" ? now : usual];
  if (now === undefined || now === "") return [usual];
  const level = driver.levels.indexOf(String(now));
  if (level < 0) throw new RangeError(`${heading} is "${now}" now, which no row has: choose one that was shot`);
  return [level];
}

/** What to do next, in sentences. */
export function nextAttemptsSentences(answer: ReachAnswer, next: NextAttempts): Said[] {
  const { gap } = next;
  const { attempts } = answer;
  const unit = attempts.unit === "mm" ? "mm" : "in";
  const last = attempts.rows[attempts.rows.length - 1];
  const lastGap =
    last && Number.isFinite(last.required)
      ? convertUnit(attempts.ballDiameter / 2 - last.required, attempts.unit, unit)
      : undefined;
  return [
    ...nextSentences(gap, unit, lastGap),
    ...farthestSentences(answer, next),
    "The gap is chosen from all attempts of the log alike; attempts at other settings or in other sessions make it less sharp.",
  ];
}

/** Which setting goes with the farthest bend, and how far that can be believed. */
function farthestSentences(
  { attempts, columns, fit }: ReachAnswer,
  { best, half, free, beyond }: NextAttempts,
): Said[] {
  if (columns.length === 0 || !half || half.estimate === null) return [];
  const where = columns.map(({ heading }, index) => {
    const driver = fit.question.drivers[index];
    return driver?.kind === "category"
      ? `${inSentence(heading)} "${driver.levels[best[index] as number] ?? ""}"`
      : say`${inSentence(heading)} ${withUnit(significant(best[index] as number, 4), heading.unit)}`;
  });
  const far = say`half of the attempts bend at least ${lengthText(half, attempts.unit)} there (${intervalText(half, attempts.unit, fit.confidence)})`;
  if (free.length === 0)
    return [
      say`As it is set now, ${listOf(where)}, ${far}. Let a setting change within limits to see what goes with more.`,
    ];
  return [
    say`Within what may change the farthest bend goes with ${listOf(where)}: ${far}. The best of several is partly luck, and what goes together need not be cause and effect: shoot there and see.`,
    ...(beyond.length > 0
      ? [`No attempt was made so far out in ${listOf(beyond)}: there the line is drawn beyond what it was drawn from.`]
      : []),
  ];
}
