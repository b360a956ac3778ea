/** Options that several commands share. */
import type { Choice } from "../experiment/question/choice";
import { UsageError } from "./usage";

/** A number from an option. @throws UsageError with the mend */
export function optionNumber(name: string, text: string, what: string, good: (value: number) => boolean): number {
  const value = text.trim() === "" ? NaN : Number(text);
  if (!Number.isFinite(value) || !good(value)) throw new UsageError(`--${name} is "${text}": give ${what}.`);
  return value;
}

/** A confidence; 0.95 when it is left out. */
export function optionConfidence(text: string | undefined): number {
  return text === undefined
    ? 0.95
    : optionNumber("confidence", text, "a share between 0 and 1, such as 0.95", (value) => value > 0 && value < 1);
}

/**
 * What the options say of the scatter; --cluster or --random said several times means each distinct combination.
 * @throws UsageError when they say two things
 */
export function scatterOf(options: {
  readonly robust?: unknown;
  readonly cluster?: readonly string[];
  readonly random?: readonly string[];
}): Pick<Choice, "scatter"> {
  const given = (["robust", "cluster", "random"] as const).filter((name) => options[name] !== undefined);
  if (given.length > 1)
    throw new UsageError(`${given.map((name) => `--${name}`).join(" and ")} are given together: choose one.`);
  for (const as of ["cluster", "random"] as const) {
    const [heading, ...also] = options[as] ?? [];
    if (heading !== undefined) return { scatter: { as, heading, ...(also.length > 0 && { also }) } };
  }
  return given.length === 0 ? {} : { scatter: { as: "robust" } };
}

/** "--margin" "-1" as "--margin=-1": a number below 0 is a value, which parseArgs would take for an option. */
export function withNegatives(args: readonly string[]): string[] {
  return args.reduce<string[]>((joined, arg) => {
    const before = joined[joined.length - 1];
    if (/^-[.\d]/.test(arg) && before !== undefined && /^--[^=]+$/.test(before))
      return [...joined.slice(0, -1), `${before}=${arg}`];
    return [...joined, arg];
  }, []);
}
