/**
 * Whether an answer to what makes a shot can be trusted: enough shots, a curve that fits, predictions of shots left
 * out.
 */
import { say, listOf, capital } from "../language/said";
import type { Setting } from "../../statistics/fit/designMatrix";
import { drawer, shuffled } from "../../statistics/numeric/drawer";
import { logistic, type Logistic } from "../../statistics/fit/logistic";
import { pickRows } from "../../statistics/fit/pickRows";
import { proportion } from "../../statistics/measure/proportion";
import { spread } from "../../statistics/measure/spread";
import { groupings } from "../question/groupings";
import { parseHeading } from "../log/header";
import type { MadeAnalysis } from "../question/madeAnalysis";
import { madeOrder } from "./madeOrder";
import { noticedOrder } from "./orderWithin";
import { orderRemark, type TrustRemark } from "./trustWords";
import { counted, inSentence, severalOf, significant } from "../language/wording";
import { there } from "../../there";

/** Fewer made (or missed) shots per coefficient than this leave intervals from the likelihood doubtful. */
const ENOUGH = 10;
/** Parts of the shots, by their fitted rate, that are held against what was made. */
const PARTS = 5;
/** Fewer sessions than this do not tell a part's rate. */
const LEAST_SESSIONS = 3;
/** Parts that are left out in turn where there are no sessions. */
const FOLDS = 10;
/** So many sessions are left out one by one; more in parts. */
const MOST_SINGLE = 20;
const SEED = 1;

/**
 * All checks, in steps.
 * @param order heading of what says the order of the shots: noticed where it is left out, null for not asked
 * @returns a task that yields the share done
 */
export function* madeTrust(made: MadeAnalysis, order?: string | null): Generator<number, readonly TrustRemark[]> {
  const asked = order === undefined ? noticedOrder(made)?.heading.text : order;
  const remarks = [
    enoughShots(made),
    curveFits(made),
    ...(typeof asked === "string" ? [orderRemark(asked, madeOrder(made, asked).sentences)] : []),
  ];
  yield 0.1;
  const steps = predicts(made);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return [value, ...remarks];
    yield 0.1 + 0.9 * value;
  }
}

const percent = (share: number) => say`${significant(100 * share, 3)} %`;

function enoughShots({ logistic: fit }: MadeAnalysis): TrustRemark {
  const missed = fit.rows - fit.made;
  const [rarer, what] = fit.made < missed ? [fit.made, "made"] : [missed, "not made"];
  const coefficients = fit.terms.filter(({ estimate, drivers }) => estimate !== null && drivers.length > 0).length;
  const few = rarer < ENOUGH * coefficients;
  const separated = fit.method === "penalised likelihood";
  return {
    title: "Are there enough shots?",
    standing: few || separated ? "look" : "good",
    found: [
      `${counted(rarer, `shot was ${what}`, `shots were ${what}`)}, the rarer of the two, for ${counted(coefficients, "coefficient")} beside the constant.`,
      ...(separated
        ? [
            "Some combination of the drivers tells made from missed without exception, so the plain likelihood has no highest point and a penalised one is used.",
          ]
        : []),
    ],
    means: `How much a rate can be told hangs on the rarer outcome. With fewer than about ${ENOUGH} of it per coefficient, estimates tend to be too far from no effect and plain intervals hold only roughly.`,
    ...((few || separated) && { mend: "Ask for fewer drivers, or shoot more where the rarer outcome is likely." }),
  };
}

/** Fitted chance of each row. */
function chances({ design, terms, question }: Logistic): Float64Array {
  const odds = design.columns.map(({ scale }, j) => scale * (there(terms[j], "a term").estimate ?? 0));
  return Float64Array.from({ length: question.made.length }, (_, row) => {
    const settings: Setting[] = question.drivers.map(({ values }) => there(values[row], "a setting"));
    const total = design
      .weights(settings)
      .reduce((sum, [high], j) => sum + high * there(odds[j], "odds of a column"), 0);
    return 1 / (1 + Math.exp(-total));
  });
}

/** Whether shots of like rates were made as often as the fit says. */
export function curveFits(analysis: MadeAnalysis): TrustRemark {
  const { logistic: fit } = analysis;
  const title = "Does the curve fit?";
  const means = `Shots sorted by their fitted rate and cut into ${PARTS} parts; each part's own count against the fitted rate, with intervals that allow for ${PARTS} parts: exact ones, or, where shots of one session go together, by what each session has more or less. It does not show which driver is at fault, and few shots hide much.`;
  if (fit.rows < 5 * PARTS || fit.terms.every(({ drivers, estimate }) => drivers.length === 0 || estimate === null))
    return { title, means, standing: "untold", found: ["There are too few shots, or no driver, to judge this by."] };
  const fitted = chances(fit);
  const order = Array.from(fitted, (_, row) => row).sort(
    (a, b) => there(fitted[a], "a fitted chance") - there(fitted[b], "a fitted chance"),
  );
  const parts = Array.from({ length: PARTS }, (_, part) => {
    const rows = order.slice(
      Math.round((part * order.length) / PARTS),
      Math.round(((part + 1) * order.length) / PARTS),
    );
    return { rows: rows.length, ...partOf(fit, fitted, rows) };
  });
  if (parts.every(({ low, high }) => low === 0 && high === 1))
    return {
      title,
      means,
      standing: "untold",
      found: ["Shots of one session go together, and too few sessions are there to judge a part of the shots by."],
    };
  const off = parts.filter(({ expected, low, high }) => expected < low || expected > high);
  const said = ({ rows, hits, expected, low, high }: (typeof parts)[number]) =>
    say`where ${percent(expected)} was fitted, ${hits} of ${rows} were made (${percent(hits / rows)}, interval ${percent(low)} to ${percent(high)})`;
  return off.length === 0
    ? {
        title,
        means,
        standing: "good",
        found: [
          say`No part of the shots speaks against it: ${listOf(parts.filter((_, part) => part === 0 || part === PARTS - 1).map(said))}.`,
        ],
      }
    : {
        title,
        means,
        standing: "look",
        found: off.map((part) => say`${capital(said(part))}.`),
        mend: "Let a number curve, or ask whether two drivers act together.",
      };
}

/**
 * How many of some shots were made and how many the fit expects, with an interval of their rate: exact where every shot
 * is on its own; where sessions are taken together, Student's t on what each session has more or less than expected.
 */
function partOf({ question: { made, by }, confidence }: Logistic, fitted: Float64Array, rows: readonly number[]) {
  const level = 1 - (1 - confidence) / PARTS;
  const each = rows.map((row) => ({
    outcome: there(made[row], "an outcome"),
    chance: there(fitted[row], "a fitted chance"),
    session: by?.groups[row],
  }));
  const hits = each.reduce((total, { outcome }) => total + outcome, 0);
  const expected = each.reduce((total, { chance }) => total + chance, 0) / rows.length;
  const exact = proportion(hits, rows.length, level);
  if (!by) return { hits, expected, ...exact };
  const over = new Map<number | undefined, number>();
  for (const { outcome, chance, session } of each) over.set(session, (over.get(session) ?? 0) + outcome - chance);
  if (over.size < LEAST_SESSIONS) return { hits, expected, low: 0, high: 1 };
  const { meanInterval } = spread([...over.values()], level);
  const half = ((meanInterval.high - meanInterval.low) / 2) * (over.size / rows.length);
  const rate = hits / rows.length;
  // Sessions that happen to agree, as counts of few shots do, make it no surer than shots on their own.
  const [low, high] = [Math.min(exact.low, rate - half), Math.max(exact.high, rate + half)];
  return { hits, expected, low: Math.max(0, low), high: Math.min(1, high) };
}

/** Shots left out in turn, whole sessions where a column says so, and predicted from the rest. */
function* predicts(analysis: MadeAnalysis): Generator<number, TrustRemark> {
  const title = "How well does it predict?";
  const means = say`The rate is fitted without some shots and held against whether they were made; ${0.25} is what tossing a coin brings, 0 would be a seer. It says nothing of tables, cloths or settings that are not in the log.`;
  const { folds, place, how } = foldsOf(analysis);
  if (analysis.columns.length === 0 || folds < 2)
    return { title, means, standing: "untold", found: ["Without a driver every shot is predicted alike."] };
  const missed = { judged: 0, squares: 0, flat: 0 };
  for (let fold = 0; fold < folds; fold++) {
    yield fold / folds;
    const one = missedBy(analysis.logistic.question, place, fold);
    missed.judged += one.judged;
    missed.squares += one.squares;
    missed.flat += one.flat;
  }
  const { judged, squares, flat } = missed;
  if (judged === 0) return { title, means, standing: "untold", found: ["No shot can be predicted from the others."] };
  const helps = squares < flat;
  return {
    title,
    means,
    standing: helps ? "told" : "look",
    found: [
      say`Predicted with ${how} left out, ${counted(judged, "shot")} are missed by ${significant(squares / judged, 3)} (mean square); the others' overall rate alone misses by ${significant(flat / judged, 3)}. ${helps ? say`The drivers take up ${significant(100 * (1 - squares / flat), 2)} % of that.` : "These drivers do not help to predict."}`,
    ],
    ...(!helps && { mend: "Look for a driver that is missing, or shoot over a wider range of each." }),
  };
}

/** Which shots are left out together, by row, and how that is said. */
function foldsOf(analysis: MadeAnalysis): { readonly folds: number; readonly place: number[]; readonly how: string } {
  const { question, rows } = analysis.logistic;
  const by = question.by ?? groupings(analysis)[0]?.by;
  if (!by) {
    const folds = Math.min(FOLDS, rows);
    const inTurn = Array.from({ length: rows }, (_, row) => row % folds);
    return { folds, place: shuffled(inTurn, drawer(SEED)), how: `a tenth of the shots at a time (seed ${SEED})` };
  }
  const several = severalOf(inSentence(parseHeading(by.name)));
  const single = by.levels.length <= MOST_SINGLE;
  const folds = single ? by.levels.length : Math.min(FOLDS, rows);
  return {
    folds,
    place: Array.from(by.groups, (group) => group % folds),
    how: single ? `one of ${folds} ${several} at a time` : `a tenth of the ${several} at a time`,
  };
}

/** By how much the shots of one fold are missed: by the fit of the others, and by their overall rate alone. */
function missedBy(
  question: Logistic["question"],
  place: readonly number[],
  fold: number,
): { readonly judged: number; readonly squares: number; readonly flat: number } {
  const kept: number[] = [];
  const left: number[] = [];
  place.forEach((one, row) => (one === fold ? left : kept).push(row));
  const hits = kept.reduce((total, row) => total + there(question.made[row], "an outcome"), 0);
  const chanceOf = fittedWith(question, kept);
  let [judged, squares, flat] = [0, 0, 0];
  for (const row of left) {
    const chance = chanceOf?.(row);
    if (chance === undefined) continue;
    const made = there(question.made[row], "an outcome");
    squares += (made - chance) ** 2;
    flat += (made - hits / kept.length) ** 2;
    judged++;
  }
  return { judged, squares, flat };
}

/**
 * The chance of a row by the fit of some rows; undefined for a level that the fit never saw, and no function where
 * those rows give no fit.
 */
function fittedWith(
  question: Logistic["question"],
  kept: readonly number[],
): ((row: number) => number | undefined) | undefined {
  const { made, drivers, joint = [], constant = true } = question;
  const picked = pickRows({ response: made, drivers, ...(question.joint && { joint }) }, kept);
  let found: Logistic;
  try {
    found = logistic({ made: picked.response, drivers: picked.drivers, joint, constant });
  } catch (problem) {
    if (problem instanceof RangeError) return undefined;
    throw problem;
  }
  const odds = found.design.columns.map(({ scale }, j) => scale * (there(found.terms[j], "a term").estimate ?? 0));
  return (row) => {
    const settings = picked.drivers.map((driver, j): Setting =>
      driver.kind === "number"
        ? there(drivers[j]?.values[row], "a setting")
        : driver.levels.indexOf(levelAt(question, j, row)),
    );
    if (picked.drivers.some(({ kind }, j) => kind === "category" && settings[j] === -1)) return undefined;
    const weights = found.design.weights(settings);
    const sum = weights.reduce((total, [high], j) => total + high * there(odds[j], "odds of a column"), 0);
    return 1 / (1 + Math.exp(-sum));
  };
}

function levelAt({ drivers }: Logistic["question"], index: number, row: number): string {
  const driver = there(drivers[index], "a driver");
  return driver.kind === "category"
    ? there(driver.levels[there(driver.values[row], "a level's place")], "a level")
    : "";
}
