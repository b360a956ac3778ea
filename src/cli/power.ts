/** bendbook power. */
import { say, toText } from "../experiment/language/said";
import { looksSentence } from "../experiment/plan/looksWords";
import { significant } from "../experiment/language/wording";
import { falseAlarms } from "../statistics/design/looks";
import { power, sessionPower, sessionShotsNeeded, sessionsNeeded, shotsNeeded } from "../statistics/design/power";
import { readPowerOptions, type PowerAsked, type PowerOptions } from "./powerOptions";
import { CommandError, type Voices } from "./usage";

/** Plans and prints. @returns the exit code */
export function powerCommand(args: string[], { print }: Voices): Promise<number> {
  const options = readPowerOptions(args);
  const { looks, plan } = options;
  const found = orCommandError(() => counts(options));
  const alarms = looks === undefined ? undefined : falseAlarms(looks, plan.level);
  print(
    options.json
      ? JSON.stringify(asJson(options, found, alarms), null, 2)
      : [asText(options, found), toText(looksSentence(looks, plan.level))].join("\n"),
  );
  return Promise.resolve(0);
}

/** Shots on each table, or in each session of each table, and what they reach. */
interface Found {
  readonly shots: number;
  readonly sessions?: number;
  readonly power: number;
}

function counts({ plan, sessionSpread, asked }: PowerOptions): Found {
  if (sessionSpread === undefined) {
    const shots = asked.shots ?? shotsNeeded(plan, asked.power ?? NaN);
    return { shots, power: power(plan, shots) };
  }
  const nested = { ...plan, sessionSpread };
  const { shots, sessions } = sessionCounts(nested, asked);
  return { shots, sessions, power: sessionPower(nested, sessions, shots) };
}

function sessionCounts(
  nested: Parameters<typeof sessionPower>[0],
  { shots, sessions, power: wanted = NaN }: PowerAsked,
): { readonly shots: number; readonly sessions: number } {
  if (sessions === undefined && shots !== undefined) return { shots, sessions: sessionsNeeded(nested, shots, wanted) };
  const given = sessions ?? 2;
  return { shots: shots ?? sessionShotsNeeded(nested, given, wanted), sessions: given };
}

function asJson(
  { plan, sessionSpread, looks, asked, tablesSaid }: PowerOptions,
  { shots, sessions, power: reached }: Found,
  alarms: number | undefined,
): Record<string, unknown> {
  return {
    ...(asked.power === undefined ? { power: reached, shots } : { shots, power: reached }),
    ...(sessions !== undefined && { sessions, sessionSpread }),
    level: plan.level,
    ...(tablesSaid && { tables: plan.tables }),
    ...(alarms !== undefined && { looks, falseAlarms: alarms }),
  };
}

function asText(
  { plan, sessionSpread, asked, typed }: PowerOptions,
  { shots, sessions, power: reached }: Found,
): string {
  const two = plan.tables === 2;
  const told = say`${significant(100 * plan.level, 3)} % level, ${two ? "two sides" : "all tables at once"}`;
  const onMeans = sessions === undefined ? "" : " on session means";
  const method = two
    ? `t test${onMeans}, power from the noncentral t distribution`
    : `analysis of variance${onMeans}, power from the noncentral F distribution`;
  const what = two
    ? `a true difference of ${typed.difference}`
    : `a true difference of ${typed.difference} between the two farthest apart, the others half-way between,`;
  const tables = two ? "two" : String(plan.tables);
  const amount =
    sessions === undefined
      ? `${shots} shots on each of ${tables} tables`
      : `${sessions} sessions of ${shots} ${shots === 1 ? "shot" : "shots"} each on each of ${tables} tables`;
  const chance = say`with probability ${significant(reached, 4)}`;
  const scatter = say`when single shots scatter ${typed.spread}${sessions === undefined ? "" : ` and sessions ${sessionSpread}`} (${told}; ${method}).`;
  return asked.power === undefined
    ? toText(say`With ${amount}, ${what} is found ${chance} ${scatter}`)
    : toText(say`${amount} find ${what} ${chance} ${scatter}`);
}

function orCommandError<T>(work: () => T): T {
  try {
    return work();
  } catch (problem) {
    if (problem instanceof RangeError) throw new CommandError(`${problem.message}.`);
    throw problem;
  }
}
