/** What is typed behind bendbook regress, read: the file, the question, the settings and draws that are asked for. */
import { parseArgs } from "node:util";
import type { Choice, DriverChoice } from "../experiment/question/choice";
import { readDraws, type DrawCounts } from "./drawOptions";
import { oneFile, scatterOf, optionConfidence, withNegatives } from "./options";
import { UsageError } from "./usage";

export interface RegressOptions {
  readonly file: string;
  readonly sheet: string | undefined;
  readonly takeIn: boolean;
  readonly choice: Choice;
  /** The response says made or missed. */
  readonly made: boolean;
  /** Settings of --at, as typed: "HEADER=VALUE". */
  readonly at: readonly string[];
  /** Drivers that were read twice, with the column of the second reading. */
  readonly twice: readonly (readonly [string, string])[];
  /** Heading of the shots' number or time within a session. */
  readonly order: string | undefined;
  readonly draws: DrawCounts | undefined;
  readonly json: boolean;
}

const OPTIONS = {
  sheet: { type: "string" },
  response: { type: "string" },
  made: { type: "string" },
  driver: { type: "string", multiple: true },
  category: { type: "string", multiple: true },
  curve: { type: "string", multiple: true },
  joint: { type: "string", multiple: true },
  twice: { type: "string", multiple: true },
  "no-constant": { type: "boolean" },
  confidence: { type: "string" },
  robust: { type: "boolean" },
  cluster: { type: "string", multiple: true },
  random: { type: "string", multiple: true },
  weight: { type: "string" },
  order: { type: "string" },
  at: { type: "string", multiple: true },
  bootstrap: { type: "string" },
  permute: { type: "string" },
  seed: { type: "string" },
  "take-in": { type: "boolean" },
  json: { type: "boolean" },
} as const;

/** Options without a value: saying them twice is saying them. */
const FLAGS: readonly string[] = ["json", "no-constant", "robust", "take-in"];

/** Reads the options, keeping the order in which columns are named. @throws UsageError */
export function readRegressOptions(args: string[]): RegressOptions {
  const typed = readTyped(args);
  const { once, at } = typed;
  const file = oneFile("regress", typed.files);
  const made = once.made !== undefined;
  const response = responseOf(once);
  const scatter = scatterOf({ ...typed.together, ...("robust" in once && { robust: true }) });
  if (made) refuseBesideMade(once, scatter);
  if (made && typed.twice.length > 0)
    throw new UsageError("--twice goes with --response: what reading errors do to a chance is not worked out.");
  const draws = readDraws(once);
  if (draws && made)
    throw new UsageError(
      "--bootstrap and --permute go with --response: with --made use --cluster HEADER for shots that go together.",
    );
  return {
    file,
    sheet: once.sheet,
    takeIn: "take-in" in once,
    choice: {
      response,
      drivers: typed.drivers,
      joint: typed.joint,
      constant: !("no-constant" in once),
      confidence: optionConfidence(once.confidence),
      ...scatter,
      ...(once.weight !== undefined && { weight: once.weight }),
    },
    made,
    at,
    twice: typed.twice,
    order: once.order,
    draws,
    json: "json" in once,
  };
}

/** What was typed, in the order in which it was typed. */
interface Typed {
  readonly files: readonly string[];
  readonly drivers: readonly DriverChoice[];
  readonly joint: readonly (readonly [string, string])[];
  readonly twice: readonly (readonly [string, string])[];
  readonly at: readonly string[];
  /** What makes the groups, by how their rows go together. */
  readonly together: { readonly cluster?: readonly string[]; readonly random?: readonly string[] };
  /** Options that are given once, and flags with "". */
  readonly once: Readonly<Record<string, string>>;
}

function readTyped(args: string[]): Typed {
  const { tokens } = parseArgs({ args: withNegatives(args), allowPositionals: true, tokens: true, options: OPTIONS });
  const files: string[] = [];
  const drivers = new Map<string, DriverChoice>();
  const joint: [string, string][] = [];
  const twice: [string, string][] = [];
  const at: string[] = [];
  const together: { cluster?: string[]; random?: string[] } = {};
  const once: Record<string, string> = {};
  for (let i = 0; i < tokens.length; i++) {
    const token = tokens[i];
    if (token?.kind === "positional") files.push(token.value);
    if (token?.kind !== "option") continue;
    const { name, value = "" } = token;
    /** The second value of an option that takes two. */
    const second = (what: string) => {
      const next = tokens[++i];
      if (next?.kind !== "positional") throw new UsageError(`--${name} "${value}" needs ${what} behind it.`);
      return next.value;
    };
    if (name === "driver") drivers.set(value, asNumber(value, drivers.get(value)));
    else if (name === "category") drivers.set(value, asCategory(value, drivers.get(value)));
    else if (name === "curve") drivers.set(value, asCurve(value, second("a degree from 1 to 10"), drivers.get(value)));
    else if (name === "joint") joint.push([value, second("a second heading")]);
    else if (name === "twice") twice.push([value, second("the heading of its second reading")]);
    else if (name === "at") at.push(value);
    else if (name === "cluster" || name === "random") (together[name] ??= []).push(value);
    else keepOnce(once, name, value);
  }
  return { files, drivers: [...drivers.values()], joint, twice, at, together, once };
}

function asNumber(heading: string, before: DriverChoice | undefined): DriverChoice {
  if (before?.as === "category")
    throw new UsageError(`"${heading}" is named both as --driver and as --category: choose one.`);
  return before ?? { heading, as: "number", degree: 1 };
}

function asCategory(heading: string, before: DriverChoice | undefined): DriverChoice {
  if (before?.as === "number")
    throw new UsageError(`"${heading}" is named both as a number and as --category: choose one.`);
  return { heading, as: "category", degree: 1 };
}

function asCurve(heading: string, text: string, before: DriverChoice | undefined): DriverChoice {
  const degree = Number(text);
  if (!Number.isInteger(degree) || degree < 1 || degree > 10)
    throw new UsageError(`the degree of --curve "${heading}" is "${text}": give a whole number from 1 to 10.`);
  if (before?.as === "category") throw new UsageError(`"${heading}" is a category and cannot curve.`);
  return { heading, as: "number", degree };
}

function keepOnce(once: Record<string, string>, name: string, value: string): void {
  if (name in once && !FLAGS.includes(name)) throw new UsageError(`--${name} is given twice: give it once.`);
  once[name] = value;
}

/** The column to explain, a number or how shots ended. */
function responseOf({ response, made }: Typed["once"]): string {
  if (response !== undefined && made !== undefined)
    throw new UsageError("--response and --made are given together: name one column to explain.");
  const named = response ?? made;
  if (named === undefined)
    throw new UsageError(
      "regress needs --response HEADER, the column to explain, or --made HEADER, the column that says how shots ended.",
    );
  return named;
}

/** What a question about made or missed does not take. @throws UsageError */
function refuseBesideMade({ weight }: Typed["once"], { scatter }: Pick<Choice, "scatter">): void {
  if (scatter?.as === "robust")
    throw new UsageError(
      "--robust goes with --response: how single shots scatter follows from the chance; with --made use --cluster HEADER or --random HEADER for shots that go together.",
    );
  if (weight !== undefined) throw new UsageError("--weight goes with --response: weights are not there for --made.");
}
