/** How far it bends and how surely, in sentences: first the bends, then what moves them, then what cannot be told. */
import { say, listOf, capital, uncapital, type Said } from "../language/said";
import type { Estimated } from "../../statistics/censored/censoredFit";
import type { CategoryDriver, NumberDriver, Setting } from "../../statistics/fit/designMatrix";
import { neverChanges } from "../../statistics/numeric/columnSummary";
import { usualStep, type Sentence } from "../question/answer";
import { noticedSentence, noticedSession, sessionColumn, structureSentences } from "../question/sessions";
import { levelOf } from "../log/reading";
import { counted, inSentence, moreOf, severalOf, significant, withUnit } from "../language/wording";
import { intervalText, lengthText } from "./lengthWords";
import { limitSentences } from "./limitWords";
import { shareOfAttempts } from "./shareWords";
import type { Reach, ReachAnswer } from "./reach";
import { untoldSentences } from "./untoldWords";

/** All sentences in reading order. */
export function reachSentences(answer: ReachAnswer): Sentence[] {
  const { attempts, fit } = answer;
  return [
    ...answer.reach.map((reach) => reachSentence(answer, reach)),
    ...scatterSentences(answer),
    // At one half the scatter of sessions, which is even to both sides, changes nothing.
    ...(answer.newSession ?? [])
      .filter(({ probability }) => probability !== 0.5)
      .map((reach) => newSessionSentence(answer, reach)),
    ...fit.question.drivers.flatMap((driver, index) =>
      driver.kind === "number" ? numberSentence(answer, driver, index) : categorySentences(answer, driver, index),
    ),
    { kind: "summary", text: countsText(answer) },
    ...untoldSentences(answer),
    ...sessionSentences(answer),
    ...limitSentences(answer),
    ...attempts.notes.map((text): Sentence => ({ kind: "caution", text })),
    ...causeSentence(answer),
  ];
}

/** Where the settings are said, to begin a sentence; "" without drivers. */
export function atSettings({ columns, settings, fit, beyond }: ReachAnswer): Said {
  const places = columns.map(({ heading }, index) => {
    const driver = fit.question.drivers[index];
    const setting = settings[index] as Setting;
    return driver?.kind === "category"
      ? `${inSentence(heading)} "${driver.levels[setting as number] ?? ""}"`
      : say`${inSentence(heading)} ${withUnit(significant(setting as number, 4), heading.unit)}`;
  });
  const far = beyond.length > 0 ? ` (no attempt was made so far out in ${listOf(beyond)})` : "";
  return places.length === 0 ? "" : say`At ${listOf(places)}${far} `;
}

function reachSentence(answer: ReachAnswer, reach: Reach): Sentence {
  const { attempts, fit } = answer;
  const lead = say`${atSettings(answer)}${shareOfAttempts(reach.probability)} bend at least`;
  if (reach.estimate === null) return boundSentence(answer, reach, capital(lead));
  const gap =
    reach.gap === null
      ? ""
      : say`; an obstacle that asks for it has a gap of ${lengthText(reach, attempts.unit, reach.gap)}`;
  const session = answer.question.sessions.length > 0 ? " in an average session" : "";
  return {
    kind: "finding",
    text: say`${capital(lead)} ${lengthText(reach, attempts.unit)}${session} (${intervalText(reach, attempts.unit, fit.confidence)})${gap}.`,
  };
}

/** What is said where there is a bound and no figure. */
function boundSentence({ attempts, fit }: ReachAnswer, reach: Reach, lead: Said): Sentence {
  const { low, high } = reach;
  const sure = say`${significant(100 * fit.confidence, 4)} % sure`;
  const what = say`What ${uncapital(lead)}`;
  const end = (value: number | null) => lengthText(reach, attempts.unit, value);
  const text =
    low !== null && high !== null
      ? say`${lead} somewhere from ${end(low)} to ${end(high)} (${sure}); the rows give no single figure.`
      : low !== null
        ? say`${lead} ${end(low)} (${sure}); how much more, the rows do not tell.`
        : high !== null
          ? say`${what} is less than ${end(high)} (${sure}); how much less, the rows do not tell.`
          : say`${what}, the rows do not tell.`;
  return { kind: "open", text };
}

function scatterSentences({ attempts, fit }: ReachAnswer): Sentence[] {
  const { scatter, session } = fit;
  const { unit } = attempts;
  if (scatter.estimate === null) return [];
  const own = say`Single attempts scatter by ${lengthText(scatter, unit)} about that (standard deviation, ${intervalText(scatter, unit, fit.confidence)})`;
  const between =
    session && session.estimate !== null
      ? say`; from session to session it shifts by ${lengthText(session, unit)} (standard deviation over ${counted(session.groups, "session")}, ${intervalText(session, unit, fit.confidence)})`
      : "";
  return [{ kind: "finding", text: say`${own}${between}.` }];
}

function newSessionSentence(answer: ReachAnswer, reach: Reach): Sentence {
  const { attempts, fit } = answer;
  const lead = say`In a session yet to come, ${shareOfAttempts(reach.probability)} bend at least`;
  return reach.estimate === null
    ? boundSentence(answer, reach, lead)
    : {
        kind: "finding",
        text: say`${lead} ${lengthText(reach, attempts.unit)} (${intervalText(reach, attempts.unit, fit.confidence)}).`,
      };
}

function numberSentence(answer: ReachAnswer, driver: NumberDriver, index: number): Sentence[] {
  const { columns, settings, fit } = answer;
  const heading = columns[index]?.heading;
  if (!heading || neverChanges(driver.values)) return [];
  const step = usualStep(driver, heading.unit);
  const moved = settings.map((setting, j) => (j === index ? (setting as number) + step : setting));
  const effect = fit.difference(moved, settings);
  const subject = moreOf(step, heading);
  const verb = heading.unit === "%" && step !== 1 ? "go" : "goes";
  return effect ? [effectSentence(answer, effect, capital(subject), `${verb} with`)] : [];
}

function categorySentences(answer: ReachAnswer, driver: CategoryDriver, index: number): Sentence[] {
  const { columns, settings, fit } = answer;
  const heading = columns[index]?.heading;
  if (!heading) return [];
  return driver.levels.slice(1).flatMap((level, place) => {
    const at = (setting: Setting) => settings.map((other, j) => (j === index ? setting : other));
    const effect = fit.difference(at(place + 1), at(0));
    const subject = `${heading.name} "${level}" against "${driver.levels[0] ?? ""}"`;
    return effect ? [effectSentence(answer, effect, capital(subject), "goes with")] : [];
  });
}

function effectSentence({ attempts, fit }: ReachAnswer, effect: Estimated, subject: Said, verb: string): Sentence {
  const { estimate, low, high } = effect;
  const interval = intervalText(effect, attempts.unit, fit.confidence);
  if (estimate === null)
    return { kind: "open", text: say`${subject}: the rows give no single figure of what goes with it (${interval}).` };
  const told = low !== null && high !== null && low * high > 0;
  const more = estimate < 0 ? "less" : "more";
  const amount = lengthText(effect, attempts.unit, Math.abs(estimate));
  return told
    ? { kind: "finding", text: say`${subject} ${verb} ${amount} ${more} bend (of the difference: ${interval}).` }
    : {
        kind: "open",
        text: say`${subject}: the rows do not tell whether the bend changes; the best guess is ${amount} ${more} (of the difference: ${interval}).`,
      };
}

/** How many rows said what. */
export function countsText({ attempts: { log, rows, counts, leftOut } }: ReachAnswer): string {
  const parts = [
    `${counts.cleared} got by, so the bend was at least what the obstacle asked for`,
    `${counts.hit} hit the obstacle, so it was less`,
    ...(counts.measured > 0 ? [`${counts.measured} measured, and the outcome not used again`] : []),
  ];
  const nothing =
    counts.nothing > 0
      ? ` ${counted(counts.nothing, "attempt")} missed for another reason, which says nothing of the bend.`
      : "";
  const out = leftOut.length > 0 ? ` ${counted(leftOut.length, "row")} left out.` : "";
  return `${rows.length} of ${counted(log.rows.length, "row")} used: ${listOf(parts)}.${nothing}${out}`;
}

/** Which sessions were taken, or that the rows look as if they came in sessions. */
function sessionSentences({ attempts: { log, rows }, question, columns }: ReachAnswer): Sentence[] {
  const used = rows.map(({ index }) => index);
  const caution = (text: string): Sentence => ({ kind: "caution", text });
  if (question.sessions.length > 0)
    return structureSentences(log, sessionColumn(log, question.sessions), columns, used).map(caution);
  const column = log.columns.find((one) => one.meaning === "session" && !columns.includes(one));
  const groups = column && new Set(used.map((index) => levelOf(column.readings[index] ?? { kind: "blank" }))).size;
  if (column && groups !== undefined && groups > 1 && groups < used.length) {
    const name = inSentence(column.heading);
    return [
      caution(
        `The attempts come from ${groups} ${severalOf(name)}, and attempts of one ${name} may go together, which makes these intervals look narrower than they are: name ${name} as what makes a session.`,
      ),
    ];
  }
  const noticed = noticedSession(log, columns, [], used);
  return noticed ? [caution(noticedSentence(noticed))] : [];
}

function causeSentence({ columns }: ReachAnswer): Sentence[] {
  return columns.length === 0
    ? []
    : [
        {
          kind: "caution",
          text: "This says what goes together in these rows, not what causes the bend: a driver that was not set at random may stand for something else that changed with it.",
        },
      ];
}
