/** Where to set the obstacle next: a pure function of the attempts so far, in steps that the ruler has. */
import { say, type Said } from "../language/said";
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import type { Known } from "../../statistics/censored/censoredFit";
import { nextBound, type Believed, type NextBound } from "../../statistics/censored/nextBound";
import { convertUnit } from "../language/unitConversion";
import { counted, significant, withUnit } from "../language/wording";
import { asRead } from "../../bank/ruler";

/** What is told of the attempts, in the order in which they were made. */
export interface AttemptsSoFar {
  /** What each obstacle asked for, or the measured bend. */
  readonly bounds: readonly number[];
  readonly known: readonly Known[];
}

/** The attempts of this session, and those of the one before, which say where to begin. */
export interface AttemptsOfSession extends AttemptsSoFar {
  readonly before?: AttemptsSoFar;
}

export interface NextChoice {
  readonly unit: "in" | "mm";
  /** The ruler's division, in the unit; 1/32 in or 1 mm when left out. */
  readonly step?: number;
  /** The chance whose bend is looked for; one half when left out. */
  readonly probability?: number;
  /** In the unit; the standard ball when left out. */
  readonly ballDiameter?: number;
  /** Share of attempts whose outcome is misjudged; none when left out. */
  readonly misjudged?: number;
}

export interface NextSetting {
  /** A whole number of steps. */
  readonly gap: number;
  readonly required: number;
  /** The chance to get by there, as far as is known. */
  readonly chance: number;
  /** The bend that is looked for, where it is believed in most, and the standard deviation of that belief. */
  readonly bend: number;
  readonly spread: number;
  /** How many more attempts about halve that. */
  readonly toHalve: number;
}

/**
 * How attempts scatter, before any: about 2 mm, up to a factor of three either way (two of these spreads; common
 * practice, no source). The bend itself may be all that an obstacle can ask for, from none to a ball's radius.
 */
const SCATTER = { metres: 0.002, logSpread: 0.6 } as const;

/**
 * How far a session may lie off the one before, in scatters of an attempt, and how much the logarithm of the scatter
 * may change; common practice, no source. Little, so that a few attempts outweigh it.
 */
const SESSIONS_APART = { location: 1.5, logScatter: 0.3 } as const;

/** The ruler's division that is usual. @example rulerStep("mm") === 1 */
export function rulerStep(unit: NextChoice["unit"]): number {
  return unit === "in" ? 1 / 32 : 1;
}

/**
 * The gap after whose attempt the bend is expected to be known best (see statistics/censored/nextBound.ts). What the
 * session before told of bend and scatter is where it begins.
 * @throws RangeError for a step that is not above 0
 */
export function nextSetting(
  { before, ...attempts }: AttemptsOfSession,
  {
    unit,
    step = rulerStep(unit),
    probability = 0.5,
    ballDiameter = STANDARD_BALL_DIAMETER[unit],
    misjudged = 0,
  }: NextChoice,
): NextSetting {
  const asked = {
    step,
    origin: ballDiameter / 2,
    // From one step more than a straight ball needs, to where the obstacle would stand past the far side of a ball.
    least: Math.min(step, ballDiameter / 2),
    most: ballDiameter - step,
    misjudged,
  };
  const anew: Believed = {
    low: 0,
    high: ballDiameter / 2,
    scatter: convertUnit(SCATTER.metres, "m", unit),
    logSpread: SCATTER.logSpread,
  };
  const believed =
    before && before.bounds.length > 0 ? afterSession(nextBound({ ...asked, ...before, before: anew }), anew) : anew;
  const next = nextBound({ ...asked, ...attempts, probability, before: believed });
  // A whole number of steps, without the rounding of their sum.
  const gap = Math.round((ballDiameter / 2 - next.bound) / step) * step;
  return {
    gap,
    required: ballDiameter / 2 - gap,
    chance: next.chance,
    bend: next.value,
    spread: next.spread,
    toHalve: next.toHalve,
  };
}

/** What is believed at the beginning of a session, by what the one before told of the bend at one half. */
function afterSession({ value, spread, scatter: told }: NextBound, anew: Believed): Believed {
  return {
    ...anew,
    scatter: told.scatter,
    logSpread: Math.hypot(told.logSpread, SESSIONS_APART.logScatter),
    about: { location: value, spread: Math.hypot(spread, SESSIONS_APART.location * told.scatter) },
  };
}

/** Few enough to be worth saying as a number. */
const MANY = 200;

/**
 * What to do now, in words: where, whether that is closer or back, and how many more attempts are worth it.
 * @param last gap of the last attempt; undefined before the first
 */
export function nextSentences(next: NextSetting, unit: NextChoice["unit"], last: number | undefined): Said[] {
  const gap = withUnit(unit === "in" ? asRead(next.gap) : significant(next.gap, 4), unit);
  const percent = say`${significant(100 * next.chance, 2)} %`;
  const move =
    last === undefined
      ? say`Set the gap to ${gap} first`
      : Math.abs(last - next.gap) < 1e-9
        ? say`Leave the gap at ${gap}`
        : next.gap < last
          ? say`Closer: set the gap to ${gap}`
          : say`Back: set the gap to ${gap}; closer, a hit would teach nothing new`;
  const stop =
    next.toHalve > MANY
      ? "More attempts hardly narrow what is known."
      : `${counted(next.toHalve, "more attempt")} would about halve what is open.`;
  return [say`${move} (about ${percent} get by there).`, stop];
}
