/** bendbook regress. */
import { parseArgs } from "node:util";
import { analyse, type Analysis } from "../experiment/question/analysis";
import { answerSentences, type Sentence } from "../experiment/question/answer";
import type { Choice, DriverChoice } from "../experiment/question/choice";
import { analyseMade, madeSentences, type MadeAnalysis } from "../experiment/question/madeAnalysis";
import { rateAt, type RateAt } from "../experiment/question/madeRates";
import { columnNamed } from "../experiment/question/rowCheck";
import { plainTerms, sessionAware } from "../experiment/question/sessionAware";
import { trustChecks, trustSentences } from "../experiment/trust/trustChecks";
import type { TrialLog } from "../experiment/log/trialLog";
import { counted, significant } from "../experiment/language/wording";
import type { Term } from "../statistics/fit/regression";
import { termTests } from "../statistics/fit/wholeTerms";
import { drawAgain, type Draws } from "./drawn";
import { scatterOf, toConfidence, toNumber, withNegatives } from "./options";
import { findLog, openFile, recomputed } from "./readLog";
import { outsideJson, readAsLines, remarkLines, remarksJson, sheetLine, tableLines } from "./table";
import { CommandError, UsageError, type Voices } from "./usage";

interface RegressOptions {
  readonly file: string;
  readonly sheet: string | undefined;
  readonly takeIn: boolean;
  readonly choice: Choice;
  /** The response says made or missed. */
  readonly made: boolean;
  /** Settings of --at, as typed: "HEADER=VALUE". */
  readonly at: readonly string[];
  readonly draws: Draws | undefined;
  readonly json: boolean;
}

/** Fits and prints. @returns the exit code */
export async function regressCommand(args: string[], { print, progress, warn }: Voices): Promise<number> {
  const options = readOptions(args);
  const { book } = await openFile(options.file);
  const log = await findLog(await recomputed(book), options, options.choice.response, warn);
  if (options.made) {
    const analysis = analyseMade(log, exactHeadings(log, options.choice));
    const rate = options.at.length > 0 ? readRate(analysis, options.at) : undefined;
    print(options.json ? JSON.stringify(madeJson(analysis, rate), null, 2) : madeText(analysis, rate));
    return 0;
  }
  const analysis = analyse(log, exactHeadings(log, options.choice));
  const drawn = options.draws && drawAgain(analysis, options.draws, progress);
  print(
    options.json
      ? JSON.stringify({ ...asJson(analysis), ...drawn?.json }, null, 2)
      : [asText(analysis), ...(drawn?.lines ?? [])].join("\n"),
  );
  return 0;
}

/** Reads the options, keeping the order in which columns are named. @throws UsageError */
function readOptions(args: string[]): RegressOptions {
  const { tokens } = parseArgs({
    args: withNegatives(args),
    allowPositionals: true,
    tokens: true,
    options: {
      sheet: { type: "string" },
      response: { type: "string" },
      made: { type: "string" },
      driver: { type: "string", multiple: true },
      category: { type: "string", multiple: true },
      curve: { type: "string", multiple: true },
      joint: { type: "string", multiple: true },
      "no-constant": { type: "boolean" },
      confidence: { type: "string" },
      robust: { type: "boolean" },
      cluster: { type: "string" },
      random: { type: "string" },
      weight: { type: "string" },
      at: { type: "string", multiple: true },
      bootstrap: { type: "string" },
      permute: { type: "string" },
      seed: { type: "string" },
      "take-in": { type: "boolean" },
      json: { type: "boolean" },
    },
  });
  const files: string[] = [];
  const drivers = new Map<string, DriverChoice>();
  const joint: [string, string][] = [];
  const once: Record<string, string> = {};
  const at: string[] = [];
  const name = (heading: string, change: (before: DriverChoice | undefined) => DriverChoice) =>
    drivers.set(heading, change(drivers.get(heading)));
  for (let i = 0; i < tokens.length; i++) {
    const token = tokens[i];
    if (token.kind === "positional") files.push(token.value);
    if (token.kind !== "option") continue;
    const value = token.value ?? "";
    /** The second value of an option that takes two. */
    const second = (what: string) => {
      const next = tokens[i + 1];
      if (next?.kind !== "positional") throw new UsageError(`--${token.name} "${value}" needs ${what} behind it.`);
      i++;
      return next.value;
    };
    switch (token.name) {
      case "driver":
        name(value, (before) => {
          if (before?.as === "category")
            throw new UsageError(`"${value}" is named both as --driver and as --category: choose one.`);
          return before ?? { heading: value, as: "number", degree: 1 };
        });
        break;
      case "category":
        name(value, (before) => {
          if (before?.as === "number")
            throw new UsageError(`"${value}" is named both as a number and as --category: choose one.`);
          return { heading: value, as: "category", degree: 1 };
        });
        break;
      case "curve": {
        const text = second("a degree from 1 to 10");
        const degree = Number(text);
        if (!Number.isInteger(degree) || degree < 1 || degree > 10)
          throw new UsageError(`the degree of --curve "${value}" is "${text}": give a whole number from 1 to 10.`);
        name(value, (before) => {
          if (before?.as === "category") throw new UsageError(`"${value}" is a category and cannot curve.`);
          return { heading: value, as: "number", degree };
        });
        break;
      }
      case "joint":
        joint.push([value, second("a second heading")]);
        break;
      case "at":
        at.push(value);
        break;
      default:
        if (token.name in once && !["json", "no-constant", "robust"].includes(token.name))
          throw new UsageError(`--${token.name} is given twice: give it once.`);
        once[token.name] = value;
    }
  }
  if (files.length !== 1)
    throw new UsageError(
      files.length === 0
        ? "regress needs a file (.xlsx or .csv)."
        : `regress takes one file; these were given: ${files.join(", ")}.`,
    );
  if (once.response !== undefined && once.made !== undefined)
    throw new UsageError("--response and --made are given together: name one column to explain.");
  const response = once.response ?? once.made;
  if (response === undefined)
    throw new UsageError(
      "regress needs --response HEADER, the column to explain, or --made HEADER, the column that says how shots ended.",
    );
  const scatter = scatterOf(once);
  if (once.made !== undefined && scatter.scatter && scatter.scatter.as !== "cluster") {
    throw new UsageError(
      `--${scatter.scatter.as} goes with --response: with --made use --cluster HEADER for shots that go together; how single shots scatter follows from the chance.`,
    );
  }
  if (once.made !== undefined && once.weight !== undefined)
    throw new UsageError("--weight goes with --response: weights are not there for --made.");
  if (at.length > 0 && once.made === undefined)
    throw new UsageError("--at goes with --made: it asks for the success rate at settings.");
  const draws = readDraws(once);
  if (draws && once.made !== undefined)
    throw new UsageError(
      "--bootstrap and --permute go with --response: with --made use --cluster HEADER for shots that go together.",
    );
  const confidence = toConfidence(once.confidence);
  return {
    file: files[0],
    sheet: once.sheet,
    takeIn: "take-in" in once,
    choice: {
      response,
      drivers: [...drivers.values()],
      joint,
      constant: !("no-constant" in once),
      confidence,
      ...scatter,
      ...(once.weight !== undefined && { weight: once.weight }),
    },
    made: once.made !== undefined,
    at,
    draws,
    json: "json" in once,
  };
}

/** @throws UsageError when a count or the seed cannot be read, or there is a seed with nothing to draw */
function readDraws({ bootstrap, permute, seed }: Readonly<Record<string, string | undefined>>): Draws | undefined {
  if (bootstrap === undefined && permute === undefined) {
    if (seed !== undefined)
      throw new UsageError("--seed goes with --bootstrap or --permute: there is nothing to draw without them.");
    return undefined;
  }
  const count = (name: string, text: string) =>
    toNumber(
      name,
      text,
      "a whole number of draws from 100 to 1000000",
      (value) => Number.isInteger(value) && value >= 100 && value <= 1e6,
    );
  return {
    ...(bootstrap !== undefined && { bootstrap: count("bootstrap", bootstrap) }),
    ...(permute !== undefined && { permute: count("permute", permute) }),
    seed:
      seed === undefined
        ? 1
        : toNumber(
            "seed",
            seed,
            "a whole number from 0 to 999999999",
            (value) => Number.isInteger(value) && value >= 0 && value <= 999_999_999,
          ),
  };
}

/** The success rate where --at asks, drivers that it leaves out in their middle. @throws UsageError when a setting cannot be read */
function readRate(analysis: MadeAnalysis, at: readonly string[]): Rate {
  const headings = analysis.columns.map(({ heading }) => heading.text);
  const settings: Record<string, string> = {};
  for (const text of at) {
    // A heading may hold "=" itself.
    const heading = headings.find((one) => text.toLowerCase().startsWith(`${one.toLowerCase()}=`));
    if (heading === undefined)
      throw new UsageError(
        `--at is "${text}": give HEADER=VALUE with a driver of the question${headings.length > 0 ? ` (${headings.map((one) => `"${one}"`).join(", ")})` : ""}.`,
      );
    if (heading in settings) throw new UsageError(`--at gives "${heading}" twice: give it once.`);
    settings[heading] = text.slice(heading.length + 1);
    if (settings[heading].trim() === "")
      throw new UsageError(
        `--at "${text}" has no value behind the =: give one, or leave it out for the middle of the rows.`,
      );
  }
  const found = rateAt(analysis, settings);
  for (const one of found.read) if ("problem" in one) throw new CommandError(one.problem);
  return { settings, found };
}

interface Rate {
  readonly settings: Readonly<Record<string, string>>;
  readonly found: RateAt;
}

/** The choice with every heading spelled as the sheet has it. */
function exactHeadings(log: TrialLog, choice: Choice): Choice {
  const exact = (heading: string) => columnNamed(log, heading).heading.text;
  return {
    ...choice,
    response: exact(choice.response),
    drivers: choice.drivers.map((driver) => ({ ...driver, heading: exact(driver.heading) })),
    joint: choice.joint.map(([a, b]) => [exact(a), exact(b)] as const),
    ...(choice.weight !== undefined && { weight: exact(choice.weight) }),
    ...(choice.scatter && {
      scatter:
        choice.scatter.as === "robust" ? choice.scatter : { ...choice.scatter, heading: exact(choice.scatter.heading) },
    }),
  };
}

/** What every answer says of its question and rows. */
function rowsJson({ log, choice, check }: Omit<Analysis, "regression">): Record<string, unknown> {
  return {
    sheet: log.sheet,
    table: log.title,
    response: choice.response,
    confidence: choice.confidence,
    rowsRead: log.rows.length,
    rowsUsed: check.used.length,
    hiddenRows: log.hiddenRows,
    blankRows: log.blankRows,
    readAs: log.readAs,
    outsideTable: outsideJson(log),
    leftOut: remarksJson(check.leftOut),
    suspicious: remarksJson(check.suspicious),
  };
}

function termJson({ label, estimate, standardError, t, df, p, low, high }: Term): unknown {
  return { term: label, estimate, standardError, t, df, p, low, high };
}

function asJson(analysis: Analysis): Record<string, unknown> {
  const { choice, regression } = analysis;
  return {
    ...rowsJson(analysis),
    scatter: choice.scatter ?? { as: "alike" },
    weights: choice.weight ?? null,
    terms: plainTerms(analysis, sessionAware(analysis)).map(termJson),
    notEstimated: regression.unestimated,
    tests: termTests(regression).map(({ name, test }) => ({ term: name, ...test })),
    residual: regression.residual,
    ...spreadJson(analysis),
    rSquared: regression.rSquared,
    F: regression.F,
    checks: checksJson(analysis),
    ...sessionJson(analysis),
  };
}

/** What the rows say against the fit. */
function checksJson(analysis: Analysis): unknown {
  const checks = trustChecks(analysis);
  const { unequalSpread: spread, lackOfFit: lack, leftOut } = checks;
  return {
    unequalSpread: spread
      ? {
          chiSquare: spread.chiSquare,
          df: spread.df,
          p: spread.p,
          ...(spread.together !== undefined && { together: spread.together }),
        }
      : null,
    spreadByLevel: checks.consistency.map(({ column, groups, found, together }) => ({
      column: column.heading.text,
      groups,
      ...(together && { together }),
      ...("why" in found ? { notTold: found.why } : { levels: found.levels, ...found.test }),
    })),
    lackOfFit: lack ?? null,
    leftOut: leftOut ?? null,
    sentences: trustSentences(analysis, checks).map(({ text }) => text),
  };
}

/** What a session column says of a plain fit, and the fit that it recommends. */
function sessionJson(analysis: Analysis): Record<string, unknown> {
  const aware = sessionAware(analysis);
  if (!aware) return {};
  const { column, groups, still, differ, lead, sentences, recommended } = aware;
  return {
    sessionAware: {
      column: column.heading.text,
      groups,
      neverChangeWithin: still.map(({ heading }) => heading.text),
      groupsDifferP: differ,
      lead,
      sentences: sentences.map(({ text }) => text),
      rowsUsed: recommended.check.used.length,
      terms: recommended.regression.terms.map(termJson),
      tests: termTests(recommended.regression).map(({ name, test }) => ({ term: name, ...test })),
      ...spreadJson(recommended),
    },
  };
}

/** Standard deviations between groups and within, where groups were taken as random. */
function spreadJson({ choice: { scatter }, regression }: Analysis): Record<string, unknown> {
  const { spread } = regression;
  if (!spread || scatter?.as !== "random") return {};
  const ends = regression.spreadIntervals();
  return {
    spread: { [scatter.heading]: spread.between, residual: spread.within },
    spreadIntervals: ends ? { [scatter.heading]: ends.between, residual: ends.within } : null,
  };
}

function madeJson(analysis: MadeAnalysis, rate: Rate | undefined): unknown {
  const { logistic: fit } = analysis;
  const grouped = fit.method === "penalised likelihood" ? "jackknife by group" : "CR2";
  return {
    ...rowsJson(analysis),
    made: fit.made,
    method: fit.method,
    intervals: fit.question.by ? grouped : fit.method === "penalised likelihood" ? "profile" : "Wald",
    scatter: analysis.choice.scatter ?? { as: "alike" },
    terms: fit.terms.map(termJson),
    notEstimated: fit.unestimated,
    deviance: fit.deviance,
    nullDeviance: fit.nullDeviance,
    rSquared: null,
    ...(rate && {
      rate: {
        settings: rate.settings,
        chance: rate.found.chance?.chance ?? null,
        low: rate.found.chance?.low ?? null,
        high: rate.found.chance?.high ?? null,
        sentence: rate.found.sentence,
      },
    }),
  };
}

/** The answer; where shots of one session are not separate evidence, the session-aware one first and the plain one after it. */
function asText(analysis: Analysis): string {
  const headline = "Coefficients, in the response's unit per unit of the driver:";
  const aware = sessionAware(analysis);
  if (!aware?.lead) return report(analysis, withChecks(analysis), headline, analysis.regression.terms);
  const { recommended, sentences } = aware;
  return [
    report(recommended, [...sentences, ...withChecks(recommended)], headline, recommended.regression.terms),
    "",
    "For comparison, the plain fit that counts every row on its own:",
    ...tableLines(termRows(analysis.choice.confidence, plainTerms(analysis, aware))),
  ].join("\n");
}

function withChecks(analysis: Analysis): Sentence[] {
  return [...answerSentences(analysis), ...trustSentences(analysis, trustChecks(analysis))];
}

function madeText(analysis: MadeAnalysis, rate: Rate | undefined): string {
  const asked = rate?.found.sentence === undefined ? [] : [{ kind: "finding" as const, text: rate.found.sentence }];
  return report(
    analysis,
    [...asked, ...madeSentences(analysis)],
    "Coefficients, in the logarithm of the odds per unit of the driver:",
    analysis.logistic.terms,
  );
}

function report(
  { log, check, choice }: Omit<Analysis, "regression">,
  sentences: readonly Sentence[],
  headline: string,
  terms: readonly Term[],
): string {
  const lines = [
    sheetLine(log),
    "",
    ...sentences.map(({ text }) => text),
    "",
    headline,
    ...tableLines(termRows(choice.confidence, terms)),
  ];
  lines.push(
    ...remarkLines("Rows left out:", check.leftOut),
    ...remarkLines("Used, but worth a look:", check.suspicious),
  );
  if (log.blankRows > 0) lines.push("", `${counted(log.blankRows, "wholly blank row")} not counted as trials.`);
  lines.push(...readAsLines(log));
  return lines.join("\n");
}

function termRows(confidence: number, terms: readonly Term[]): string[][] {
  const percent = `${significant(100 * confidence, 4)} %`;
  const cell = (value: number | null) => (value === null ? "not estimated" : significant(value, 6));
  return [
    ["term", "estimate", "standard error", `${percent} low`, `${percent} high`, "p"],
    ...terms.map(({ label, estimate, standardError, low, high, p }) => [
      label,
      cell(estimate),
      cell(standardError),
      cell(low),
      cell(high),
      p === null ? "" : significant(p, 3),
    ]),
  ];
}
