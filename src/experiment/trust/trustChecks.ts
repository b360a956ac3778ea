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
  const { columns, regression, response, choice } = analysis;
  const threshold = 1 - regression.confidence;
  const name = inSentence(response.heading);
  const sentences: Sentence[] = [];
  const { unequalSpread: spread, lackOfFit: lack, leftOut } = checks;
  if (spread && spread.p < threshold) {
    const along = spread.squares.terms.filter(({ drivers, p }) => drivers.length === 1 && p !== null && p < threshold);
    const parts = along.map(({ label, drivers, estimate }) => {
      const index = there(drivers[0], "a driver");
      const { heading } = there(columns[index], "a column");
      const isNumber = regression.question.drivers[index]?.kind === "number";
      const way = (estimate ?? 0) > 0 ? "grows" : "shrinks";
      return isNumber
        ? `it ${way} with ${inSentence(heading)}`
        : `it is ${(estimate ?? 0) > 0 ? "larger" : "smaller"} for ${label}`;
    });
    const detail = parts.length > 0 ? `: ${listOf([...new Set(parts)])}` : "";
    const mend = choice.scatter
      ? ""
      : " The plain intervals count on equal scatter; ask for errors that hold without it.";
    sentences.push({
      kind: "caution",
      text: say`Shots do not scatter alike (${pText(spread.p)}, test of Breusch and Pagan, 1979${takenTogether(spread.together)})${detail}.${mend}`,
    });
  } else if (spread) {
    sentences.push({
      kind: "open",
      text: say`No sign that the scatter changes with the drivers (${pText(spread.p)}, test of Breusch and Pagan, 1979${takenTogether(spread.together)}).`,
    });
  }
  sentences.push(...checks.consistency.map((one) => consistencySentence(one, analysis)));
  if (lack && lack.p !== null) {
    sentences.push(
      lack.p < threshold
        ? {
            kind: "caution",
            text: say`Shots at the same settings lie closer together than the fit leaves room for (${pText(lack.p)}): the fit misses something, such as a curve or a joint effect.`,
          }
        : { kind: "open", text: say`Shots repeated at the same settings show no lack of fit (${pText(lack.p)}).` },
    );
  }
  if (leftOut && leftOut.share !== null && columns.length > 0) {
    const { errors } = regression.question;
    const what =
      errors && errors.kind !== "robust"
        ? `A ${inSentence(errors.by)} predicted from the others`
        : "A shot predicted from the others";
    const error = withUnit(measured(leftOut.error, 2), response.heading.unit);
    sentences.push(
      leftOut.share > 0
        ? {
            kind: "summary",
            text: say`${what} is off by ${error} (root mean square over ${counted(regression.rows, "shot")}), which takes up ${significant(100 * leftOut.share, 2)} % of the variation of ${name}.`,
          }
        : {
            kind: "caution",
            text: say`${what} is off by ${error}, no better than by the mean of the others: these drivers do not help to predict ${name}.`,
          },
    );
  }
  return sentences;
}
