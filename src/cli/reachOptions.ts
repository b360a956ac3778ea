/** What is typed behind bendbook reach, read. */
import { parseArgs } from "node:util";
import { USUAL_PROBABILITIES } from "../experiment/attempts/reach";
import type { DriverChoice } from "../experiment/question/choice";
import { oneFile, optionConfidence, optionNumber, typedDrivers, withNegatives } from "./options";
import { UsageError } from "./usage";

export interface ReachOptions {
  readonly file: string;
  readonly sheet: string | undefined;
  readonly takeIn: boolean | undefined;
  readonly position: { readonly as: "gap" | "required"; readonly heading: string };
  readonly outcome: string;
  readonly measured: string | undefined;
  readonly drivers: readonly DriverChoice[];
  readonly sessions: readonly string[];
  /** Settings as typed: "HEADER=VALUE". */
  readonly at: readonly string[];
  readonly probabilities: readonly number[];
  readonly ball: number | undefined;
  readonly confidence: number;
  /** A bend asked about, in the unit of the position, and in how many tries. */
  readonly target: number | undefined;
  readonly tries: number;
  /** Share of outcomes that are misjudged. */
  readonly misjudged: number;
  readonly json: boolean;
}

const OPTIONS = {
  sheet: { type: "string" },
  gap: { type: "string" },
  required: { type: "string" },
  outcome: { type: "string" },
  measured: { type: "string" },
  driver: { type: "string", multiple: true },
  category: { type: "string", multiple: true },
  random: { type: "string", multiple: true },
  at: { type: "string", multiple: true },
  probability: { type: "string", multiple: true },
  ball: { type: "string" },
  confidence: { type: "string" },
  misjudged: { type: "string" },
  target: { type: "string" },
  tries: { type: "string" },
  "take-in": { type: "boolean" },
  json: { type: "boolean" },
} as const;

/** @throws UsageError */
export function readReachOptions(args: string[]): ReachOptions {
  const { values, positionals, tokens } = parseArgs({
    args: withNegatives(args),
    allowPositionals: true,
    tokens: true,
    options: OPTIONS,
  });
  const file = oneFile("reach", positionals);
  const { outcome, measured } = values;
  if (values.tries !== undefined && values.target === undefined)
    throw new UsageError("--tries says in how many attempts a bend is reached: give --target BEND as well.");
  if (outcome === undefined)
    throw new UsageError("reach needs --outcome HEADER, the column that says how each attempt ended.");
  return {
    file,
    sheet: values.sheet,
    takeIn: values["take-in"],
    position: positionOf(values.gap, values.required),
    outcome,
    measured,
    drivers: eachOnce(typedDrivers(tokens)),
    sessions: values.random ?? [],
    at: values.at ?? [],
    probabilities: probabilitiesOf(values.probability),
    ball:
      values.ball === undefined
        ? undefined
        : optionNumber("ball", values.ball, "the ball's diameter in the gap's unit, above 0", (value) => value > 0),
    confidence: optionConfidence(values.confidence),
    target:
      values.target === undefined
        ? undefined
        : optionNumber("target", values.target, "a bend in the gap's unit, such as 1.125", () => true),
    tries:
      values.tries === undefined
        ? 1
        : optionNumber("tries", values.tries, "a whole number of 1 or more", (n) => Number.isInteger(n) && n >= 1),
    misjudged:
      values.misjudged === undefined
        ? 0
        : optionNumber(
            "misjudged",
            values.misjudged,
            "a share of outcomes from 0 to below 0.5, such as 0.02",
            (value) => value >= 0 && value < 0.5,
          ),
    json: values.json ?? false,
  };
}

function positionOf(gap: string | undefined, required: string | undefined): ReachOptions["position"] {
  if (gap !== undefined && required !== undefined)
    throw new UsageError("--gap and --required say the same thing: give one of them.");
  if (gap !== undefined) return { as: "gap", heading: gap };
  if (required !== undefined) return { as: "required", heading: required };
  throw new UsageError(
    "reach needs --gap HEADER, the obstacle's gap, or --required HEADER, the bend that the obstacle asked for.",
  );
}

/** Each once. @throws UsageError where one is named both ways */
function eachOnce(drivers: readonly DriverChoice[]): readonly DriverChoice[] {
  const twice = drivers.find(({ heading, as }) =>
    drivers.some((other) => other.heading === heading && other.as !== as),
  );
  if (twice) throw new UsageError(`"${twice.heading}" is named both as --driver and as --category: choose one.`);
  return drivers.filter(({ heading }, i) => drivers.findIndex((other) => other.heading === heading) === i);
}

function probabilitiesOf(texts: readonly string[] | undefined): readonly number[] {
  if (texts === undefined) return USUAL_PROBABILITIES;
  return texts.map((text) =>
    optionNumber("probability", text, "a share between 0 and 1, such as 0.9", (value) => value > 0 && value < 1),
  );
}
