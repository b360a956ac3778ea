/** bendbook repeat. */
import { toText } from "../experiment/language/said";
import { parseArgs } from "node:util";
import {
  analyseRepeatability,
  repeatabilitySentences,
  type RepeatabilityAnswer,
} from "../experiment/measure/repeatability";
import type { Repeatability } from "../statistics/measure/repeatability";
import { oneFile, optionConfidence } from "./options";
import { readLog } from "./readLog";
import { outsideJson, readAsLines, remarkLines, remarksJson, sheetLine } from "./table";
import { UsageError, type Voices } from "./usage";

/** Tells how repeatable readings are. @returns the exit code */
export async function repeatCommand(args: string[], { print, warn }: Voices): Promise<number> {
  const { values, positionals } = parseArgs({
    args,
    allowPositionals: true,
    options: {
      sheet: { type: "string" },
      reading: { type: "string", multiple: true },
      by: { type: "string", multiple: true },
      confidence: { type: "string" },
      "take-in": { type: "boolean" },
      json: { type: "boolean" },
    },
  });
  const file = oneFile("repeat", positionals);
  const { reading = [], by } = values;
  const [first, second] = reading;
  if (first === undefined || second === undefined)
    throw new UsageError(
      `repeat needs --reading HEADER two times or more, the columns that read the same marks${first === undefined ? "" : `; only "${first}" is given`}.`,
    );
  const log = await readLog(file, { sheet: values.sheet, takeIn: values["take-in"] }, first, warn);
  const answer = analyseRepeatability(log, {
    readings: reading,
    confidence: optionConfidence(values.confidence),
    ...(by !== undefined && { by }),
  });
  print(values.json ? JSON.stringify(asJson(answer), null, 2) : asText(answer));
  return 0;
}

function asJson(answer: RepeatabilityAnswer): unknown {
  const { log, check, columns, confidence, found, by } = answer;
  return {
    sheet: log.sheet,
    table: log.title,
    readings: columns.map(({ heading }) => heading.text),
    confidence,
    rowsRead: log.rows.length,
    rowsUsed: check.used.length,
    readAs: log.readAs,
    outsideTable: outsideJson(log),
    leftOut: remarksJson(check.leftOut),
    suspicious: remarksJson(check.suspicious),
    ...figures(found),
    ...(by && {
      by: by.column.heading.text,
      levels: by.levels.map(({ level, rows, found: one }) => ({ level, rows, ...(one && figures(one)) })),
      levelsDiffer: by.test,
    }),
    sentences: repeatabilitySentences(answer).map(({ text }) => toText(text)),
  };
}

function figures({
  times,
  sd,
  sdInterval,
  df,
  limit,
  between,
  share,
  shareInterval,
  shifts,
  shiftTest,
}: Repeatability): Record<string, unknown> {
  return {
    times,
    repeatability: sd,
    low: sdInterval.low,
    high: sdInterval.high,
    df,
    limit,
    between,
    share,
    shareInterval: shareInterval ?? null,
    shifts: shifts.map(({ value: shift, ...rest }) => ({ shift, ...rest })),
    shiftTest,
  };
}

function asText(answer: RepeatabilityAnswer): string {
  const { log, check } = answer;
  return [
    sheetLine(log),
    "",
    ...repeatabilitySentences(answer).map(({ text }) => toText(text)),
    ...remarkLines("Rows left out:", check.leftOut),
    ...remarkLines("Used, but worth a look:", check.suspicious),
    ...readAsLines(log),
  ].join("\n");
}
