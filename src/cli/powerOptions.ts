/** What is typed behind bendbook power, read. */
import { parseArgs } from "node:util";
import { MOST_LOOKS } from "../statistics/design/looks";
import { optionNumber, withNegatives } from "./options";
import { UsageError } from "./usage";

export interface PowerOptions {
  readonly plan: {
    readonly difference: number;
    readonly spread: number;
    readonly level: number;
    readonly tables: number;
  };
  /** Standard deviation between sessions; absent where every shot is taken to be on its own. */
  readonly sessionSpread: number | undefined;
  readonly asked: PowerAsked;
  readonly looks: number | undefined;
  readonly tablesSaid: boolean;
  /** As typed, for the sentence. */
  readonly typed: { readonly difference: string; readonly spread: string };
  readonly json: boolean;
}

/** What is given of shots (on each table, or in each session), sessions on each table, and the power wanted. */
export interface PowerAsked {
  readonly shots?: number;
  readonly sessions?: number;
  readonly power?: number;
}

const text = { type: "string" } as const;
const OPTIONS = {
  difference: text,
  spread: text,
  "session-spread": text,
  sessions: text,
  shots: text,
  power: text,
  confidence: text,
  level: text,
  tables: text,
  looks: text,
  json: { type: "boolean" },
} as const;

type Values = Readonly<Partial<Record<keyof typeof OPTIONS, string | boolean>>>;

/** @throws UsageError */
export function readPowerOptions(args: string[]): PowerOptions {
  const { values } = parseArgs({ args: withNegatives(args), options: OPTIONS });
  const { difference, spread } = values;
  if (difference === undefined) throw new UsageError("power needs --difference D, the difference to be seen.");
  if (spread === undefined)
    throw new UsageError("power needs --spread S, the standard deviation of single shots in the same unit.");
  refuseCounts(values);
  const level = levelOf(values);
  const sessionSpread = values["session-spread"];
  return {
    plan: {
      difference: optionNumber("difference", difference, "a number", (value) => value !== 0),
      spread: optionNumber("spread", spread, "a number above 0", (value) => value > 0),
      level,
      tables: values.tables === undefined ? 2 : whole("tables", values.tables, "of tables", 2, 1000),
    },
    sessionSpread:
      sessionSpread === undefined
        ? undefined
        : optionNumber(
            "session-spread",
            sessionSpread,
            "the standard deviation between sessions, 0 or more",
            (value) => value >= 0,
          ),
    asked: askedOf(values, level),
    looks: values.looks === undefined ? undefined : whole("looks", values.looks, "of looks", 1, MOST_LOOKS),
    tablesSaid: values.tables !== undefined,
    typed: { difference, spread },
    json: values.json === true,
  };
}

/** Which of the counts go together. @throws UsageError */
function refuseCounts({ shots, sessions, power, ...values }: Values): void {
  if (values["session-spread"] === undefined) {
    if (sessions !== undefined)
      throw new UsageError(
        "--sessions goes with --session-spread T, the standard deviation between sessions: give both, or neither.",
      );
    if ((shots === undefined) === (power === undefined))
      throw new UsageError("power needs --shots N (shots per table) or --power P, one of the two.");
    return;
  }
  const given = [shots, sessions, power].filter((one) => one !== undefined).length;
  if (given !== 2)
    throw new UsageError(
      "with --session-spread power needs two of --sessions N (on each table), --shots M (in each session) and --power P.",
    );
}

function askedOf({ shots, sessions, power, ...values }: Values, level: number): PowerAsked {
  const inSessions = values["session-spread"] !== undefined;
  return {
    ...(typeof shots === "string" && { shots: shotsOf(shots, inSessions) }),
    ...(typeof sessions === "string" && { sessions: whole("sessions", sessions, "of sessions on each table", 2, 1e9) }),
    ...(typeof power === "string" && {
      power: optionNumber(
        "power",
        power,
        `a share between the level (${level}) and 1, such as 0.8`,
        (value) => value > level && value < 1,
      ),
    }),
  };
}

function shotsOf(typed: string, inSessions: boolean): number {
  const [least, where] = inSessions ? [1, "in each session"] : [2, "per table"];
  const what = `a whole number of shots ${where}, ${least} or more`;
  return optionNumber("shots", typed, what, (value) => Number.isInteger(value) && value >= least);
}

function whole(name: string, typed: string, what: string, least: number, most: number): number {
  const range = most === 1e9 ? `${least} or more` : `from ${least} to ${most}`;
  const mend = `a whole number ${what}${most === 1e9 ? "," : ""} ${range}`;
  return optionNumber(name, typed, mend, (value) => Number.isInteger(value) && value >= least && value <= most);
}

function levelOf({ confidence, level }: Values): number {
  if (confidence !== undefined && level !== undefined)
    throw new UsageError("--confidence and --level say the same thing: give one of them.");
  const share = (name: string, typed: string, example: string) =>
    optionNumber(name, typed, `a share between 0 and 1, such as ${example}`, (value) => value > 0 && value < 1);
  if (typeof confidence === "string") return Number((1 - share("confidence", confidence, "0.95")).toPrecision(15));
  return typeof level === "string" ? share("level", level, "0.05") : 0.05;
}
