/** Options that several commands share. */
import type { Choice, DriverChoice } from "../experiment/question/choice";
import { UsageError } from "./usage";

/** A number from an option. @throws UsageError with the mend */
export function optionNumber(name: string, text: string, what: string, good: (value: number) => boolean): number {
  const value = text.trim() === "" ? NaN : Number(text);
  if (!Number.isFinite(value) || !good(value)) throw new UsageError(`--${name} is "${text}": give ${what}.`);
  return value;
}

/** The one file of a command, by default one that holds a log. @throws UsageError where none or several are typed */
export function oneFile(command: string, typed: readonly string[], what = "(.xlsx, .csv or .parquet)"): string {
  const [file] = typed;
  if (file === undefined) throw new UsageError(`${command} needs a file ${what}.`);
  if (typed.length > 1) throw new UsageError(`${command} takes one file; these were given: ${typed.join(", ")}.`);
  return file;
}

/** Columns of --driver and --category, in the order in which they were typed. */
export function typedDrivers(
  tokens: readonly { readonly kind: string; readonly name?: string; readonly value?: string | undefined }[],
): DriverChoice[] {
  return tokens.flatMap(({ kind, name, value = "" }): DriverChoice[] =>
    kind === "option" && (name === "driver" || name === "category")
      ? [{ heading: value, as: name === "category" ? "category" : "number", degree: 1 }]
      : [],
  );
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
