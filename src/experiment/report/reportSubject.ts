/**
 * What a report is about: an answered question of any of the three kinds, its sentences, its tables in both systems of
 * units, its method in words and the command that repeats it.
 */
import { type Said, say } from "../language/said";
import { adjustedMeans } from "../../statistics/fit/adjustedMeans";
import { termTests } from "../../statistics/fit/wholeTerms";
import type { Analysis } from "../question/analysis";
import { answerSentences } from "../question/answer";
import { headingsOf, type Choice } from "../question/choice";
import { comparisonSentences, type ComparisonAnswer } from "../question/comparison";
import { madeSentences, type MadeAnalysis } from "../question/madeAnalysis";
import { rateRows } from "../question/madeRates";
import { toDigits, toError, type ReportBlock, type ReportCell } from "./reportBlock";
import { madeMethod, methodOf } from "./methodWords";
import { convertUnit, otherUnit } from "../language/unitConversion";

export interface ReportSubject extends Pick<
  Analysis,
  "log" | "choice" | "check" | "sheetRows" | "columns" | "response"
> {
  /** The question, without what follows of its rows. */
  readonly asks: Said;
  readonly sentences: readonly Said[];
  readonly tables: readonly ReportBlock[];
  readonly method: string;
  readonly command: string;
}

const EXACT = "Coefficients are right to 13 digits or more of what the cells determine.";

/** What drives a number. */
export function explainedSubject(analysis: Analysis): ReportSubject {
  const { choice, log, regression, response, columns } = analysis;
  const { unit } = response.heading;
  return {
    ...shared(analysis),
    asks: `What goes with ${choice.response}`,
    sentences: answerSentences(analysis).map(({ text }) => text),
    method: `${choice.constant ? "With" : "Without"} a constant: ${methodOf(choice)}. ${EXACT}`,
    command: commandOf("regress", choice, log.sheet, `--response ${quoted(choice.response)}`),
    tables: [
      table(
        ["Coefficient", "Standard error", "p"],
        "Estimate",
        unit,
        regression.terms.map(({ label, estimate, low, high, standardError, p }) => ({
          name: label,
          error: standardError,
          values: [estimate, low, high],
          rest: [toDigits(standardError, 2), toDigits(p, 2)],
        })),
        difference,
      ),
      {
        kind: "table",
        head: ["Test", "F", "Degrees of freedom", "Residual degrees of freedom", "p"],
        rows: termTests(regression).map(({ name, test }): ReportCell[] => [
          name,
          toDigits(test.value, 3),
          test.df1,
          toDigits(test.df2, 3),
          toDigits(test.p, 2),
        ]),
      },
      ...columns.flatMap((column, index) =>
        regression.question.drivers[index]?.kind === "category"
          ? [meansTable(column.heading.name, analysis, index)]
          : [],
      ),
    ],
  };
}

/** Which levels differ. */
export function comparedSubject(answer: ComparisonAnswer): ReportSubject {
  const { analysis, among, margin, comparison } = answer;
  const { choice, log, response } = analysis;
  const { unit } = response.heading;
  const others = { ...choice, drivers: choice.drivers.slice(1) };
  return {
    ...shared(analysis),
    asks: say`How ${choice.response} differs among the levels of ${among}${margin === undefined ? "" : say`, the same to ${margin}${unit && ` ${unit}`} counting as none`}`,
    sentences: comparisonSentences(answer).map(({ text }) => text),
    method: `Means adjusted to equal weight over other categories and the mean of each number; ${methodOf(choice)}; intervals and p hold for all pairs at once. ${EXACT}`,
    command: `${commandOf("compare", others, log.sheet, `--response ${quoted(choice.response)} --among ${quoted(among)}`)}${margin === undefined ? "" : ` --margin ${margin}`}`,
    tables: [
      meansTable(among, analysis, 0),
      table(
        ["First less second", "Standard error", "p", "Same within the margin"],
        "Difference",
        unit,
        comparison.pairs.map(({ a, b, difference: value, low, high, standardError, p, equivalent }) => ({
          name: `${a} less ${b}`,
          error: standardError,
          values: [value, low, high],
          rest: [
            toDigits(standardError, 2),
            toDigits(p, 2),
            margin === undefined || equivalent === null ? "" : equivalent ? "yes" : "not shown",
          ],
        })),
        difference,
      ),
    ],
  };
}

/** What makes a shot. */
export function madeSubject(analysis: MadeAnalysis): ReportSubject {
  const { choice, log, logistic } = analysis;
  return {
    ...shared(analysis),
    asks: `What goes with a shot being made (${choice.response})`,
    sentences: madeSentences(analysis).map(({ text }) => text),
    method: `The logarithm of the odds, made to not made, as a sum of effects: ${madeMethod(logistic.method, choice.scatter)}.`,
    command: commandOf("regress", choice, log.sheet, `--made ${quoted(choice.response)}`),
    tables: [
      {
        kind: "table",
        head: ["At", "Made", "Shots", "Fitted rate", "Low", "High"],
        rows: rateRows(analysis).map(({ setting, counted, chance }): ReportCell[] => [
          setting,
          counted?.made ?? null,
          counted?.shots ?? null,
          ...[chance?.chance, chance?.low, chance?.high].map((share) => toDigits(share ?? null, 3)),
        ]),
      },
      {
        kind: "table",
        head: ["Coefficient of the log odds", "Estimate", "Standard error", "Low", "High", "p"],
        rows: logistic.terms.map(({ label, estimate, standardError, low, high, p }): ReportCell[] => [
          label,
          toError(estimate, standardError),
          toDigits(standardError, 2),
          toError(low, standardError),
          toError(high, standardError),
          toDigits(p, 2),
        ]),
      },
    ],
  };
}

function shared({ log, choice, check, sheetRows, columns, response }: Omit<Analysis, "regression">) {
  return { log, choice, check, sheetRows, columns, response };
}

function meansTable(name: string, { regression, response }: Analysis, index: number): ReportBlock {
  const rows = adjustedMeans(regression, index).map(({ level, estimate, rows: count }) => ({
    name: level,
    error: estimate?.standardError ?? null,
    values: [estimate?.value ?? null, estimate?.low ?? null, estimate?.high ?? null],
    rest: [count],
  }));
  return table([`${name}, everything else alike`, "Rows"], "Mean", response.heading.unit, rows, convertUnit);
}

/** A difference in another unit: where the scales have different zeros, only the size of the degree counts. */
function difference(value: number, from: string, to: string): number {
  return convertUnit(value, from, to) - convertUnit(0, from, to);
}

/**
 * Value, low and high in the response's unit and, where there is one, in that of the other system, between a name and
 * the rest.
 */
function table(
  head: readonly string[],
  what: string,
  unit: string,
  rows: readonly {
    name: string;
    error: number | null;
    values: readonly (number | null)[];
    rest: readonly ReportCell[];
  }[],
  turned: (value: number, from: string, to: string) => number,
): ReportBlock {
  const other = otherUnit(unit);
  const named = (one: string) => [one === "" ? what : `${what} (${one})`, "Low", "High"];
  return {
    kind: "table",
    head: [...head.slice(0, 1), ...named(unit), ...(other ? named(other) : []), ...head.slice(1)],
    rows: rows.map(({ name, error, values, rest: more }) => [
      name,
      ...values.map((value) => toError(value, error)),
      ...(other
        ? values.map((value) =>
            toError(
              value === null ? null : turned(value, unit, other),
              error === null ? null : Math.abs(difference(error, unit, other)),
            ),
          )
        : []),
      ...more,
    ]),
  };
}

/** As a shell takes it. */
export const quoted = (argument: string) => `'${argument.replaceAll("'", "'\\''")}'`;

/** The command line that answers the same, with arguments quoted for a shell. */
function commandOf(
  command: "regress" | "compare",
  { drivers, joint, constant, confidence, scatter, weight }: Choice,
  sheet: string,
  asked: string,
): string {
  return [
    `npx bendbook ${command} WORKBOOK.xlsx`,
    `--sheet ${quoted(sheet)}`,
    asked,
    ...drivers.map(({ heading, as, degree }) =>
      as === "category"
        ? `--category ${quoted(heading)}`
        : degree > 1
          ? `--curve ${quoted(heading)} ${degree}`
          : `--driver ${quoted(heading)}`,
    ),
    ...joint.map(([a, b]) => `--joint ${quoted(a)} ${quoted(b)}`),
    ...(constant ? [] : ["--no-constant"]),
    `--confidence ${confidence}`,
    ...(scatter
      ? scatter.as === "robust"
        ? ["--robust"]
        : headingsOf(scatter).map((heading) => `--${scatter.as} ${quoted(heading)}`)
      : []),
    ...(weight === undefined ? [] : [`--weight ${quoted(weight)}`]),
  ].join(" ");
}
