/** bendbook evaluate. */
import { parseArgs } from "node:util";
import { isCellError, type CellValue } from "../workbook/book";
import { bankLibrary } from "../functions/library";
import { computeFormulas } from "../workbook/direct/computeBook";
import { bareFormula } from "../workbook/embedded/formula/readable";
import { UsageError, type Voices } from "./usage";

/** Computes the formulas and prints them. @returns the exit code: 1 when any is or holds an error */
export async function evaluate(args: string[], { print }: Voices): Promise<number> {
  const { values, positionals: formulas } = parseArgs({
    args,
    allowPositionals: true,
    options: { json: { type: "boolean" } },
  });
  if (formulas.length === 0) throw new UsageError("evaluate needs a formula, such as 'BANK.BEND(1/8)'.");
  const results = await resultsOf(formulas);
  const failed = results.some((result) => [result].flat(2).some(isCellError));
  if (values.json) {
    const rows = results.map((result, index) =>
      isCellError(result)
        ? { formula: formulas[index], error: result.error, message: result.message ?? "" }
        : { formula: formulas[index], value: result },
    );
    print(JSON.stringify(rows, null, 2));
  } else {
    results.forEach((result, index) => print(`${formulas[index]}\n${asText(result)}`));
  }
  return failed ? 1 : 0;
}

type Result = CellValue | CellValue[][];

/** What the formulas give. The grid's engine, which takes a second to start, is asked only where it is needed. */
async function resultsOf(formulas: readonly string[]): Promise<readonly Result[]> {
  const direct = computeFormulas(formulas.map(bareFormula), bankLibrary);
  if (direct.every((result) => result !== undefined)) return direct as Result[];
  const { createEngine } = await import("../workbook/embedded/engine");
  const engine = await createEngine();
  try {
    return await engine.evaluate(formulas);
  } finally {
    engine.dispose();
  }
}

function asText(result: CellValue | CellValue[][]): string {
  if (Array.isArray(result))
    return result.map((row) => `  ${row.map((cell) => asText(cell).trim()).join("\t")}`).join("\n");
  if (isCellError(result)) return `  ${result.error}${result.message ? ` ${result.message}` : ""}`;
  return `  ${result === null ? "(blank)" : typeof result === "boolean" ? String(result).toUpperCase() : result}`;
}
