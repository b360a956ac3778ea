/**
 * A plan as sheets of a workbook, how far it has been shot, and a changed plan that keeps every row already shot.
 */
import { cellAddress } from "../../workbook/address";
import type { CellValue } from "../../workbook/book";
import { isCellError } from "../../workbook/book";
import type { NewCell, NewSheet, SheetData } from "../../workbook/port";
import { meaningOf, parseHeading } from "../log/header";
import { PLAN_COLUMNS, PlanProblem, ROUND, type Plan, type PlanKind, type PlannedShot, type PlanWish } from "./plan";
import { counted } from "../language/wording";
import { there } from "../../there";

/** Label of a warm-up shot in the column Trial. */
export const WARM_UP = "warm-up";

/** Columns of what is measured, in the unit that rulers have. */
export function measuredColumns(units: "us" | "si", records?: PlanWish["records"]): readonly string[] {
  const unit = units === "us" ? "in" : "mm";
  return records === "attempts"
    ? [`Gap (${unit})`, `Required bend (${unit})`, "Attempt", "Outcome", `Film bend (${unit})`]
    : [`Gap (${unit})`, "Outcome", `Bend (${unit})`];
}

const KIND_WORDS: Readonly<Record<PlanKind, string>> = {
  all: "every combination",
  fraction: "a fraction of all combinations",
  composite: "composite: a cube, a star and centres",
  square: "a Latin square",
};

/**
 * The number format of a column: readings of a ruler in inches are typed as fractions, which only such a cell takes.
 */
function formatOfColumn(heading: string): string | undefined {
  return /\bgap\b.*\(in\)$/i.test(heading) ? "# ??/??" : undefined;
}

/**
 * A row's bend from its gap, less what its departure gate takes off where the log has a column for that; blank while
 * there is no gap.
 * @param columns headings of the sheet
 * @param row sheet row, from 0
 */
export function bendFormula(columns: readonly string[], row: number): string | undefined {
  const gap = columns.findIndex((heading) => /^Gap \((in|mm)\)$/.test(heading));
  if (gap < 0) return undefined;
  const cell = cellAddress(row, gap);
  const off = columns.findIndex((heading) => /^Gate correction \((in|mm)\)$/.test(heading));
  const at = cellAddress(row, Math.max(0, off));
  const less = off < 0 ? "" : `-IF(ISNUMBER(${at}),${at},0)`;
  return `IF(${cell}="","",BANK.BEND(${cell}${there(columns[gap], "a column").endsWith("(mm)") ? ',,"mm"' : ""})${less})`;
}

/** The headings of a plan's sheet. */
export function planHeadings({ kind, factors, records }: PlanWish, units: "us" | "si"): string[] {
  const [trial, session, table, remarks] = PLAN_COLUMNS;
  return [
    trial,
    session,
    table,
    ...(kind === "square" ? [ROUND] : []),
    ...factors.map(({ heading }) => heading.trim()),
    ...measuredColumns(units, records),
    remarks,
  ];
}

/** The rows to shoot, in order. Nothing stands beside them, so that the sheet reads as a log from the first shot on. */
export function planSheet(plan: Plan, units: "us" | "si", name = "Plan"): NewSheet {
  const headings = planHeadings(plan.wish, units);
  return {
    name,
    rows: [bold(headings), ...plannedRows(plan.shots, headings, 1, 0)],
    columnWidths: headings.map((heading) => Math.max(9, heading.length + 2)),
    headingRows: 1,
  };
}

/** A cell of a log that is still to be filled: its value, its formula where it is computed, its format. */
export function logCell(headings: readonly string[], heading: string, row: number, value: NewCell["value"]): NewCell {
  const formula = /^(Bend|Required bend) \((in|mm)\)$/.test(heading) ? bendFormula(headings, row) : undefined;
  const format = formatOfColumn(heading);
  return { value, ...(formula !== undefined && { formula }), ...(format !== undefined && { format }) };
}

function bold(texts: readonly string[]): NewCell[] {
  return texts.map((value) => ({ value, bold: true }));
}

/** @param first sheet row of the first, from 0 @param before trials that stand above */
function plannedRows(
  shots: readonly PlannedShot[],
  headings: readonly string[],
  first: number,
  before: number,
): NewCell[][] {
  let trial = before;
  return shots.map(({ session, table, round, settings }, i) => {
    const cells: NewCell["value"][] = [
      settings ? ++trial : WARM_UP,
      session,
      table,
      ...(headings[3] === ROUND ? [round] : []),
      ...(settings ?? []),
    ];
    return headings.map((heading, c) => logCell(headings, heading, first + i, cells[c] ?? null));
  });
}

/**
 * What was planned and why, the seed among it, so that anybody can make the same plan again.
 * @param sheet that holds the rows
 */
export function planNotes(plan: Plan, sheet: string, made: Date, version: string): NewSheet {
  const { wish, shots, tells } = plan;
  const warmUps = shots.filter(({ settings }) => !settings).length;
  const lines: [string, string | number][] = [
    ["Rows", sheet],
    ["Plan", KIND_WORDS[wish.kind]],
    ...wish.factors.map(({ heading, levels }): [string, string] => ["Setting", `${heading}: ${levels.join(", ")}`]),
    ...(wish.kind === "fraction" ? [["Runs of the fraction", wish.runs ?? 0] as [string, number]] : []),
    ...(wish.kind === "composite"
      ? [
          ["Star", wish.reach ?? "turning"] as [string, string],
          ["Centres with cube and star", (wish.centres ?? [2, 2]).join(", ")] as [string, string],
        ]
      : []),
    ...(wish.records === "attempts"
      ? [
          ["Each row", "an attempt past an obstacle: got by says at least the required bend, a hit less"] as [
            string,
            string,
          ],
        ]
      : []),
    ["Replicates", wish.replicates],
    ["Tables", wish.tables.join(", ")],
    ["Sessions on each table", wish.sessions],
    ["Shots", shots.length - warmUps],
    ["Warm-up shots, settings free", warmUps],
    ["Seed of the order", wish.seed],
    ["Order", "drawn anew within each session on each table (Fisher and Yates, xoroshiro128+)"],
    ...tells.map((text): [string, string] => ["What it tells", text]),
    ["Recipe", JSON.stringify(wish)],
    ["Bendbook", version],
    ["Made", made.toISOString().slice(0, 16).replace("T", " ") + " UTC"],
  ];
  return {
    name: `${sheet} notes`,
    rows: [bold(["What", "Note"]), ...lines.map(([what, note]) => [{ value: what }, { value: note, wrap: true }])],
    columnWidths: [30, 90],
  };
}

export interface PlanProgress {
  readonly headings: readonly string[];
  /** Headings of the settings, and each planned shot in the order of the rows. */
  readonly settings: readonly string[];
  readonly rows: readonly PlannedRow[];
  /** Planned shots, warm-ups aside, and those of them with something measured. */
  readonly planned: number;
  readonly shot: number;
  /** Sheet row and column (from 0) of the first shot not yet measured, and what to set for it. */
  readonly next: { readonly row: number; readonly column: number; readonly words: string } | undefined;
}

/** A planned shot as its row has it. */
export interface PlannedRow {
  readonly session: CellValue | undefined;
  readonly table: CellValue | undefined;
  readonly settings: readonly (CellValue | undefined)[];
  readonly measured: boolean;
}

interface PlanRow {
  readonly row: number;
  readonly cells: readonly CellValue[];
  readonly formats: readonly string[];
  readonly warmUp: boolean;
  readonly measured: boolean;
}

/** Columns of a plan that are no settings. */
const PLANNED_ELSE = new Set<string>([...PLAN_COLUMNS, ROUND]);

/** How far the plan on a sheet is. @throws PlanProblem when the sheet does not hold a plan's columns any more */
export function planProgress(data: SheetData): PlanProgress {
  const { headings, rows } = readPlan(data);
  const shots = rows.filter(({ warmUp }) => !warmUp);
  const open = shots.find(({ measured }) => !measured);
  const first = there(measuredAt(headings)[0], "a measured column");
  const [, session, table] = PLAN_COLUMNS;
  const settingsAt = headings.flatMap((heading, c) =>
    c < first && heading !== "" && !PLANNED_ELSE.has(heading) ? [c] : [],
  );
  return {
    headings,
    settings: settingsAt.map((c) => headings[c] ?? ""),
    rows: shots.map(({ cells, measured }) => ({
      session: cells[headings.indexOf(session)],
      table: cells[headings.indexOf(table)],
      settings: settingsAt.map((c) => cells[c]),
      measured,
    })),
    planned: shots.length,
    shot: shots.filter(({ measured }) => measured).length,
    next: open && {
      row: open.row,
      column: first + data.firstColumn,
      words: headings
        .slice(0, first)
        .flatMap((heading, c) =>
          open.cells[c] === null || isCellError(open.cells[c]) ? [] : [`${heading} ${open.cells[c]}`],
        )
        .join(", "),
    },
  };
}

/** Columns whose cells say that a shot was taken. */
function measuredAt(headings: readonly string[]): number[] {
  return headings.flatMap((heading, c) =>
    ["gap", "made", "bend", "clearance"].includes(meaningOf(parseHeading(heading).name) ?? "") ? [c] : [],
  );
}

function readPlan(data: SheetData): { headings: string[]; rows: PlanRow[] } {
  const [top = [], ...body] = data.values;
  const headings = top.map((cell) => (typeof cell === "string" ? cell.trim() : ""));
  const measured = measuredAt(headings);
  const trial = headings.indexOf(PLAN_COLUMNS[0]);
  if (trial < 0 || measured.length === 0)
    throw new PlanProblem(
      `The sheet "${data.sheet}" has no headings of a plan (${PLAN_COLUMNS.join(", ")}, and Gap, Outcome or Bend) in its first row: put them back, or plan anew.`,
    );
  const rows = body.flatMap((cells, i): PlanRow[] => {
    if (cells.every((cell) => cell === null || cell === "")) return [];
    return [
      {
        row: data.firstRow + 1 + i,
        cells,
        formats: data.formats[i + 1] ?? [],
        warmUp: cells[trial] === WARM_UP,
        measured: measured.some((c) => cells[c] !== null && cells[c] !== ""),
      },
    ];
  });
  return { headings, rows };
}

export interface ChangedPlan {
  readonly sheet: NewSheet;
  /** Rows that were kept, and planned shots that they stand for. */
  readonly kept: number;
  readonly covered: number;
  readonly remaining: number;
}

/**
 * A changed plan as a new sheet: every row already shot first, just as it stands, then what the new plan still wants. A
 * row shot stands for one planned shot with the same settings on the same table.
 */
export function changedPlan(data: SheetData, plan: Plan, units: "us" | "si", name = "Plan"): ChangedPlan {
  const { headings: old, rows } = readPlan(data);
  const headings = planHeadings(plan.wish, units);
  // Columns of the old sheet that the new plan does not have are kept at the end.
  const extra = old.filter((heading) => heading !== "" && !headings.includes(heading));
  const all = [...headings, ...extra];
  const shot = rows.filter(({ measured }) => measured);
  const place = all.map((heading) => old.indexOf(heading));
  const keptRows = shot.map(({ cells, formats }) =>
    place.map((c): NewCell => {
      const value = cells[c] ?? null;
      const format = formats[c] ?? "General";
      return { value: isCellError(value) ? value.error : value, ...(format === "General" ? {} : { format }) };
    }),
  );
  const keyOf = (table: CellValue, settings: readonly (CellValue | undefined)[]) =>
    [table, ...settings]
      .map((value) => (typeof value === "number" ? value.toPrecision(6) : String(value ?? "")))
      .join("\u0000");
  const stock = new Map<string, number>();
  const settingAt = plan.wish.factors.map(({ heading }) => old.indexOf(heading.trim()));
  for (const { cells, warmUp } of shot) {
    if (warmUp) continue;
    const key = keyOf(
      cells[old.indexOf("Table")] ?? null,
      settingAt.map((c) => (c < 0 ? undefined : cells[c])),
    );
    stock.set(key, (stock.get(key) ?? 0) + 1);
  }
  let covered = 0;
  const left = plan.shots.filter(({ table, settings }) => {
    if (!settings) return true;
    const key = keyOf(table, settings);
    const n = stock.get(key) ?? 0;
    if (n === 0) return true;
    stock.set(key, n - 1);
    covered++;
    return false;
  });
  // A session with nothing left to shoot needs no warming up.
  const wanted = left.filter(
    ({ settings, session, table }) =>
      settings || left.some((other) => other.settings && other.session === session && other.table === table),
  );
  const trials = shot.filter(({ warmUp }) => !warmUp).length;
  return {
    sheet: {
      name,
      rows: [bold(all), ...keptRows, ...plannedRows(wanted, all, 1 + keptRows.length, trials)],
      columnWidths: all.map((heading) => Math.max(9, heading.length + 2)),
      headingRows: 1,
    },
    kept: shot.length,
    covered,
    remaining: wanted.filter(({ settings }) => settings).length,
  };
}

/** What was written, in a sentence. */
export function planSentence(plan: Plan, sheet: string): string {
  const warmUps = plan.shots.filter(({ settings }) => !settings).length;
  return `${counted(plan.shots.length - warmUps, "shot")}${warmUps > 0 ? ` and ${counted(warmUps, "warm-up shot")}` : ""} in drawn order on the new sheet "${sheet}"; seed ${plan.wish.seed}.`;
}
