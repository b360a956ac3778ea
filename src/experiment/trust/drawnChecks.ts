/**
 * The bootstrap and the permutation test as work for beside the page, and what they say beside the plain answer.
 * Questions and answers are data only.
 */
import { say, joinTexts } from "../language/said";
import { membersOf, type Grouping } from "../../statistics/errors/errorModel";
import { proportion } from "../../statistics/measure/proportion";
import { regress, type RegressionProblem, type Regression } from "../../statistics/fit/regression";
import {
  bootstrap,
  permutation,
  type BootstrapResult,
  type PermutationResult,
  type Task,
} from "../../statistics/checks/resampling";
import { termTests } from "../../statistics/fit/wholeTerms";
import type { Sentence } from "../question/answer";
import { parseHeading } from "../log/header";
import {
  confidenceText,
  counted,
  decimalsFor,
  fixed,
  inSentence,
  pText,
  severalOf,
  significant,
} from "../language/wording";
import { there } from "../../there";

export interface BootstrapOrder {
  readonly question: RegressionProblem;
  readonly draws: number;
  readonly seed: number;
  /** Groups that are drawn as a whole; single rows otherwise. */
  readonly by?: Grouping;
}

export interface PermutationOrder {
  readonly question: RegressionProblem;
  /** Index of the driver that is tested, with every joint effect that it takes part in. */
  readonly driver: number;
  readonly draws: number;
  readonly seed: number;
  /** Groups within which rows are exchanged; all rows otherwise. */
  readonly within?: Grouping;
}

/** So many multiplications make a step of some milliseconds. */
const STEP = 3_000_000;

function* inSteps<Result>(task: Task<Result>, each: number): Generator<number, Result> {
  const count = Math.max(1, Math.floor(STEP / each));
  while (task.done < task.total) {
    task.advance(count);
    yield task.done / task.total;
  }
  return task.result();
}

/** The plain fit, whatever was said of the scatter: the draws bring their own. */
function plainFit({ errors: _errors, ...question }: RegressionProblem): Regression {
  return regress(question);
}

/** Draws rows, or whole groups, anew and fits each time. @throws RangeError as regress does */
export function* bootstrapSteps({ question, draws, seed, by }: BootstrapOrder): Generator<number, BootstrapResult> {
  const regression = plainFit(question);
  const size = regression.fit.kept.length;
  return yield* inSteps(
    bootstrap(regression, { draws, seed, ...(by && { by }) }),
    (by ? by.levels.length : regression.rows) * (size * (size + 3)) * 0.5,
  );
}

/**
 * Exchanges what the other drivers leave over and tests each time.
 * @throws RangeError as permutation does, and when the driver never changes within a group: its part in the scatter
 * would stay where it is
 */
export function* permutationSteps({
  question,
  driver,
  draws,
  seed,
  within,
}: PermutationOrder): Generator<number, PermutationResult> {
  const { name, values } = there(question.drivers[driver], "a driver");
  if (within && membersOf(within).every((members) => new Set(members.map((row) => values[row])).size === 1)) {
    throw new RangeError(
      `"${name}" never changes within one ${within.name}, so exchanging shots within it tells nothing of ${name}: check its interval by draws of whole ${within.name} groups, or exchange single shots`,
    );
  }
  const regression = plainFit(question);
  return yield* inSteps(
    permutation(regression, ({ drivers }) => drivers.includes(driver), { draws, seed, ...(within && { within }) }),
    regression.rows * (regression.fit.kept.length + 6),
  );
}

/** Ends of two intervals that differ by less than this share of the plain one's width count as agreeing. */
const ALIKE = 0.15;
/** Fewer groups than this cannot tell by draws how groups scatter. */
const ENOUGH_GROUPS = 20;

/** What the draws say beside the intervals of the answer, and whether they agree. */
export function bootstrapSentences(
  regression: Regression,
  { draws, failed, terms }: BootstrapResult,
  { seed, by }: Pick<BootstrapOrder, "seed" | "by">,
): Sentence[] {
  const group = inSentence(parseHeading(by?.name ?? ""));
  const what = by
    ? counted(by.levels.length, `whole ${group}`, `whole ${severalOf(group)}`)
    : counted(regression.rows, "single row");
  const percent = say`${confidenceText(regression.confidence)} %`;
  const sentences: Sentence[] = [
    {
      kind: "summary",
      text: say`${draws.toLocaleString("en")} draws of ${what} with replacement (seed ${seed}), each fitted by plain least squares; ${percent} intervals corrected for bias and skew after Efron, 1987.${failed > 0 ? ` ${counted(failed, "draw")} could not determine every coefficient and ${failed === 1 ? "is" : "are"} left out.` : ""}`,
    },
  ];
  const differing = terms.flatMap(({ label, low, high }, index) => {
    const plain = there(regression.terms[index], "a term");
    if (plain.drivers.length === 0 || low === null || high === null || plain.low === null || plain.high === null)
      return [];
    const width = plain.high - plain.low;
    const off = Math.max(Math.abs(low - plain.low), Math.abs(high - plain.high)) / width;
    const told = (a: number, b: number) => a > 0 || b < 0;
    const parted = told(low, high) !== told(plain.low, plain.high);
    if (!parted && off <= ALIKE) return [];
    const decimals = decimalsFor(plain.standardError ?? 0);
    const ends = say`${fixed(low, decimals)} to ${fixed(high, decimals)} by draws, ${fixed(plain.low, decimals)} to ${fixed(plain.high, decimals)} in the answer`;
    return [
      say`${label}: ${ends}${parted ? "; one of the two holds 0 and the other does not, so whether it matters hangs on the method" : high - low > width ? ` (${Math.round(100 * ((high - low) / width - 1))} % wider by draws)` : ` (${Math.round(100 * (1 - (high - low) / width))} % narrower by draws)`}`,
    ];
  });
  const compared = terms.some(({ low }, index) => {
    const plain = there(regression.terms[index], "a term");
    return low !== null && plain.low !== null && plain.drivers.length > 0;
  });
  if (!compared)
    sentences.push({ kind: "missing", text: "There is no interval of the answer to set beside the draws." });
  else if (differing.length === 0)
    sentences.push({
      kind: "finding",
      text: `The draws agree with the intervals of the answer: no end is off by more than ${100 * ALIKE} % of an interval's width.`,
    });
  else
    sentences.push({
      kind: "finding",
      text: say`The draws do not agree with every interval of the answer. ${joinTexts(differing, ". ")}. Where the two differ, lean on the wider.`,
    });
  if (by && by.levels.length < ENOUGH_GROUPS) {
    sentences.push({
      kind: "caution",
      text: `With ${by.levels.length} ${severalOf(group)} only, draws of whole ${severalOf(group)} tend to give intervals that are too narrow; from about ${ENOUGH_GROUPS} on they can be leaned on.`,
    });
  }
  if (!by) sentences.push({ kind: "caution", text: "Drawing single rows takes every shot as a shot on its own." });
  return sentences;
}

/** What exchanging rows says of a driver beside the p-value of the answer, and whether they agree. */
export function permutationSentences(
  regression: Regression,
  { draws, p }: PermutationResult,
  { driver, seed, within }: Pick<PermutationOrder, "driver" | "seed" | "within">,
): Sentence[] {
  const name = inSentence(parseHeading(there(regression.question.drivers[driver], "a driver").name));
  const asLarge = Math.round(p * (draws + 1)) - 1;
  const where = within ? `within each ${inSentence(parseHeading(within.name))} ` : "";
  const share = proportion(asLarge, draws, 0.99);
  const sentences: Sentence[] = [
    {
      kind: "summary",
      text: say`What the other drivers leave over was put in random order ${where}${draws.toLocaleString("en")} times (seed ${seed}; after Freedman and Lane, 1983): in ${asLarge.toLocaleString("en")} of them ${name} seemed to matter as much as in the rows as they are, ${pText(p)}.`,
    },
  ];
  const plain = there(termTests(regression)[driver], "a driver's test").test.p;
  if (plain === null)
    return [...sentences, { kind: "missing", text: `The answer has no p-value for ${name} to set beside it.` }];
  const reach = say`so many draws tell the share to within ${significant(share.low, 2)} to ${significant(share.high, 2)} (99 % interval)`;
  const agree = plain >= share.low && plain <= share.high;
  const threshold = 1 - regression.confidence;
  if (agree) sentences.push({ kind: "finding", text: say`That agrees with the answer's ${pText(plain)}: ${reach}.` });
  else if (plain < threshold === p < threshold)
    sentences.push({
      kind: "open",
      text: say`The answer has ${pText(plain)}; ${reach}. The two differ, but not in what they say at ${confidenceText(regression.confidence)} %.`,
    });
  else
    sentences.push({
      kind: "finding",
      text: say`That does not agree with the answer's ${pText(plain)}: ${reach}. Whether ${name} matters hangs on the method here.`,
    });
  if (!within) sentences.push({ kind: "caution", text: "Exchanging all rows takes every shot as a shot on its own." });
  return sentences;
}
