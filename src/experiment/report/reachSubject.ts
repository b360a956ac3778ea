/** How far it bends, as the subject of a report: sentences, tables in both systems of units, the command behind. */
import { type Said, say } from "../language/said";
import { significant } from "../language/wording";
import type { CensoredTerm, Estimated } from "../../statistics/censored/censoredFit";
import type { LevelReach } from "../attempts/levelReach";
import type { ReachAnswer } from "../attempts/reach";
import { convertUnit, otherUnit } from "../language/unitConversion";
import { columnNamed } from "../question/rowCheck";
import { toError, type ReportBlock, type ReportCell } from "./reportBlock";
import { quoted, type ReportSubject } from "./reportSubject";

/** What was asked. */
type Asked = Pick<ReachAnswer, "attempts" | "question">;

/** The answer as data, so that it need not be worked out anew for a report. */
interface Shown extends Pick<ReachAnswer, "reach" | "newSession"> {
  readonly sentences: readonly { readonly text: Said }[];
  readonly levels: readonly LevelReach[];
  readonly terms: readonly CensoredTerm[];
}

/** @param likely the chance of a target, in a sentence */
export function reachSubject(asked: Asked, answer: Shown, likely?: Said): ReportSubject {
  const { attempts, question } = asked;
  const { log, rows, leftOut, suspicious, unit } = attempts;
  const used = rows.map(({ index }) => index);
  return {
    log,
    check: { used, leftOut, suspicious },
    sheetRows: used.flatMap((index) => log.rows[index] ?? []),
    columns: question.drivers.map(({ heading }) => columnNamed(log, heading)),
    response: columnNamed(log, question.position.heading),
    choice: {
      response: question.position.heading,
      drivers: question.drivers,
      joint: [],
      constant: true,
      confidence: question.confidence,
    },
    asks: `How far it bends, and how surely, by ${question.position.heading} and ${question.outcome}`,
    sentences: [...answer.sentences.map(({ text }) => text), ...(likely === undefined ? [] : [likely])],
    method: `An attempt that got by says that the bend was at least what the obstacle asked for, a hit that it was less, a measured bend the bend itself. Normal scatter, maximum likelihood${question.sessions.length > 0 ? ", sessions integrated out by adaptive Gauss–Hermite quadrature" : ""}; intervals by profile likelihood, widened for few rows.`,
    command: commandOf(asked),
    tables: [
      figures("Bend that an attempt gets at least", ["Chance"], unit, answer.reach.map(named)),
      ...(answer.newSession
        ? [figures("The same in a session yet to come", ["Chance"], unit, answer.newSession.map(named))]
        : []),
      ...answer.levels.flatMap(({ heading, levels, pairs }) => [
        figures(
          "Bend at one half",
          [heading],
          unit,
          levels.map(({ level, half }) => ({ name: level, figure: half })),
        ),
        figures(
          "Difference of the bend at one half",
          ["First less second, all pairs at once"],
          unit,
          pairs.map(({ first, second, difference }) => ({ name: `${first} less ${second}`, figure: difference })),
        ),
      ]),
      figures(
        "Coefficient",
        ["Term"],
        unit,
        answer.terms.map((term) => ({ name: term.label, figure: term })),
      ),
    ],
  };
}

interface Row {
  readonly name: Said;
  readonly figure: Estimated;
}

function named(reach: ReachAnswer["reach"][number]): Row {
  return { name: say`${significant(100 * reach.probability, 4)} %`, figure: reach };
}

/** Figures with their intervals in the unit and, where there is one, in that of the other system. */
function figures(what: string, [first = ""]: readonly string[], unit: string, rows: readonly Row[]): ReportBlock {
  const other = otherUnit(unit);
  const units = [unit, ...(other ? [other] : [])];
  return {
    kind: "table",
    head: [first, ...units.flatMap((one) => [`${what} (${one})`, "Low", "High"])],
    rows: rows.map(({ name, figure: { estimate, low, high } }): ReportCell[] => [
      name,
      ...units.flatMap((one) =>
        [estimate, low, high].map((value) => {
          const turned = (length: number) => convertUnit(length, unit, one);
          const error = low === null || high === null ? null : turned((high - low) / 4);
          return value === null ? "not told" : toError(turned(value), error);
        }),
      ),
    ]),
  };
}

function commandOf({ attempts: { log }, question }: Asked): string {
  const { position, outcome, measured, drivers, sessions, confidence, misjudged = 0 } = question;
  return [
    "npx bendbook reach WORKBOOK.xlsx",
    `--sheet ${quoted(log.sheet)}`,
    `--${position.as} ${quoted(position.heading)}`,
    `--outcome ${quoted(outcome)}`,
    ...(measured === undefined ? [] : [`--measured ${quoted(measured)}`]),
    ...drivers.map(({ heading, as }) => `--${as === "category" ? "category" : "driver"} ${quoted(heading)}`),
    ...sessions.map((heading) => `--random ${quoted(heading)}`),
    `--confidence ${confidence}`,
    ...(misjudged > 0 ? [`--misjudged ${misjudged}`] : []),
  ].join(" ");
}
