/** BANK.POWER and BANK.SHOTS over ranges. */
import { power, shotsNeeded, type Plan } from "../statistics/design/power";
import { isBlank, lift, toNumber, toWhole } from "./arguments";
import { messages } from "./messages";
import { orSheetError } from "./tableColumns";

function plan(difference: unknown, spread: unknown, level: unknown, tables: unknown): Plan {
  return {
    difference: toNumber("difference", difference, "a number in the unit of spread"),
    spread: above("spread", spread, "the standard deviation of single shots, above 0"),
    level: isBlank(level) ? 0.05 : share("level", level, "0.05"),
    tables: isBlank(tables) ? 2 : toWhole("tables", tables, 2, 1000),
  };
}

function above(name: string, cell: unknown, what: string): number {
  const number = toNumber(name, cell, what);
  if (!(number > 0)) throw messages.outOfRange(name, cell, `give ${what}`);
  return number;
}

function share(name: string, cell: unknown, example: string): number {
  const what = `a share between 0 and 1, such as ${example}`;
  const number = toNumber(name, cell, what);
  if (!(number > 0 && number < 1)) throw messages.outOfRange(name, cell, `give ${what}`);
  return number;
}

/** Power of so many shots per table. */
export function powerCells(
  difference: unknown,
  spread: unknown,
  shots: unknown,
  level: unknown,
  tables: unknown,
): unknown[][] {
  return lift({ difference, spread, shots, level, tables }, (d, s, n, l, k) => {
    const asked = plan(d, s, l, k);
    const count = toWhole("shots", n, 2, Infinity);
    return orSheetError(() => power(asked, count));
  });
}

/** Shots per table for a power. */
export function shotsCells(
  difference: unknown,
  spread: unknown,
  wanted: unknown,
  level: unknown,
  tables: unknown,
): unknown[][] {
  return lift({ difference, spread, power: wanted, level, tables }, (d, s, p, l, k) => {
    const asked = plan(d, s, l, k);
    const reach = share("power", p, "0.8");
    return orSheetError(() => shotsNeeded(asked, reach));
  });
}
