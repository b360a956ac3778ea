/**
 * The whole report as data: question, conditions, plan, method, rows, results, evidence, limits, and what it takes to
 * repeat it. Whoever shows it, a sheet or a page, takes it from here.
 */
import { say, listOf, saysSame, type Said, joinTexts, toText } from "../language/said";
import { extent } from "../../statistics/numeric/extent";
import { dayOfSerial } from "../../workbook/cellText";
import { triesText, verdictSentences } from "../evidence/claimWords";
import { evidenceSentences, reasonOf, standings, type Claim, type EvidenceRules } from "../evidence/evidence";
import { readingAt } from "../log/logColumns";
import { levelOf, numberOf } from "../log/reading";
import type { Plan } from "../plan/plan";
import { bendMeant } from "./bendMeant";
import { toError, type ReportBlock, type ReportCell } from "./reportBlock";
import type { ReportSubject } from "./reportSubject";
import type { CellRemark } from "../question/rowCheck";
import { logName, type LogColumn, type TrialLog } from "../log/trialLog";
import { convertUnit, otherUnit } from "../language/unitConversion";
import { confidenceText, counted, significant } from "../language/wording";

export interface ReportSection {
  readonly heading: string;
  readonly blocks: readonly ReportBlock[];
  /** The page for whoever turns none; what follows begins on another. */
  readonly front?: true;
}

export interface Report {
  readonly title: string;
  readonly made: Date;
  readonly sections: readonly ReportSection[];
}

/** What the reader is told beside the analysis; each part may be missing and is then said to be. */
export interface ReportParts {
  readonly title: string;
  /** Why the question was asked, in the user's own words. */
  readonly purpose: string;
  readonly subject: ReportSubject;
  /** The answer in one line, as its view has it; "" where there is none. */
  readonly line: Said;
  /** What sessions mean for the answer, in sentences. */
  readonly sessions: readonly Said[];
  /** What checks against the fit say, in sentences. */
  readonly trust: readonly Said[];
  readonly plan:
    | { readonly plan: Plan; readonly sheet: string; readonly shot: number; readonly planned: number }
    | undefined;
  /** The measurement's budget in sentences. */
  readonly measurement: readonly Said[];
  readonly evidence:
    | {
        readonly log: TrialLog;
        readonly claims: readonly Claim[];
        readonly rules: EvidenceRules;
        readonly certainty: number;
        /** In the unit of the rules, with the probability wanted of it; undefined where none is kept. */
        readonly target?: { readonly bend: number; readonly sure: number } | undefined;
        /** Their picture; undefined where none stands. */
        readonly picture?: { readonly id: string; readonly caption: Said } | undefined;
      }
    | undefined;
  /** The verdict on the target in sentences; none where no target is kept. */
  readonly target: readonly Said[];
  /** The first is the answer's own picture. */
  readonly figures: readonly { readonly id: string; readonly caption: Said }[];
  readonly made: Date;
  readonly version: string;
  /** Name of the workbook's file, when it is known. */
  readonly host: string;
  /** Everything that the panel keeps with the workbook, as text. */
  readonly settings: string;
}

export function reportOf(parts: ReportParts): Report {
  const { title, subject, made } = parts;
  return {
    title: title.trim() || `${subject.response.heading.name}: a report`,
    made,
    sections: [
      answer(parts),
      question(parts),
      conditions(subject),
      planned(parts),
      method(parts),
      rowsCounted(subject),
      results(parts),
      target(parts),
      plots(parts),
      evidence(parts),
      limits(parts),
      repeat(parts),
    ],
  };
}

const text = (words: Said): ReportBlock => ({ kind: "text", text: words });
const list = (items: readonly Said[]): ReportBlock[] => (items.length === 0 ? [] : [{ kind: "list", items }]);

/** More would not leave room for the picture on one page of paper. */
const FRONT = { sentences: 3, conditions: 8 };

/** What was asked, the verdict, its picture, what it rests on and the conditions. */
function answer({ purpose, subject, line, sessions, target: verdict, figures }: ReportParts): ReportSection {
  const { choice, log } = subject;
  const rest = [...sessions, ...subject.sentences].filter((sentence) => !saysSame(sentence, line));
  const { words, numbers } = conditionsOf(subject);
  const ranges = numbers.map(({ name, values: [low, , high] }) => say`${name}: ${span(low, high)}`);
  return {
    heading: "The answer",
    front: true,
    blocks: [
      ...(purpose.trim() === "" ? [] : [text(purpose.trim())]),
      text(
        say`${subject.asks}, from ${counted(subject.check.used.length, "row")} of "${logName(log)}"? Intervals are at ${confidenceText(choice.confidence)} % confidence.`,
      ),
      ...[line, ...verdict.slice(0, 1)]
        .filter((said) => said !== "")
        .map((said): ReportBlock => ({ kind: "verdict", text: said })),
      ...figures.slice(0, 1).map(({ id, caption }): ReportBlock => ({ kind: "figure", id, caption })),
      ...list(rest.slice(0, FRONT.sentences)),
      ...list([...words, ...ranges].slice(0, FRONT.conditions)),
    ],
  };
}

function span(low: number, high: number): Said {
  const [from, to] = [significant(low, 4), significant(high, 4)];
  return saysSame(from, to) ? from : say`${from} to ${to}`;
}

function question({ purpose, subject: { choice, log, asks } }: ReportParts): ReportSection {
  const drivers = choice.drivers.map(
    ({ heading, as, degree }) => `${heading}, as a ${as}${degree > 1 ? `, its line curved (degree ${degree})` : ""}`,
  );
  return {
    heading: "Question",
    blocks: [
      ...(purpose.trim() === "" ? [] : [text(purpose.trim())]),
      text(
        say`${asks}, in the rows of "${logName(log)}"? Intervals are at ${confidenceText(choice.confidence)} % confidence.`,
      ),
      ...list(drivers),
      ...list(choice.joint.map(([a, b]) => `${a} and ${b} acting together`)),
    ],
  };
}

function conditions(subject: ReportSubject): ReportSection {
  const { words, numbers } = conditionsOf(subject);
  return {
    heading: "Table and conditions",
    blocks: [
      text("As recorded in the rows that were used."),
      ...list(words),
      { kind: "table", head: ["Column", "Least", "Mean", "Largest", "Filled"], rows: numbers.flatMap(rangeRows) },
    ],
  };
}

/** What the rows used say of a column of numbers. */
interface Range {
  readonly name: string;
  readonly heading: LogColumn["heading"];
  /** Least, mean and largest, in the heading's unit. */
  readonly values: readonly [number, number, number];
  readonly filled: string;
}

/** Every column of the rows used but trial numbers and remarks: words as a line, numbers as a range. */
function conditionsOf({ log, sheetRows }: ReportSubject): { readonly words: Said[]; readonly numbers: Range[] } {
  const used = new Set(sheetRows);
  const kept = log.rows.flatMap((row, index) => (used.has(row) ? [index] : []));
  const columns = log.columns.filter(
    ({ meaning, kind }) => meaning !== "trial" && meaning !== "remarks" && kind !== "empty",
  );
  return {
    words: columns.filter(({ kind }) => kind !== "number").map((column) => levelsWords(column, kept)),
    numbers: columns.filter(({ kind }) => kind === "number").flatMap((column) => rangeOf(column, kept)),
  };
}

function rangeOf(column: LogColumn, kept: readonly number[]): Range[] {
  const { heading } = column;
  const values = kept.map((index) => numberOf(readingAt(column, index))).filter(Number.isFinite);
  if (values.length === 0) return [];
  const { low, high } = extent(values);
  const mean = values.reduce((a, b) => a + b) / values.length;
  return [{ name: heading.text, heading, values: [low, mean, high], filled: `${values.length} of ${kept.length}` }];
}

/** A range in its own unit and, where there is one, in that of the other system. */
function rangeRows({ name, heading, values, filled }: Range): ReportCell[][] {
  const other = otherUnit(heading.unit);
  const row = (shown: string, unit: string): ReportCell[] => [
    shown,
    ...values.map((value) => ({ value: convertUnit(value, heading.unit, unit), digits: 4 })),
    filled,
  ];
  return [row(name, heading.unit), ...(other ? [row(`${heading.name} (${other})`, other)] : [])];
}

const MOST_LEVELS = 12;

function levelsWords(column: LogColumn, kept: readonly number[]): Said {
  const { heading } = column;
  const readings = kept.map((index) => readingAt(column, index));
  if (column.kind === "date") {
    const { low, high } = extent(readings.map(numberOf).filter(Number.isFinite));
    return say`${heading.text}: ${{ day: dayOfSerial(low) }} to ${{ day: dayOfSerial(high) }}`;
  }
  const counts = new Map<string, number>();
  for (const reading of readings) {
    const level = levelOf(reading) || "blank";
    counts.set(level, (counts.get(level) ?? 0) + 1);
  }
  const said = [...counts].slice(0, MOST_LEVELS).map(([level, n]) => `${level} (${counted(n, "row")})`);
  return `${heading.text}: ${said.join(", ")}${counts.size > MOST_LEVELS ? ` and ${counts.size - MOST_LEVELS} more` : ""}`;
}

function planned({ plan }: ReportParts): ReportSection {
  if (!plan)
    return {
      heading: "Plan",
      blocks: [
        text(
          "No plan made with Bendbook is kept with this workbook: how the settings were chosen, and in which order the shots came, is not known here.",
        ),
      ],
    };
  const { wish, tells } = plan.plan;
  return {
    heading: "Plan",
    blocks: [
      text(
        `On the sheet "${plan.sheet}": ${plan.shot} of ${counted(plan.planned, "planned shot")} measured. Order drawn anew in every session on every table, seed ${wish.seed}.`,
      ),
      ...list(wish.factors.map(({ heading, levels }) => `${heading}: ${levels.join(", ")}`)),
      ...list(tells),
    ],
  };
}

function method({ subject, measurement }: ReportParts): ReportSection {
  const bend = bendMeant(subject.log);
  return {
    heading: "Method",
    blocks: [
      text(subject.method),
      text(
        "A row counts only if every column that the question needs can be read. A blank is never taken for a zero. What looks wrong is pointed out and still counted.",
      ),
      ...(bend === undefined ? [] : [text(bend)]),
      ...(measurement.length === 0
        ? [text("No uncertainty budget of the ruler, marks and sighting is kept with this workbook.")]
        : [text("How exactly a single bend is measured:"), ...list(measurement)]),
    ],
  };
}

function rowsCounted({ log, check }: ReportSubject): ReportSection {
  return {
    heading: "Rows",
    blocks: [
      text(
        `${counted(log.rows.length, "row")} read, ${check.used.length} counted in, ${check.leftOut.length} left out${log.hiddenRows > 0 ? `; ${counted(log.hiddenRows, "hidden or filtered row")} counted like the others` : ""}.`,
      ),
      ...(check.leftOut.length === 0
        ? []
        : [{ kind: "table" as const, head: ["Left out because", "Rows", "Which"], rows: byReason(check.leftOut) }]),
      ...(check.suspicious.length === 0
        ? []
        : [
            {
              kind: "table" as const,
              head: ["Used, but worth a look because", "Rows", "Which"],
              rows: byReason(check.suspicious),
            },
          ]),
    ],
  };
}

/** Each reason once, with the sheet rows it holds for: "3, 7 to 12". */
function byReason(remarks: readonly CellRemark[]): ReportCell[][] {
  const found = new Map<string, { readonly reason: Said; readonly rows: number[] }>();
  for (const { row, reason } of remarks) {
    const key = toText(reason);
    const known = found.get(key);
    if (known) known.rows.push(row + 1);
    else found.set(key, { reason, rows: [row + 1] });
  }
  return [...found.values()].map(({ reason, rows }) => [reason, rows.length, spans(rows)]);
}

function spans(rows: readonly number[]): string {
  const found: [number, number][] = [];
  for (const row of [...rows].sort((a, b) => a - b)) {
    const last = found[found.length - 1];
    if (last && row <= last[1] + 1) last[1] = row;
    else found.push([row, row]);
  }
  return found.map(([from, to]) => (from === to ? `${from}` : `${from} to ${to}`)).join(", ");
}

function results({ subject, sessions }: ReportParts): ReportSection {
  return { heading: "Results", blocks: [...sessions.map(text), ...subject.sentences.map(text), ...subject.tables] };
}

function target({ target: said }: ReportParts): ReportSection {
  return {
    heading: "Target",
    blocks: (said.length === 0
      ? ["No target is kept with this workbook; the Measure view has a place for one."]
      : said
    ).map(text),
  };
}

function plots({ figures }: ReportParts): ReportSection {
  // The first stands with the answer.
  const blocks = figures.slice(1).map(({ id, caption }): ReportBlock => ({ kind: "figure", id, caption }));
  return { heading: "Plots", blocks };
}

function evidence({ evidence: found }: ReportParts): ReportSection {
  if (!found || found.claims.length === 0)
    return { heading: "Evidence", blocks: [text("No claims of single bends are kept with this workbook.")] };
  const { claims, rules, certainty, target, picture } = found;
  const other = rules.unit === "in" ? "mm" : "in";
  return {
    heading: "Evidence",
    blocks: [
      ...evidenceSentences(claims, rules).map(text),
      {
        kind: "table",
        head: [
          "Side",
          "Rank",
          "Claim",
          `Bend (${rules.unit})`,
          `Bend (${other})`,
          `Standard uncertainty (${rules.unit})`,
          "Tied with",
          "Tries",
        ],
        rows: standings(claims, certainty).flatMap(({ side, standing }) =>
          standing.map(({ claim, rank, tiedWith }): ReportCell[] => [
            side,
            rank,
            claim.label,
            ...[rules.unit, other].map((unit) =>
              toError(convertUnit(claim.bend, rules.unit, unit), convertUnit(claim.uncertainty, rules.unit, unit)),
            ),
            { value: claim.uncertainty, digits: 2 },
            tiedWith.join(", ") || "nobody",
            triesText(claim),
          ]),
        ),
      },
      ...claims
        .filter(({ bend }) => bend !== undefined)
        .map((claim) => text(joinTexts(verdictSentences(claim, rules, target?.bend, target?.sure), " "))),
      ...(picture ? [{ kind: "figure" as const, ...picture }] : []),
      ...list(
        claims
          .filter(({ stands }) => !stands)
          .map((claim) => say`${claim.label} (row ${claim.row + 1}) does not stand: ${reasonOf(claim) ?? ""}`),
      ),
    ],
  };
}

function limits({ subject: { columns }, trust }: ReportParts): ReportSection {
  return {
    heading: "Limits",
    blocks: [
      ...trust.map(text),
      text(
        `What goes together in these rows need not be cause and effect: what changed along with ${listOf(columns.map(({ heading }) => heading.name)) || "the response"} and is not a driver here may be behind it.`,
      ),
      text(
        "It holds for tables, cloths, balls, players and conditions like those recorded, within the ranges above; beyond them it is a guess. An interval covers the scatter of these rows, not what is wrong with all of them alike.",
      ),
    ],
  };
}

function repeat({ subject, version, made, host, settings, plan }: ReportParts): ReportSection {
  return {
    heading: "To repeat it",
    blocks: [
      {
        kind: "table",
        head: ["What", "Value"],
        rows: [
          ["Bendbook", version],
          ["Made", made.toISOString()],
          ["Where", host],
          ...(plan ? [["Seed of the plan", plan.plan.wish.seed]] : []),
        ],
      },
      text("The same fit from the command line, given the workbook:"),
      text(subject.command),
      text("Settings of the panel, as kept with the workbook:"),
      text(settings),
    ],
  };
}
