/** What --bootstrap, --permute and --seed ask for. */
import { optionNumber } from "./options";
import { UsageError } from "./usage";

/** How often to draw; a part that is left out was not asked for. */
export interface DrawCounts {
  readonly bootstrap?: number;
  readonly permute?: number;
  readonly seed: number;
}

/** @throws UsageError when a count or the seed cannot be read, or there is a seed with nothing to draw */
export function readDraws({
  bootstrap,
  permute,
  seed,
}: Readonly<Record<string, string | undefined>>): DrawCounts | undefined {
  if (bootstrap === undefined && permute === undefined) {
    if (seed !== undefined)
      throw new UsageError("--seed goes with --bootstrap or --permute: there is nothing to draw without them.");
    return undefined;
  }
  return {
    ...(bootstrap !== undefined && { bootstrap: count("bootstrap", bootstrap) }),
    ...(permute !== undefined && { permute: count("permute", permute) }),
    seed: seed === undefined ? 1 : wholeFrom("seed", seed, 0, 999_999_999, "a whole number from 0 to 999999999"),
  };
}

function count(name: string, text: string): number {
  return wholeFrom(name, text, 100, 1e6, "a whole number of draws from 100 to 1000000");
}

function wholeFrom(name: string, text: string, least: number, most: number, what: string): number {
  return optionNumber(name, text, what, (value) => Number.isInteger(value) && value >= least && value <= most);
}
