/** bendbook compare. */
import { say, toText } from "../experiment/language/said";
import {
  compareLevels,
  comparisonSentences,
  sessionAwareComparison,
  type ComparisonAnswer,
} from "../experiment/question/comparison";
import type { TrialLog } from "../experiment/log/trialLog";
import { confidenceText, significant } from "../experiment/language/wording";
import type { Pairing } from "../statistics/compare/comparison";
import { comparesAttempts, comparisonOfAttempts } from "../experiment/attempts/compareAttempts";
import { analyseReach } from "../experiment/attempts/reach";
import { readCompareOptions, type CompareOptions } from "./compareOptions";
import { attemptsJson, attemptsText } from "./compareAttempts";
import { groupsJson } from "./groupsJson";
import { optionConfidence, scatterOf } from "./options";
import { readLog } from "./readLog";
import { outsideJson, readAsLines, remarkLines, remarksJson, sheetLine, tableLines } from "./table";
import { UsageError, type Voices } from "./usage";

/** Compares and prints. @returns the exit code */
export async function compareCommand(args: string[], { print, warn }: Voices): Promise<number> {
  const options = readCompareOptions(args);
  const { sheet, "take-in": takeIn } = options.typed;
  const log = await readLog(options.file, { sheet, takeIn }, options.response, warn);
  print(attemptsAnswer(log, options) ?? levelsAnswer(log, options));
  return 0;
}

/** The levels by the bend at one half; undefined where the response says more than what the obstacle asked for. */
function attemptsAnswer(log: TrialLog, { response, among, drivers, typed }: CompareOptions): string | undefined {
  if (!comparesAttempts(log, response)) return undefined;
  const confidence = optionConfidence(typed.confidence);
  const sessions = typed.random && { sessions: typed.random };
  const question = comparisonOfAttempts(log, { among, drivers, confidence, ...sessions });
  if (!question) return undefined;
  const half = analyseReach(log, question);
  const unused = (["margin", "reference", "slope", "cluster", "robust"] as const).find((name) => typed[name]);
  if (unused !== undefined)
    throw new UsageError(`--${unused} is not asked of attempts, which are compared by the bend at one half.`);
  return typed.json ? JSON.stringify(attemptsJson(half, response), null, 2) : attemptsText(half, response);
}

/** The levels by the means of a number. */
function levelsAnswer(log: TrialLog, { response, among, drivers, margin, typed }: CompareOptions): string {
  const answer = compareLevels(log, {
    response,
    among,
    drivers,
    confidence: optionConfidence(typed.confidence),
    ...scatterOf(typed),
    ...(margin !== undefined && { margin }),
    ...(typed.reference !== undefined && { reference: typed.reference }),
    ...(typed.slope !== undefined && { slope: typed.slope }),
  });
  return typed.json ? JSON.stringify(asJson(answer), null, 2) : asText(answer);
}

function asJson(answer: ComparisonAnswer): unknown {
  const { analysis, among, margin, reference, slope } = answer;
  const { log, response, choice, check, regression } = analysis;
  const sessions = sessionAwareComparison(answer);
  return {
    sheet: log.sheet,
    table: log.title,
    response: response.heading.text,
    among,
    confidence: choice.confidence,
    scatter: choice.scatter ?? { as: "alike" },
    ...(margin !== undefined && { margin }),
    ...(reference !== undefined && { reference }),
    ...(slope && { slope: slope.column.heading.text }),
    rowsRead: log.rows.length,
    rowsUsed: check.used.length,
    readAs: log.readAs,
    outsideTable: outsideJson(log),
    leftOut: remarksJson(check.leftOut),
    suspicious: remarksJson(check.suspicious),
    ...levelsJson(sessions?.plain ?? answer),
    ...groupsJson(analysis),
    notEstimated: regression.unestimated,
    ...(sessions && {
      sessionAware: {
        column: sessions.aware.column.heading.text,
        sentences: sessions.aware.sentences.map(({ text }) => toText(text)),
        ...levelsJson(sessions.better),
        ...groupsJson(sessions.better.analysis),
      },
    }),
  };
}

function levelsJson({ comparison, margin, slope }: ComparisonAnswer): Record<string, unknown> {
  return {
    means: comparison.means.map(({ level, rows, estimate }) => ({
      level,
      rows,
      mean: estimate?.value ?? null,
      standardError: estimate?.standardError ?? null,
      df: estimate?.df ?? null,
      low: estimate?.low ?? null,
      high: estimate?.high ?? null,
    })),
    differenceIs: "mean of a less mean of b",
    pairs: comparison.pairs.map(({ equivalent, ...pair }) => ({
      ...pair,
      ...(margin !== undefined && { equivalent }),
    })),
    ...(slope && {
      slopes: slope.found.slopes.map(({ level, rows, estimate }) => ({
        level,
        rows,
        slope: estimate?.value ?? null,
        standardError: estimate?.standardError ?? null,
        df: estimate?.df ?? null,
        low: estimate?.low ?? null,
        high: estimate?.high ?? null,
      })),
      slopePairs: slope.found.pairs.map(({ a, b, difference, standardError, df, low, high, p }) => ({
        a,
        b,
        difference,
        standardError,
        df,
        low,
        high,
        p,
      })),
      slopesDiffer: slope.found.test,
    }),
  };
}

/**
 * The comparison; where shots of one session are not separate evidence, the session-aware one first and the plain pairs
 * after it.
 */
function asText(plain: ComparisonAnswer): string {
  const sessions = sessionAwareComparison(plain);
  const answer = sessions?.better ?? plain;
  const { analysis, comparison } = answer;
  const { log, check, regression } = analysis;
  const percent = say`${confidenceText(regression.confidence)} %`;
  const sentences = [...(sessions?.aware.sentences ?? []), ...comparisonSentences(answer)];
  const lines = [sheetLine(log), "", ...sentences.map(({ text }) => toText(text))];
  lines.push(
    "",
    "Means:",
    ...tableLines([
      ["level", "rows", "mean", "standard error", toText(say`${percent} low`), toText(say`${percent} high`)],
      ...comparison.means.map(({ level, rows, estimate }) => [
        level,
        String(rows),
        cell(estimate?.value),
        cell(estimate?.standardError),
        cell(estimate?.low),
        cell(estimate?.high),
      ]),
    ]),
  );
  lines.push("", "Differences, first less second:", ...pairLines(answer.comparison.pairs, toText(percent)));
  if (answer.slope) {
    const { column, found } = answer.slope;
    lines.push(
      "",
      `Slopes, in the response's unit per unit of ${column.heading.text}:`,
      ...tableLines([
        ["level", "rows", "slope", "standard error", toText(say`${percent} low`), toText(say`${percent} high`)],
        ...found.slopes.map(({ level, rows, estimate }) => [
          level,
          String(rows),
          cell(estimate?.value),
          cell(estimate?.standardError),
          cell(estimate?.low),
          cell(estimate?.high),
        ]),
      ]),
    );
    lines.push("", "Differences of the slopes, first less second:", ...pairLines(found.pairs, toText(percent)));
  }
  if (answer !== plain)
    lines.push(
      "",
      "For comparison, the plain differences, every row on its own:",
      ...pairLines((sessions?.plain ?? plain).comparison.pairs, toText(percent)),
    );
  return [
    ...lines,
    ...remarkLines("Rows left out:", check.leftOut),
    ...remarkLines("Used, but worth a look:", check.suspicious),
    ...readAsLines(log),
  ].join("\n");
}

function pairLines(pairs: readonly Pairing[], percent: string): string[] {
  return tableLines([
    ["pair", "difference", "standard error", `${percent} low`, `${percent} high`, "p"],
    ...pairs.map(({ a, b, difference, standardError, low, high, p }) => [
      `${a} less ${b}`,
      cell(difference),
      cell(standardError),
      cell(low),
      cell(high),
      p === null ? "" : toText(significant(p, 3)),
    ]),
  ]);
}

function cell(value: number | null | undefined): string {
  return value === null || value === undefined ? "not estimated" : toText(significant(value, 6));
}
