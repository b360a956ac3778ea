/** The trial log that all samples share: its columns, its conditions sheet and its guide. */
import { DEFAULT_SETUP } from "../../src/experiment/setup/setup";
import { setupRows } from "../../src/experiment/setup/setupSheet";
import { OUTCOMES } from "../../src/experiment/log/outcome";
import { columnLetters } from "../../src/workbook/address";
import type { CellValue } from "../../src/workbook/book";
import { looks, type Draft, type SheetDraft } from "./book";

const LOG_HEADINGS = [
  "Trial",
  "Date",
  "Session",
  "Table",
  "Cloth",
  "Humidity (%)",
  "Speed (mph)",
  "Spin",
  "Angle (°)",
  "Temperature (°F)",
  "Obstacle gap (in)",
  "Gap (in)",
  "Outcome",
  "Bend (in)",
  "Clearance (in)",
  "Remarks",
] as const;
export type LogHeading = (typeof LOG_HEADINGS)[number];

const WIDTHS = [8, 13, 13, 11, 10, 17, 16, 9, 12, 21, 22, 12, 14, 13, 18, 40];
const LOOK: Partial<Record<LogHeading, "date" | "fraction" | "decimal3" | "decimal1">> = {
  Date: "date",
  "Obstacle gap (in)": "fraction",
  "Gap (in)": "fraction",
  "Bend (in)": "decimal3",
  "Clearance (in)": "decimal3",
  "Speed (mph)": "decimal1",
};

/** Sheet column of a heading, as letters. */
export function letters(heading: LogHeading): string {
  return columnLetters(LOG_HEADINGS.indexOf(heading));
}

export type Trial = Partial<Record<LogHeading, CellValue>>;

const NAME = "Trials";
const here = (heading: LogHeading) => `${NAME}[[#This Row],[${heading}]]`;
/** What each row computes; as columns of the table, so that rows that come compute it too. */
const FORMULAS: Partial<Record<LogHeading, string>> = {
  "Bend (in)": `IF(${here("Gap (in)")}="","",BANK.BEND(${here("Gap (in)")}))`,
  "Clearance (in)": `IF(OR(${here("Bend (in)")}="",${here("Obstacle gap (in)")}=""),"",BANK.CLEARANCE(${here("Bend (in)")},${here("Obstacle gap (in)")}))`,
};

/** The log sheet: headings in row 1, one row per trial, bend and clearance as guarded formulas. */
export function logSheet(trials: readonly Trial[]): SheetDraft {
  const rows = trials.map((trial): Draft[] =>
    LOG_HEADINGS.map((heading) => {
      const formula = FORMULAS[heading];
      return {
        value: trial[heading] ?? (formula === undefined ? null : `=${formula}`),
        look: LOOK[heading] ?? "plain",
      };
    }),
  );
  const body = (heading: LogHeading) => ({
    row: 1,
    column: LOG_HEADINGS.indexOf(heading),
    rows: rows.length,
    columns: 1,
  });
  return {
    name: "Trials",
    rows: [looks("heading", LOG_HEADINGS), ...rows],
    widths: WIDTHS,
    frozenRows: 1,
    table: {
      name: NAME,
      area: { row: 0, column: 0, rows: rows.length + 1, columns: LOG_HEADINGS.length },
      calculated: LOG_HEADINGS.map((heading) => FORMULAS[heading]),
    },
    validations: [
      { areas: [body("Table")], formula: "Conditions!$A$4:$A$13" },
      { areas: [body("Cloth")], formula: "Conditions!$C$4:$C$13" },
      { areas: [body("Outcome")], choices: OUTCOMES },
    ],
  };
}

/** Tables, cloths and what holds for all trials. Ten lines are left for each list. */
export function conditionsSheet(
  tables: readonly (readonly [string, string])[],
  cloths: readonly (readonly [string, string])[],
): SheetDraft {
  const lines = Array.from({ length: 10 }, (_, i): Draft[] => [
    tables[i]?.[0] ?? null,
    tables[i]?.[1] ?? null,
    cloths[i]?.[0] ?? null,
    cloths[i]?.[1] ?? null,
  ]);
  return {
    name: "Conditions",
    rows: [
      looks("title", ["Conditions"]),
      looks("note", ["The lists in the log's Table and Cloth columns come from here."]),
      looks("heading", ["Table", "About the table", "Cloth", "About the cloth"]),
      ...lines,
      [],
      looks("note", ["The set-up: what every view of the panel takes. Its columns A and B are a range of conditions."]),
      ...setupRows(DEFAULT_SETUP).map((row, i) =>
        i === 0
          ? looks(
              "heading",
              row.map(({ value }) => value as CellValue),
            )
          : row.map(({ value }): Draft => value),
      ),
    ],
    widths: [24, 40, 14, 60, 10, 70],
    frozenRows: 3,
  };
}

/** How to use the log, in a page. */
export function guideSheet(lead: readonly string[]): SheetDraft {
  const text: readonly string[] = [
    ...lead,
    "One row is one shot. Fill in what you measured and leave the rest blank: a blank is never taken for a zero.",
    "Gap (in): from the edge of the obstacle to the centre of the near mark, square to the line, when the ball just grazed. Obstacle gap: where the obstacle stood.",
    "A ruler reading such as five sixteenths: type 5/16 in a gap column, whose cells show fractions. Elsewhere type 0 5/16 or =5/16, because plain 5/16 is turned into a date by every spreadsheet; the Bend column will say so.",
    "Session: one visit to one table. Give every visit a label of its own, such as North 2: shots of one visit share the day's luck, and two tables under one label would pass for one visit.",
    "Outcome: made (got by the obstacle and pocketed), cleared (got by, not pocketed), hit obstacle, or missed (nothing about the bend: off line, a gate touched, jumped, scratched). A word such as hit, which can mean two of them, is not counted until the cell says which.",
    "Bend = ball radius − gap. Clearance = bend − (ball radius − obstacle gap); below zero is a hit.",
    "Spin is the ratio of the ball's side spin at its edge to its speed where it meets the cushion: 0 is none, + is running side. Speed and angle are those at the cushion; the angle is from square to the rail.",
    "Humidity is the relative humidity in the room in percent, temperature is that of the room.",
    "Add tables and cloths on the Conditions sheet; the log offers them as a list.",
    "Care: a hard bank can leave the table. Nobody's face goes on the shot line at bed height while a ball is moving; whoever sights the line wears eye protection; no bystanders behind the pocket. Tapping balls down dents cloth: ask the table's owner. Adjusting rails, slate or levelling is a table mechanic's work. House rules and the event's own rules decide what counts.",
  ];
  return {
    name: "Guide",
    rows: [looks("title", ["How to use this log"]), ...text.map((line) => looks("text", [line]))],
    widths: [100],
  };
}
