/** What bendbook compare says of a log of attempts: levels by the bend at one half. */
import { say, toText } from "../experiment/language/said";
import { comparedSentence } from "../experiment/attempts/compareAttempts";
import { levelReaches } from "../experiment/attempts/levelReach";
import type { ReachAnswer } from "../experiment/attempts/reach";
import { reachSentences } from "../experiment/attempts/reachWords";
import { significant } from "../experiment/language/wording";
import { outsideJson, readAsLines, remarkLines, remarksJson, sheetLine, tableLines } from "./table";

export function attemptsJson(answer: ReachAnswer, response: string): unknown {
  const { attempts, fit, columns } = answer;
  const { log } = attempts;
  const [compared] = levelReaches(answer);
  return {
    sheet: log.sheet,
    table: log.title,
    response,
    comparedBy: "bend at one half",
    unit: attempts.unit,
    among: columns[0]?.heading.text ?? "",
    confidence: fit.confidence,
    rowsRead: log.rows.length,
    rowsUsed: attempts.rows.length,
    counts: attempts.counts,
    readAs: [...log.readAs, ...attempts.notes],
    outsideTable: outsideJson(log),
    leftOut: remarksJson(attempts.leftOut),
    suspicious: remarksJson(attempts.suspicious),
    session: fit.session ? { groups: fit.session.groups, sd: fit.session.estimate } : null,
    levels: compared?.levels.map(({ level, rows, half }) => ({
      level,
      rows,
      bend: half.estimate,
      low: half.low,
      high: half.high,
    })),
    pairs: compared?.pairs.map(({ first, second, difference }) => ({
      a: first,
      b: second,
      difference: difference.estimate,
      low: difference.low,
      high: difference.high,
    })),
    notTold: fit.untold,
    sentences: [comparedSentence(response), ...reachSentences(answer).map(({ text }) => toText(text))],
  };
}

export function attemptsText(answer: ReachAnswer, response: string): string {
  const { attempts, fit } = answer;
  const percent = say`${significant(100 * fit.confidence, 4)} %`;
  const tables = levelReaches(answer).flatMap(({ heading, levels, pairs }) => [
    "",
    `Bend at one half by ${heading} (${attempts.unit}):`,
    ...tableLines([
      ["level", "rows", "bend", toText(say`${percent} low`), toText(say`${percent} high`)],
      ...levels.map(({ level, rows, half }) => [
        level,
        String(rows),
        ...[half.estimate, half.low, half.high].map(cell),
      ]),
    ]),
    "",
    toText(say`Differences, first less second; ${percent} for all pairs at once:`),
    ...tableLines([
      ["pair", "difference", "low", "high"],
      ...pairs.map(({ first, second, difference }) => [
        `${first} less ${second}`,
        ...[difference.estimate, difference.low, difference.high].map(cell),
      ]),
    ]),
  ]);
  return [
    sheetLine(attempts.log),
    "",
    comparedSentence(response),
    ...reachSentences(answer).map(({ text }) => toText(text)),
    ...tables,
    ...remarkLines("Rows left out:", attempts.leftOut),
    ...remarkLines("Used, but worth a look:", attempts.suspicious),
    ...readAsLines(attempts.log),
  ].join("\n");
}

function cell(value: number | null): string {
  return value === null ? "not told" : toText(significant(value, 6));
}
