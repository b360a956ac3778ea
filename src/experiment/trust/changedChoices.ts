/**
 * What the answer would be if something else had been chosen: drivers, curves, how shots go together, which rows count.
 */
import { say, listOf, capital, type Said } from "../language/said";
import { middleSettings } from "../../statistics/fit/adjustedMeans";
import type { ErrorModel } from "../../statistics/errors/errorModel";
import { influence } from "../../statistics/checks/influence";
import { pickRows } from "../../statistics/fit/pickRows";
import { regress, type Regression } from "../../statistics/fit/regression";
import { analyse, NoAnswer, type Analysis } from "../question/analysis";
import { asDriver, headingsOf, possibleDrivers, withoutDriver, type Choice } from "../question/choice";
import { effectIn, effectsOf, type Effect } from "../question/driverEffects";
import { groupings } from "../question/groupings";
import { sessionColumn, togetherBy } from "../question/sessions";
import { analyseMade, type MadeAnalysis } from "../question/madeAnalysis";
import { levelOf } from "../log/reading";
import { UnknownColumn } from "../question/rowCheck";
import type { LogColumn, TrialLog } from "../log/trialLog";
import { counted } from "../language/wording";
import { there } from "../../there";

export interface EffectInterval {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
}

export interface ChangedRow {
  readonly change: string;
  /** Rows used. */
  readonly rows: number;
  /** One per effect; undefined where it is no part of the question, or the rows do not determine it. */
  readonly effects: readonly (EffectInterval | undefined)[];
  /** Why there is no answer at all. */
  readonly problem?: string;
}

export interface ChangedChoices {
  readonly effects: readonly Effect[];
  /** What an effect is when there is none: 0 for a difference, 1 for a ratio. */
  readonly none: 0 | 1;
  /** In what effects are measured. */
  readonly unit: string;
  /** As asked first, then one row per choice that could have been made otherwise. */
  readonly rows: readonly ChangedRow[];
}

/** A category with more levels than this is not added on trial. */
const MOST_LEVELS = 12;

/** A choice that could have been made otherwise. */
interface Otherwise {
  readonly change: string;
  readonly choice: Choice;
}

/** The choices of drivers that could have been made otherwise, for any kind of question. */
function otherDrivers(log: TrialLog, choice: Choice, columns: readonly LogColumn[]): Otherwise[] {
  const { drivers, joint } = choice;
  const name = (heading: string) => columns.find((column) => column.heading.text === heading)?.heading.name ?? heading;
  const without = (heading: string) => ({
    ...choice,
    drivers: withoutDriver(drivers, heading),
    joint: joint.filter((pair) => !pair.includes(heading)),
  });
  const asked = new Set(drivers.map(({ heading }) => heading));
  const grouped = [...headingsOf(choice.scatter), ...(choice.sessions ?? [])];
  const more = possibleDrivers(log, choice.response).filter((column) => {
    if (
      asked.has(column.heading.text) ||
      grouped.includes(column.heading.text) ||
      column.heading.text === choice.weight ||
      ["session", "date", "balls"].includes(column.meaning ?? "")
    )
      return false;
    return (
      column.kind === "number" ||
      (column.kind === "category" && new Set(column.readings.map(levelOf)).size <= MOST_LEVELS)
    );
  });
  return [
    ...drivers.map(({ heading }) => ({ change: `Without ${name(heading)}`, choice: without(heading) })),
    ...drivers
      .filter(({ as }) => as === "number")
      .map((driver) => ({
        change: driver.degree > 1 ? `${name(driver.heading)} straight` : `${name(driver.heading)} with a bow`,
        choice: {
          ...choice,
          drivers: drivers.map((one) => (one === driver ? { ...one, degree: driver.degree > 1 ? 1 : 2 } : one)),
        },
      })),
    ...joint.map((pair) => ({
      change: `${listOf(pair.map(name))} not acting together`,
      choice: { ...choice, joint: joint.filter((one) => one !== pair) },
    })),
    ...more.map((column) => ({
      change: `With ${column.heading.name} too`,
      choice: { ...choice, drivers: [...drivers, asDriver(column)] },
    })),
  ];
}

/** The other ways in which shots may go together. */
function otherScatter(analysis: Analysis): Otherwise[] {
  const { scatter: asked, weight, ...plain } = analysis.choice;
  const weighed = weight === undefined ? {} : { weight };
  const named = headingsOf(asked);
  const own = named.length > 0 ? sessionColumn(analysis.log, named) : undefined;
  const others = groupings(analysis).flatMap(({ column }) =>
    column.heading.text === own?.heading.text ? [] : [column],
  );
  const columns = [...(own ? [own] : []), ...others].slice(0, 2);
  const choice = { ...plain, ...weighed };
  return [
    ...(asked ? [{ change: "Every shot on its own", choice }] : []),
    ...(asked?.as === "robust"
      ? []
      : [
          {
            change: "Some shots scattering more than others",
            choice: { ...choice, scatter: { as: "robust" as const } },
          },
        ]),
    ...columns.flatMap((column) => {
      const same = column === own ? asked?.as : undefined;
      const heading = column.heading.text;
      return [
        // A random shift and weights cannot be asked together.
        ...(same === "random" || weight !== undefined
          ? []
          : [
              {
                change: `Each ${heading} shifted by a random amount`,
                choice: { ...choice, scatter: togetherBy("random", column) },
              },
            ]),
        ...(same === "cluster"
          ? []
          : [
              {
                change: `Shots of one ${heading} together in any way`,
                choice: { ...choice, scatter: togetherBy("cluster", column) },
              },
            ]),
      ];
    }),
    ...(weight === undefined
      ? []
      : [{ change: "All rows alike, without weights", choice: { ...plain, ...(asked && { scatter: asked }) } }]),
  ];
}

/**
 * Effects as they may stand beside the answer: where its sessions allow no interval, counting shots on their own must
 * not bring one back.
 * @param free whether these effects have sessions in mind themselves, or the answer lacks its intervals for another
 * reason
 */
function noSurerThan(asked: ChangedRow["effects"], found: ChangedRow["effects"], free: boolean): ChangedRow["effects"] {
  if (free) return found;
  return found.map((effect, index) =>
    effect && asked[index] && asked[index].low === null ? { ...effect, low: null, high: null } : effect,
  );
}

function isGrouped(errors: ErrorModel | undefined): boolean {
  return errors !== undefined && errors.kind !== "robust";
}

function answerOr(change: string, fit: () => ChangedRow): ChangedRow {
  try {
    return fit();
  } catch (problem) {
    if (problem instanceof NoAnswer || problem instanceof UnknownColumn || problem instanceof RangeError)
      return { change, rows: 0, effects: [], problem: problem.message };
    throw problem;
  }
}

/** Every choice of the question changed in turn, the rest as asked; a step per choice. */
export function* changedChoices(analysis: Analysis): Generator<number, ChangedChoices> {
  const { log, choice, columns, regression, check, sheetRows, response } = analysis;
  const effects = effectsOf(regression.question.drivers, columns, middleSettings(regression), true);
  const measured = (fit: Regression) =>
    effects.map((effect): EffectInterval | undefined => {
      const found = effectIn(fit, effect);
      return found && { value: found.value, low: found.low, high: found.high };
    });
  const own = measured(regression);
  const beside = (fit: Regression) =>
    noSurerThan(own, measured(fit), regression.residual.sd === null || isGrouped(fit.question.errors));
  const rows: ChangedRow[] = [{ change: "As asked", rows: regression.rows, effects: own }];
  const others = [...otherDrivers(log, choice, columns), ...otherScatter(analysis)];
  const doubtful = new Set(check.suspicious.map(({ row }) => row));
  const kept = (leave: (index: number) => boolean) => sheetRows.flatMap((_, index) => (leave(index) ? [] : [index]));
  const fewer: { change: string; rows: () => number[] }[] = [
    ...(doubtful.size > 0
      ? [
          {
            change: `Without the ${counted(doubtful.size, "row")} worth a look`,
            rows: () => kept((index) => doubtful.has(there(sheetRows[index], "a row of the sheet"))),
          },
        ]
      : []),
    {
      change: "Without the row that pulls hardest",
      rows: () => {
        const hardest = influence(regression).reduce((a, b) => (b.distance > a.distance ? b : a)).row;
        return kept((index) => index === hardest);
      },
    },
  ];
  const total = others.length + fewer.length;
  for (const other of others) {
    yield rows.length / (total + 1);
    rows.push(
      answerOr(other.change, () => {
        const { regression: fit } = analyse(log, other.choice);
        return { change: other.change, rows: fit.rows, effects: beside(fit) };
      }),
    );
  }
  for (const { change, rows: left } of fewer) {
    yield rows.length / (total + 1);
    rows.push(
      answerOr(change, () => {
        const fit = regress(pickRows(regression.question, left()));
        return { change, rows: fit.rows, effects: beside(fit) };
      }),
    );
  }
  return { effects, none: 0, unit: response.heading.unit, rows };
}

/** The same for what makes a shot; effects are ratios of the odds of making it. */
export function* changedMade(made: MadeAnalysis): Generator<number, ChangedChoices> {
  const { log, choice, columns, logistic } = made;
  const centre = logistic.question.drivers.map((driver) => (driver.kind === "category" ? ("even" as const) : 0));
  const effects = effectsOf(logistic.question.drivers, columns, centre, false);
  const measured = ({ logistic: fit, columns: own }: MadeAnalysis) =>
    effects.map(({ heading, from, to }): EffectInterval | undefined => {
      const index = own.findIndex((column) => column.heading.text === heading);
      const driver = fit.question.drivers[index];
      if (!driver || (fit.question.joint ?? []).some((pair) => pair.includes(index))) return undefined;
      const terms = fit.terms.filter((term) => term.drivers.length === 1 && term.drivers[0] === index);
      const [term, step] =
        driver.kind === "number"
          ? [driver.degree === 1 ? terms[0] : undefined, Number(to) - Number(from)]
          : [driver.levels[0] === from ? terms[driver.levels.indexOf(String(to)) - 1] : undefined, 1];
      if (!term || term.estimate === null) return undefined;
      const ratio = (value: number | null) => (value === null ? null : Math.exp(value * step));
      return { value: Math.exp(term.estimate * step), low: ratio(term.low), high: ratio(term.high) };
    });
  const own = measured(made);
  const bare = logistic.terms.some(({ estimate, standardError }) => estimate !== null && standardError === null);
  const rows: ChangedRow[] = [{ change: "As asked", rows: logistic.rows, effects: own }];
  const { scatter, ...plain } = choice;
  const others = [
    ...otherDrivers(log, choice, columns),
    ...(scatter
      ? [{ change: "Every shot on its own", choice: plain }]
      : groupings(made)
          .slice(0, 2)
          .map(({ column }) => ({
            change: `Shots of one ${column.heading.text} together in any way`,
            choice: { ...plain, scatter: togetherBy("cluster", column) },
          }))),
  ];
  for (const { change, choice: other } of others) {
    yield rows.length / (others.length + 1);
    rows.push(
      answerOr(change, () => {
        const found = analyseMade(log, other);
        const effects = noSurerThan(own, measured(found), !bare || found.logistic.question.by !== undefined);
        return { change, rows: found.logistic.rows, effects };
      }),
    );
  }
  return { effects, none: 1, unit: "", rows };
}

/** Whether an interval says which way; undefined where there is none. */
function wayOf(effect: EffectInterval | undefined, none: number): "more" | "less" | "open" | undefined {
  if (!effect || effect.low === null || effect.high === null) return undefined;
  return effect.low > none ? "more" : effect.high < none ? "less" : "open";
}

/**
 * Whether one effect hangs on a choice, in words that are no surer than the intervals.
 * @param effect index of the effect
 */
export function changedSentences({ effects, rows, none }: ChangedChoices, effect: number): Said[] {
  const { name } = there(effects[effect], "an effect");
  const [asked, ...others] = rows.map((row) => ({
    change: row.change,
    found: row.effects[effect],
    way: wayOf(row.effects[effect], none),
  }));
  const judged = others.filter(({ way }) => way !== undefined);
  const named = (list: readonly { change: string }[]) => listOf(list.map(({ change }) => `"${change}"`));
  const as = capital(name);
  if (!asked?.way)
    return [say`${as}: the question as asked gives no interval, so there is nothing to hold the others against.`];
  if (judged.length === 0) return [say`${as}: no other choice gives an interval.`];
  const against = judged.filter(({ way }) => way !== "open" && asked.way !== "open" && way !== asked.way);
  const open = judged.filter(({ way }) => way === "open");
  const told = judged.filter(({ way }) => way !== "open");
  const tail = `These are ${judged.length} ways that come to mind, not all there are, and their intervals hold one at a time.`;
  const away = none === 0 ? "on the same side of 0" : "on the same side of 1";
  if (against.length > 0)
    return [
      say`${as}: the answer turns round under ${named(against)}. As long as it is not clear which is right, nothing can be said of the direction.`,
      tail,
    ];
  if (asked.way === "open") {
    return told.length === 0
      ? [say`${as}: none of the other choices tells the direction either.`, tail]
      : [
          say`${as}: as asked the rows do not tell the direction; under ${named(told)} they would. Whoever chooses among ${judged.length + 1} ways finds such a one easily, so take it as a question for new shots, not as an answer.`,
          tail,
        ];
  }
  if (open.length > 0)
    return [
      say`${as}: the answer hangs on a choice. Under ${named(open)} the interval leaves the direction open.`,
      tail,
    ];
  return [
    say`${as}: with every other choice the interval stays ${away}. That there is an effect does not hang on these choices; how large it is may.`,
    tail,
  ];
}
