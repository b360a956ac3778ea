/** BANK.POWER and BANK.SHOTS over ranges. */
import { power, sessionPower, sessionShotsNeeded, shotsNeeded, type TableComparison } from "../statistics/design/power";
import { isBlank, lift, argumentNumber, toWhole } from "./arguments";
import { messages } from "./messages";
import { orSheetError } from "./tableColumns";

function plan(difference: unknown, spread: unknown, level: unknown, tables: unknown): TableComparison {
  return {
    difference: argumentNumber("difference", difference, "a number in the unit of spread"),
    spread: above("spread", spread, "the standard deviation of single shots, above 0"),
    level: isBlank(level) ? 0.05 : share("level", level, "0.05"),
    tables: isBlank(tables) ? 2 : toWhole("tables", tables, 2, 1000),
  };
}

function above(name: string, cell: unknown, what: string): number {
  const number = argumentNumber(name, cell, what);
  if (!(number > 0)) throw messages.outOfRange(name, cell, `give ${what}`);
  return number;
}

function share(name: string, cell: unknown, example: string): number {
  const what = `a share between 0 and 1, such as ${example}`;
  const number = argumentNumber(name, cell, what);
  if (!(number > 0 && number < 1)) throw messages.outOfRange(name, cell, `give ${what}`);
  return number;
}

/** Sessions on each table and how they scatter; undefined where neither is said. */
function sessionsOf(
  spread: unknown,
  count: unknown,
): { readonly sessionSpread: number; readonly sessions: number } | undefined {
  if (isBlank(spread) && isBlank(count)) return undefined;
  const what = "the standard deviation between sessions, 0 or more, in the unit of spread";
  if (isBlank(spread)) throw messages.blank("sessionSpread", what);
  if (isBlank(count)) throw messages.blank("sessions", "how many sessions each table is visited in, 2 or more");
  const sessionSpread = argumentNumber("sessionSpread", spread, what);
  if (!(sessionSpread >= 0)) throw messages.outOfRange("sessionSpread", spread, `give ${what}`);
  return { sessionSpread, sessions: toWhole("sessions", count, 2, Infinity) };
}

/** Power of so many shots per table. */
export function powerCells(
  difference: unknown,
  spread: unknown,
  shots: unknown,
  level: unknown,
  tables: unknown,
  sessionSpread: unknown,
  sessions: unknown,
): unknown[][] {
  return lift({ difference, spread, shots, level, tables, sessionSpread, sessions }, (d, s, n, l, k, t, m) => {
    const asked = plan(d, s, l, k);
    const visits = sessionsOf(t, m);
    const count = toWhole("shots", n, visits ? 1 : 2, Infinity);
    return orSheetError(() =>
      visits ? sessionPower({ ...asked, ...visits }, visits.sessions, count) : power(asked, count),
    );
  });
}

/** Shots per table for a power. */
export function shotsCells(
  difference: unknown,
  spread: unknown,
  wanted: unknown,
  level: unknown,
  tables: unknown,
  sessionSpread: unknown,
  sessions: unknown,
): unknown[][] {
  return lift({ difference, spread, power: wanted, level, tables, sessionSpread, sessions }, (d, s, p, l, k, t, m) => {
    const asked = plan(d, s, l, k);
    const visits = sessionsOf(t, m);
    const reach = share("power", p, "0.8");
    return orSheetError(() =>
      visits ? sessionShotsNeeded({ ...asked, ...visits }, visits.sessions, reach) : shotsNeeded(asked, reach),
    );
  });
}
