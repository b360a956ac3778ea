export interface FunctionExample {
  /** Name without the prefix. */
  readonly name: string;
  /** As typed, without the equals sign. */
  readonly formula: string;
  /** First row of the answer, numbers to six digits, cells joined by " | ". */
  readonly shown: string;
}

/** Every `@example =BANK.NAME(…) → …` of src/functions/functions.ts, in its order. */
export function functionExamples(): readonly FunctionExample[];

/** What each function gives, by its name. */
export function functionResults(): Readonly<Record<string, string>>;
