/**
 * What the rows say against the fit, in words: unequal scatter, lack of fit, error of predicting what was left out.
 */
import { say, listOf } from "../language/said";
import { lackOfFit } from "../../statistics/checks/lackOfFit";
import {
  leaveOneOut,
  unequalSpread,
  type LeftOutError,
  type UnequalSpread,
} from "../../statistics/checks/residualChecks";
import type { FTest } from "../../statistics/fit/estimates";
import type { Analysis } from "../question/analysis";
import type { Sentence } from "../question/answer";
import { consistencyByDriver, consistencySentence, takenTogether, type Consistency } from "./consistency";
import { rowsTogether, withinSessions } from "./together";
import { counted, inSentence, measured, pText, significant, withUnit } from "../language/wording";
import { there } from "../../there";

export interface TrustChecks {
  readonly unequalSpread: UnequalSpread | undefined;
  /** One for each driver that changes. */
  readonly consistency: readonly Consistency[];
  readonly lackOfFit: FTest | undefined;
  /** Each row predicted from the others; where groups were named, each group from the other groups. */
  readonly leftOut: LeftOutError | undefined;
}

/** All checks of one analysis, on its plain fit. */
export function trustChecks(analysis: Analysis): TrustChecks {
  const { regression } = analysis;
  const { errors } = regression.question;
  const by = errors && errors.kind !== "robust" ? errors.by : undefined;
  return {
    unequalSpread: spreadOf(analysis),
    consistency: consistencyByDriver(analysis),
    lackOfFit: lackOfFit(regression, withinSessions(analysis)),
    leftOut: leaveOneOut(regression, by),
  };
}

/**
 * Does the scatter change with the drivers? Sessions that lie apart, or a driver that stays all session, are allowed
 * for.
 */
export function spreadOf(analysis: Analysis): UnequalSpread | undefined {
  const { regression } = analysis;
  const drivers = regression.question.drivers.map((_, driver) => driver);
  return unequalSpread(regression, rowsTogether(analysis, drivers), withinSessions(analysis).residuals);
}

/** The checks in sentences: what was found, and what was looked for and not found. */
export function trustSentences(analysis: Analysis, checks: TrustChecks): Sentence[] {
  const { unequalSpread: spread, consistency, lackOfFit: lack, leftOut } = checks;
  return [
    ...(spread ? [scatterSentence(spread, analysis)] : []),
    ...consistency.map((one) => consistencySentence(one, analysis)),
    ...lackOfFitSentence(lack, thresholdOf(analysis)),
    ...predictionSentence(leftOut, analysis),
  ];
}

/** Below this p something is found. */
const thresholdOf = ({ regression }: Analysis) => 1 - regression.confidence;

/** Whether shots scatter alike, and what they scatter with. */
function scatterSentence(spread: UnequalSpread, analysis: Analysis): Sentence {
  const test = say`${pText(spread.p)}, test of Breusch and Pagan, 1979${takenTogether(spread.together)}`;
  if (!(spread.p < thresholdOf(analysis)))
    return { kind: "open", text: say`No sign that the scatter changes with the drivers (${test}).` };
  const parts = scattersWith(spread, analysis);
  const detail = parts.length > 0 ? `: ${listOf([...new Set(parts)])}` : "";
  const mend = analysis.choice.scatter
    ? ""
    : " The plain intervals count on equal scatter; ask for errors that hold without it.";
  return { kind: "caution", text: say`Shots do not scatter alike (${test})${detail}.${mend}` };
}

/** What the scatter changes with, one driver or level at a time. */
function scattersWith({ squares }: UnequalSpread, analysis: Analysis): string[] {
  const { columns, regression } = analysis;
  const threshold = thresholdOf(analysis);
  const along = squares.terms.filter(({ drivers, p }) => drivers.length === 1 && p !== null && p < threshold);
  return along.map(({ label, drivers, estimate }) => {
    const index = there(drivers[0], "a driver");
    const { heading } = there(columns[index], "a column");
    const more = (estimate ?? 0) > 0;
    return regression.question.drivers[index]?.kind === "number"
      ? `it ${more ? "grows" : "shrinks"} with ${inSentence(heading)}`
      : `it is ${more ? "larger" : "smaller"} for ${label}`;
  });
}

/** Whether the fit misses something; nothing where no settings were repeated. */
function lackOfFitSentence(lack: FTest | undefined, threshold: number): Sentence[] {
  if (!lack || lack.p === null) return [];
  if (!(lack.p < threshold))
    return [{ kind: "open", text: say`Shots repeated at the same settings show no lack of fit (${pText(lack.p)}).` }];
  return [
    {
      kind: "caution",
      text: say`Shots at the same settings lie closer together than the fit leaves room for (${pText(lack.p)}): the fit misses something, such as a curve or a joint effect.`,
    },
  ];
}

/** How well the rows predict each other; nothing where no driver helps them or it cannot be told. */
function predictionSentence(leftOut: LeftOutError | undefined, analysis: Analysis): Sentence[] {
  const { columns, regression, response } = analysis;
  if (!leftOut || leftOut.share === null || columns.length === 0) return [];
  const { errors } = regression.question;
  const one = errors && errors.kind !== "robust" ? inSentence(errors.by) : "shot";
  const error = withUnit(measured(leftOut.error, 2), response.heading.unit);
  const off = say`A ${one} predicted from the others is off by ${error}`;
  const name = inSentence(response.heading);
  return [
    leftOut.share > 0
      ? {
          kind: "summary",
          text: say`${off} (root mean square over ${counted(regression.rows, "shot")}), which takes up ${significant(100 * leftOut.share, 2)} % of the variation of ${name}.`,
        }
      : {
          kind: "caution",
          text: say`${off}, no better than by the mean of the others: these drivers do not help to predict ${name}.`,
        },
  ];
}
