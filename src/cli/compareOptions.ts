/** What is typed behind bendbook compare, read. */
import { parseArgs } from "node:util";
import type { DriverChoice } from "../experiment/question/choice";
import { oneFile, optionNumber, typedDrivers, withNegatives } from "./options";
import { UsageError } from "./usage";

const OPTIONS = {
  sheet: { type: "string" },
  response: { type: "string" },
  among: { type: "string" },
  category: { type: "string", multiple: true },
  driver: { type: "string", multiple: true },
  robust: { type: "boolean" },
  cluster: { type: "string", multiple: true },
  random: { type: "string", multiple: true },
  margin: { type: "string" },
  reference: { type: "string" },
  slope: { type: "string" },
  confidence: { type: "string" },
  "take-in": { type: "boolean" },
  json: { type: "boolean" },
} as const;

export interface CompareOptions {
  readonly file: string;
  readonly response: string;
  readonly among: string;
  readonly drivers: readonly DriverChoice[];
  readonly margin: number | undefined;
  /** All options as typed: which of them count is known only when the log is read. */
  readonly typed: ReturnType<typeof parsed>["values"];
}

const parsed = (args: string[]) =>
  parseArgs({ args: withNegatives(args), allowPositionals: true, tokens: true, options: OPTIONS });

/** @throws UsageError */
export function readCompareOptions(args: string[]): CompareOptions {
  const { values: typed, positionals, tokens } = parsed(args);
  const file = oneFile("compare", positionals);
  const { response, among } = typed;
  if (response === undefined) throw new UsageError("compare needs --response HEADER, the column to explain.");
  if (among === undefined) throw new UsageError("compare needs --among HEADER, the column whose levels are compared.");
  const margin =
    typed.margin === undefined
      ? undefined
      : optionNumber("margin", typed.margin, "a number above 0 in the response's unit", (value) => value > 0);
  return { file, response, among, drivers: typedDrivers(tokens), margin, typed };
}
