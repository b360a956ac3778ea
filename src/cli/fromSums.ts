/** bendbook regress --from-sums: the answer from sums that a database took over rows that are not here. */
import { say, toText, joinTexts } from "../experiment/language/said";
import { confidenceText, counted, significant } from "../experiment/language/wording";
import { fitSums, type SummedFit, type SetSums } from "../statistics/fit/fromSums";
import { openFile } from "./readLog";
import { termJson } from "./regressJson";
import type { SumsQuestion } from "./sumsOptions";
import { tableLines, termRows } from "./table";
import { CommandError, type Voices } from "./usage";

/** Reads the sums, fits and prints. @returns the exit code */
export async function regressSums(question: SumsQuestion, { print }: Voices): Promise<number> {
  const { response, confidence, json } = question;
  const sums = await readSums(question);
  let fit: SummedFit;
  try {
    fit = fitSums(sums, confidence);
  } catch (problem) {
    if (problem instanceof RangeError) throw new CommandError(`${question.file}: ${problem.message}.`);
    throw problem;
  }
  print(json ? JSON.stringify(asJson(response, fit), null, 2) : asText(response, fit));
  return 0;
}

/** The sums under their headings: "rows", "mean of X", "X with Y". */
async function readSums({ file, response, drivers }: SumsQuestion): Promise<SetSums> {
  const { book } = await openFile(file);
  const [head, values, ...more] = (book.sheets[0]?.rows ?? []).map((row) => (row ?? []).map((cell) => cell?.value));
  if (!head || !values || more.length > 0)
    throw new CommandError(`${file} must hold a row of headings and one row of sums, as docs/large-sets.md shows.`);
  const places = new Map(
    head.map((heading, c) => [
      String(heading ?? "")
        .trim()
        .toLowerCase(),
      c,
    ]),
  );
  const sum = (...headings: readonly string[]): number => {
    const place = headings.map((heading) => places.get(heading.toLowerCase())).find((c) => c !== undefined);
    const [wanted = ""] = headings;
    if (place === undefined)
      throw new CommandError(`${file} has no column "${wanted}"; docs/large-sets.md shows how it is made.`);
    const value = values[place];
    if (typeof value !== "number")
      throw new CommandError(
        `${file}: "${wanted}" is ${value === undefined || value === null ? "blank" : `"${String(value)}"`} and must be a number.`,
      );
    return value;
  };
  const product = (a: string, b: string) => sum(`${a} with ${b}`, `${b} with ${a}`);
  return {
    rows: sum("rows"),
    drivers: drivers.map((name) => ({ name, mean: sum(`mean of ${name}`) })),
    responseMean: sum(`mean of ${response}`),
    products: drivers.map((a) => drivers.map((b) => product(a, b))),
    withResponse: drivers.map((name) => product(response, name)),
    responseSquares: product(response, response),
  };
}

function asJson(response: string, { rows, confidence, terms, residual, rSquared, F }: SummedFit): unknown {
  return {
    response,
    confidence,
    rowsUsed: rows,
    scatter: { as: "alike" },
    terms: terms.map(termJson),
    residual,
    rSquared,
    rSquaredAbout: "mean",
    F,
    untold: UNTOLD,
  };
}

const UNTOLD =
  "Sums say nothing of single rows: whether sessions go together, whether any row is far off, and whether the scatter is alike everywhere cannot be told from them.";

function asText(response: string, { rows, confidence, terms, residual, rSquared, F }: SummedFit): string {
  const lines = [
    `${response} from the sums of ${counted(rows, "row")}; every row counts as separate evidence.`,
    ...(residual.sd === null
      ? ["Too few rows for intervals."]
      : [
          say`Single rows scatter about the fit by a standard deviation of ${significant(residual.sd, 6)} (${residual.df} degrees of freedom).`,
        ]),
    ...(rSquared === null ? [] : [say`The drivers go with ${significant(100 * rSquared, 4)} % of the variation.`]),
    ...(F.p === null
      ? []
      : [say`All drivers together: F = ${significant(F.value ?? 0, 6)}, p = ${significant(F.p, 3)}.`]),
    UNTOLD,
    "",
    say`Coefficients, in the response's unit per unit of the driver, with ${confidenceText(confidence)} % intervals:`,
    ...tableLines(termRows(confidence, terms)),
  ];
  return toText(joinTexts(lines, "\n"));
}
