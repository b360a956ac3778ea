/** The examples in the comments of the worksheet functions: what is typed and what is shown. */
import { readFileSync } from "node:fs";
import { join } from "node:path";

export interface FunctionExample {
  /** Name without the prefix. */
  readonly name: string;
  /** As typed, without the equals sign. */
  readonly formula: string;
  /** First row of the answer, numbers to six digits, cells joined by " | ". */
  readonly shown: string;
}

/** Every `@example =BANK.NAME(…) → …` of src/functions/functions.ts, in its order. */
export function functionExamples(): readonly FunctionExample[] {
  const source = readFileSync(join(import.meta.dirname, "..", "..", "src", "functions", "functions.ts"), "utf8");
  return [...source.matchAll(/@example =(BANK\.(\w+)\(.*?) → ?(.*)$/gm)].map(([, formula, name, shown]) => ({
    name,
    formula,
    shown: shown.trim(),
  }));
}
