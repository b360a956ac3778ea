/** bendbook power. */
import { parseArgs } from "node:util";
import { looksSentence } from "../experiment/plan/looksWords";
import { significant } from "../experiment/language/wording";
import { falseAlarms, MOST_LOOKS } from "../statistics/design/looks";
import { power, shotsNeeded } from "../statistics/design/power";
import { toNumber, withNegatives } from "./options";
import { CommandError, UsageError, type Voices } from "./usage";

/** Plans and prints. @returns the exit code */
export function powerCommand(args: string[], { print }: Voices): Promise<number> {
  const { values } = parseArgs({
    args: withNegatives(args),
    options: {
      difference: { type: "string" },
      spread: { type: "string" },
      shots: { type: "string" },
      power: { type: "string" },
      confidence: { type: "string" },
      level: { type: "string" },
      tables: { type: "string" },
      looks: { type: "string" },
      json: { type: "boolean" },
    },
  });
  if (values.difference === undefined) throw new UsageError("power needs --difference D, the difference to be seen.");
  if (values.spread === undefined)
    throw new UsageError("power needs --spread S, the standard deviation of single shots in the same unit.");
  if ((values.shots === undefined) === (values.power === undefined))
    throw new UsageError("power needs --shots N (shots per table) or --power P, one of the two.");
  if (values.confidence !== undefined && values.level !== undefined)
    throw new UsageError("--confidence and --level say the same thing: give one of them.");
  const share = (value: number) => value > 0 && value < 1;
  const level =
    values.confidence !== undefined
      ? Number(
          (1 - toNumber("confidence", values.confidence, "a share between 0 and 1, such as 0.95", share)).toPrecision(
            15,
          ),
        )
      : values.level !== undefined
        ? toNumber("level", values.level, "a share between 0 and 1, such as 0.05", share)
        : 0.05;
  const plan = {
    difference: toNumber("difference", values.difference, "a number", (value) => value !== 0),
    spread: toNumber("spread", values.spread, "a number above 0", (value) => value > 0),
    level,
    tables:
      values.tables === undefined
        ? 2
        : toNumber(
            "tables",
            values.tables,
            "a whole number of tables from 2 to 1000",
            (value) => Number.isInteger(value) && value >= 2 && value <= 1000,
          ),
  };
  const looks =
    values.looks === undefined
      ? undefined
      : toNumber(
          "looks",
          values.looks,
          `a whole number of looks from 1 to ${MOST_LOOKS}`,
          (value) => Number.isInteger(value) && value >= 1 && value <= MOST_LOOKS,
        );
  const shots =
    values.shots !== undefined
      ? toNumber(
          "shots",
          values.shots,
          "a whole number of shots per table, 2 or more",
          (value) => Number.isInteger(value) && value >= 2,
        )
      : neededFor(
          plan,
          toNumber(
            "power",
            values.power ?? "",
            `a share between the level (${level}) and 1, such as 0.8`,
            (value) => value > level && value < 1,
          ),
        );
  const reached = power(plan, shots);
  const told = `${significant(100 * level, 3)} % level, ${plan.tables === 2 ? "two sides" : "all tables at once"}`;
  const method =
    plan.tables === 2
      ? "t test, power from the noncentral t distribution"
      : "analysis of variance, power from the noncentral F distribution";
  const tables = plan.tables === 2 ? "two" : String(plan.tables);
  const what =
    plan.tables === 2
      ? `a true difference of ${values.difference}`
      : `a true difference of ${values.difference} between the two farthest apart, the others half-way between,`;
  const text =
    values.shots !== undefined
      ? `With ${shots} shots on each of ${tables} tables, ${what} is found with probability ${significant(reached, 4)} when single shots scatter ${values.spread} (${told}; ${method}).`
      : `${shots} shots on each of ${tables} tables find ${what} with probability ${significant(reached, 4)} when single shots scatter ${values.spread} (${told}; ${method}).`;
  const alarms = looks === undefined ? undefined : falseAlarms(looks, level);
  const extra = {
    ...(values.tables !== undefined && { tables: plan.tables }),
    ...(alarms !== undefined && { looks, falseAlarms: alarms }),
  };
  const json =
    values.shots !== undefined
      ? { power: reached, shots, level, ...extra }
      : { shots, power: reached, level, ...extra };
  print(values.json ? JSON.stringify(json, null, 2) : [text, looksSentence(looks, level)].join("\n"));
  return Promise.resolve(0);
}

function neededFor(plan: Parameters<typeof shotsNeeded>[0], wanted: number): number {
  try {
    return shotsNeeded(plan, wanted);
  } catch (problem) {
    if (problem instanceof RangeError) throw new CommandError(`${problem.message}.`);
    throw problem;
  }
}
