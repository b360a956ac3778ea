/** What --bootstrap and --permute add to an answer. */
import { say, toText } from "../experiment/language/said";
import type { Analysis } from "../experiment/question/analysis";
import {
  bootstrapSentences,
  bootstrapSteps,
  permutationSentences,
  permutationSteps,
} from "../experiment/trust/drawnChecks";
import { parseHeading } from "../experiment/log/header";
import { confidenceText, inSentence, significant } from "../experiment/language/wording";
import type { DrawCounts } from "./drawOptions";
import { tableLines } from "./table";

export interface Drawn {
  /** For JSON, by "bootstrap" and "permutation". */
  readonly json: Record<string, unknown>;
  readonly lines: readonly string[];
}

/**
 * Draws whole groups, or exchanges rows within them, where the question says that rows of a group go together; single
 * rows otherwise.
 * @param progress hears how far it is
 */
export function drawAgain(
  { regression }: Analysis,
  { bootstrap, permute, seed }: DrawCounts,
  progress: (text: string) => void,
): Drawn {
  const { question } = regression;
  const by = question.errors && question.errors.kind !== "robust" ? question.errors.by : undefined;
  const json: Record<string, unknown> = {};
  const lines: string[] = [];
  if (bootstrap !== undefined) {
    const order = { question, draws: bootstrap, seed, ...(by && { by }) };
    const found = carryOut(bootstrapSteps(order), `of ${bootstrap.toLocaleString("en")} draws`, progress);
    const sentences = bootstrapSentences(regression, found, order).map(({ text }) => toText(text));
    json.bootstrap = {
      draws: found.draws,
      failed: found.failed,
      seed,
      groups: by?.name ?? null,
      terms: found.terms.map(({ label, ...rest }) => ({ term: label, ...rest })),
      sentences,
    };
    const percent = say`${confidenceText(regression.confidence)} %`;
    const cell = (value: number | null) => (value === null ? "not estimated" : toText(significant(value, 6)));
    lines.push(
      "",
      ...sentences,
      ...tableLines([
        ["term", "estimate", "standard error by draws", toText(say`${percent} low`), toText(say`${percent} high`)],
        ...found.terms.map(({ label, estimate, standardError, low, high }) => [
          label,
          cell(estimate),
          cell(standardError),
          cell(low),
          cell(high),
        ]),
      ]),
    );
  }
  if (permute !== undefined) {
    const tests = question.drivers.map(({ name }, driver) => {
      const order = { question, driver, draws: permute, seed, ...(by && { within: by }) };
      try {
        const found = carryOut(
          permutationSteps(order),
          `of ${permute.toLocaleString("en")} exchanges for ${inSentence(parseHeading(name))}`,
          progress,
        );
        return {
          term: name,
          draws: found.draws,
          F: found.value,
          p: found.p,
          sentences: permutationSentences(regression, found, order).map(({ text }) => toText(text)),
        };
      } catch (problem) {
        if (!(problem instanceof RangeError)) throw problem;
        return {
          term: name,
          draws: 0,
          F: null,
          p: null,
          sentences: [`No exchange tells whether ${inSentence(parseHeading(name))} matters: ${problem.message}.`],
        };
      }
    });
    json.permutation = { seed, within: by?.name ?? null, tests };
    if (tests.length > 0) lines.push("", ...new Set(tests.flatMap(({ sentences }) => sentences)));
  }
  return { json, lines };
}

function carryOut<Result>(steps: Generator<number, Result>, of: string, progress: (text: string) => void): Result {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
    progress(`${Math.floor(100 * value)} % ${of}`);
  }
}
