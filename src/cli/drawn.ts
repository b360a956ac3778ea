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
import type { Grouping } from "../statistics/errors/errorModel";
import { there } from "../there";
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
  const { errors } = regression.question;
  const by = errors && errors.kind !== "robust" ? errors.by : undefined;
  const asked: Asked = { regression, seed, by, progress };
  const parts = [
    ...(bootstrap === undefined ? [] : [drawnRows(asked, bootstrap)]),
    ...(permute === undefined ? [] : [exchangedRows(asked, permute)]),
  ];
  return { json: Object.assign({}, ...parts.map(({ json }) => json)), lines: parts.flatMap(({ lines }) => lines) };
}

interface Asked extends Pick<Analysis, "regression"> {
  readonly seed: number;
  /** Whose rows go together; undefined where each is on its own. */
  readonly by: Grouping | undefined;
  readonly progress: (text: string) => void;
}

/** Every coefficient by so many draws. */
function drawnRows({ regression, seed, by, progress }: Asked, draws: number): Drawn {
  const order = { question: regression.question, draws, seed, ...(by && { by }) };
  const found = carryOut(bootstrapSteps(order), `of ${draws.toLocaleString("en")} draws`, progress);
  const sentences = bootstrapSentences(regression, found, order).map(({ text }) => toText(text));
  const percent = say`${confidenceText(regression.confidence)} %`;
  const cell = (value: number | null) => (value === null ? "not estimated" : toText(significant(value, 6)));
  return {
    json: {
      bootstrap: {
        draws: found.draws,
        failed: found.failed,
        seed,
        groups: by?.name ?? null,
        terms: found.terms.map(({ label, ...rest }) => ({ term: label, ...rest })),
        sentences,
      },
    },
    lines: [
      "",
      ...sentences,
      ...tableLines([
        ["term", "estimate", "standard error by draws", toText(say`${percent} low`), toText(say`${percent} high`)],
        ...found.terms.map(({ label, estimate, standardError, low, high }) => [
          label,
          ...[estimate, standardError, low, high].map(cell),
        ]),
      ]),
    ],
  };
}

/** Every driver by so many exchanges; one of which no exchange tells has that said in its place. */
function exchangedRows(asked: Asked, draws: number): Drawn {
  const { seed, by } = asked;
  const tests = asked.regression.question.drivers.map((_, driver) => exchanged(asked, driver, draws));
  return {
    json: { permutation: { seed, within: by?.name ?? null, tests } },
    lines: tests.length === 0 ? [] : ["", ...new Set(tests.flatMap(({ sentences }) => sentences))],
  };
}

function exchanged({ regression, seed, by, progress }: Asked, driver: number, draws: number) {
  const { question } = regression;
  const { name } = there(question.drivers[driver], "a driver");
  const order = { question, driver, draws, seed, ...(by && { within: by }) };
  const said = inSentence(parseHeading(name));
  try {
    const found = carryOut(permutationSteps(order), `of ${draws.toLocaleString("en")} exchanges for ${said}`, progress);
    const sentences = permutationSentences(regression, found, order).map(({ text }) => toText(text));
    return { term: name, draws: found.draws, F: found.value, p: found.p, sentences };
  } catch (problem) {
    if (!(problem instanceof RangeError)) throw problem;
    const sentences = [`No exchange tells whether ${said} matters: ${problem.message}.`];
    return { term: name, draws: 0, F: null, p: null, sentences };
  }
}

function carryOut<Result>(steps: Generator<number, Result>, of: string, progress: (text: string) => void): Result {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
    progress(`${Math.floor(100 * value)} % ${of}`);
  }
}
