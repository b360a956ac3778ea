/** What is typed behind bendbook regress --from-sums, read. */
import { parseArgs } from "node:util";
import { optionConfidence, withNegatives } from "./options";
import { UsageError } from "./usage";

export interface SumsQuestion {
  readonly file: string;
  readonly response: string;
  readonly drivers: readonly string[];
  readonly confidence: number;
  readonly json: boolean;
}

/** Whether sums are asked about and no rows. */
export function asksOfSums(args: readonly string[]): boolean {
  return args.some((arg) => /^--from-sums(?:=|$)/.test(arg));
}

/** @throws UsageError */
export function readSumsOptions(args: string[]): SumsQuestion {
  const { values, positionals } = parseArgs({
    args: withNegatives(args),
    allowPositionals: true,
    // Options that need the rows are taken, to be refused in words.
    strict: false,
    options: {
      "from-sums": { type: "string" },
      response: { type: "string" },
      driver: { type: "string", multiple: true },
      confidence: { type: "string" },
      json: { type: "boolean" },
    },
  });
  const { "from-sums": file, response, driver = [], confidence, json, ...others } = values;
  const [other] = Object.keys(others);
  if (other !== undefined)
    throw new UsageError(
      `--${other} needs the rows themselves, and --from-sums has none: it goes with --response, --driver, --confidence and --json. A category or a curve is a column of its own in the sums, as docs/large-sets.md shows.`,
    );
  if (positionals.length > 0)
    throw new UsageError(
      `--from-sums FILE stands in place of the log; this was given besides: ${positionals.join(", ")}.`,
    );
  if (typeof file !== "string" || file === "") throw new UsageError("--from-sums needs the file that holds the sums.");
  if (typeof response !== "string") throw new UsageError("--from-sums needs --response HEADER, the column to explain.");
  const drivers = driver.map(String);
  const twice = drivers.find((name, i) => name === response || drivers.indexOf(name) < i);
  if (twice !== undefined) throw new UsageError(`"${twice}" is named twice: name each column once.`);
  return {
    file,
    response,
    drivers,
    confidence: optionConfidence(typeof confidence === "string" ? confidence : undefined),
    json: json === true,
  };
}
