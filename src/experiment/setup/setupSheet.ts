/**
 * The set-up on the sheet of conditions: a heading row with What and Value (Low, High, Unit and From beside it where
 * they are), below it one row for each thing. What is blank or not there holds at its default.
 */
import { MODEL_LABEL, modelProblem, plainLabel, UNITS_LABEL } from "../../bank/conditionLabels";
import { parseInches } from "../../bank/ruler";
import { SYSTEMS } from "../../bank/units";
import { cellAddress } from "../../workbook/address";
import { isCellError, type CellValue } from "../../workbook/book";
import type { NewCell, NewSheet, PlacedCell, SheetData } from "../../workbook/port";
import { convertUnit, kindOfUnit } from "../language/unitConversion";
import {
  DEFAULT_SETUP,
  itemProblem,
  SETUP_ITEMS,
  SETUP_NAMES,
  setupProblem,
  type Setup,
  type SetupKind,
  type SetupName,
  type Uncertain,
} from "./setup";

/** Wanted name of the sheet. */
export const SETUP_SHEET = "Conditions";

/** Whether a sheet may hold the set-up, by its name. @example isSetupName("Conditions 2") === true */
export const isSetupName = (name: string) => /^conditions( \d+)?$/i.test(name.trim());

const HEADINGS = ["What", "Value", "Low", "High", "Unit", "From"] as const;
type Column = Lowercase<(typeof HEADINGS)[number]>;

type RowName = SetupName | "units";
/** Rows that are read; the model is one of earlier workbooks. */
const LABELS = new Map<string, RowName | "model">([
  ...SETUP_NAMES.map((name): [string, RowName] => [SETUP_ITEMS[name].label, name]),
  [UNITS_LABEL, "units"],
  [MODEL_LABEL, "model"],
  ["smallest ruler division", "rulerDivision"],
]);

/** Where the set-up stands. */
export interface SetupPlace {
  readonly sheet: string;
  readonly columns: Readonly<Partial<Record<Column, number>>>;
  /** Sheet rows, from 0. */
  readonly rows: ReadonlyMap<RowName | "model", number>;
  /** The first row below all that stands there. */
  readonly free: number;
}

export interface ReadSetup {
  readonly setup: Setup;
  readonly place: SetupPlace;
  /** What could not be taken, with the cell; its default holds. */
  readonly problems: readonly string[];
}

/** The set-up of a sheet; undefined where none stands. */
export function readSetup(data: SheetData): ReadSetup | undefined {
  const found = placeOf(data);
  if (!found) return undefined;
  const problems: string[] = [];
  const { place } = found;
  const cellOf = (row: number | undefined, column: Column): { value: CellValue; at: string } => {
    const c = place.columns[column];
    const value =
      row === undefined || c === undefined ? null : (data.values[row - data.firstRow]?.[c - data.firstColumn] ?? null);
    return { value: value === "" ? null : value, at: cellAddress(row ?? 0, c ?? 0) };
  };
  const words = (name: RowName | "model") => {
    const { value, at } = cellOf(place.rows.get(name), "value");
    return { text: typeof value === "string" ? plainLabel(value) : "", at, blank: value === null };
  };
  const said = words("units");
  if (!said.blank && said.text !== "us" && said.text !== "si")
    problems.push(`${said.at}: units are "us" (in, oz) or "si" (m, kg).`);
  const units = said.text === "si" ? "si" : said.text === "us" ? "us" : DEFAULT_SETUP.units;
  const model = words("model");
  const unmodelled = model.blank ? undefined : modelProblem(model.text);
  if (unmodelled !== undefined) problems.push(`${model.at}: cushion model is "${model.text}": ${unmodelled}.`);
  let setup: Setup = { ...DEFAULT_SETUP, units };
  for (const name of SETUP_NAMES) {
    const row = place.rows.get(name);
    if (row === undefined) continue;
    const unit = unitCell(cellOf(row, "unit").value, SETUP_ITEMS[name].kind, units);
    const read = readItem(name, unit, (column) => cellOf(row, column));
    if (typeof read === "string") problems.push(read);
    else if (read) {
      const next = { ...setup, [name]: read };
      const problem = setupProblem(next);
      if (problem === undefined || setupProblem(setup) !== undefined) setup = next;
      else problems.push(`${cellOf(row, "value").at}: ${problem}.`);
    }
  }
  const left = setupProblem(setup);
  return left === undefined
    ? { setup, place, problems }
    : { setup: { ...DEFAULT_SETUP, units }, place, problems: [...problems, `${place.sheet}: ${left}.`] };
}

/** The heading row, the columns, and the row of each thing. */
function placeOf({ sheet, values, firstRow, firstColumn }: SheetData): { place: SetupPlace } | undefined {
  const rows = new Map<RowName | "model", number>();
  let columns: Partial<Record<Column, number>> | undefined;
  values.forEach((row, r) => {
    // Most rows of a long log are passed over with one look.
    if (!columns && !row.some((cell) => typeof cell === "string" && /value/i.test(cell))) return;
    const texts = row.map((cell) => (typeof cell === "string" ? plainLabel(cell) : ""));
    const value = texts.indexOf("value");
    if (!columns && value > 0) {
      columns = { what: firstColumn + value - 1 };
      for (const heading of HEADINGS.slice(1)) {
        const at = texts.indexOf(heading.toLowerCase());
        if (at >= 0) columns[heading.toLowerCase() as Column] = firstColumn + at;
      }
      return;
    }
    if (!columns) return;
    const name = LABELS.get(texts[(columns.what ?? 0) - firstColumn] ?? "");
    if (name !== undefined && !rows.has(name)) rows.set(name, firstRow + r);
  });
  return columns && rows.size > 0 ? { place: { sheet, columns, rows, free: firstRow + values.length } } : undefined;
}

/** The unit of a row: what its cell says, else that of the set-up's system. */
function unitCell(cell: CellValue, kind: SetupKind, units: "us" | "si"): string {
  if (kind === "ratio") return "";
  const wanted = kind === "mass" ? "mass" : "length";
  const said = typeof cell === "string" ? cell.trim() : "";
  return kindOfUnit(said) === wanted ? said : sheetUnit(kind, units);
}

/** The unit that a row is written in, which is also that of the functions' range of conditions. */
export function sheetUnit(kind: SetupKind, units: "us" | "si"): string {
  return kind === "ratio" ? "" : kind === "mass" ? SYSTEMS[units].massName : SYSTEMS[units].lengthName;
}

/** A row; undefined where its value is blank, a sentence where it cannot be taken. */
function readItem(
  name: SetupName,
  unit: string,
  cell: (column: Column) => { value: CellValue; at: string },
): Uncertain | string | undefined {
  const { label, kind } = SETUP_ITEMS[name];
  const si = (value: number) => (kind === "ratio" ? value : convertUnit(value, unit, kind === "mass" ? "kg" : "m"));
  const numberOf = (column: Column): number | string | undefined => {
    const { value, at } = cell(column);
    if (value === null) return undefined;
    if (typeof value === "number") return si(value);
    const inches = typeof value === "string" && unit === "in" ? parseInches(value) : undefined;
    if (typeof inches === "number") return si(inches);
    return `${at}: ${label} is ${isCellError(value) ? value.error : `"${String(value)}"`}, which is no number.`;
  };
  const value = numberOf("value");
  if (typeof value !== "number") return value;
  const [low, high] = [numberOf("low"), numberOf("high")];
  if (typeof low === "string") return low;
  if (typeof high === "string") return high;
  // Without a range of its own a value of the sheet is taken as known.
  const read = { low: low ?? value, value, high: high ?? value };
  const problem = itemProblem(name, read);
  return problem === undefined ? read : `${cell("value").at}: ${problem}.`;
}

const tidy = (value: number) => Number(value.toPrecision(10));

function rowCells(name: RowName, setup: Setup, from: string | undefined): readonly NewCell["value"][] {
  if (name === "units")
    return ["units", setup.units, null, null, null, "us: in, oz; si: m, kg. Of this sheet and of all views."];
  const { label, kind } = SETUP_ITEMS[name];
  const unit = sheetUnit(kind, setup.units);
  const shown = (value: number) =>
    tidy(kind === "ratio" ? value : convertUnit(value, kind === "mass" ? "kg" : "m", unit));
  const { low, value, high } = setup[name];
  return [label, shown(value), shown(low), shown(high), unit === "" ? null : unit, from ?? SETUP_ITEMS[name].from];
}

/** Whether a value is the one that holds until somebody gives one. */
export function isDefault(name: SetupName, { low, value, high }: Uncertain): boolean {
  const usual = DEFAULT_SETUP[name];
  return [low - usual.low, value - usual.value, high - usual.high].every((off) => Math.abs(off) < 1e-12);
}

/** Where a value comes from, as its row says it. */
export function fromOf(name: SetupName, item: Uncertain): string {
  return isDefault(name, item) ? SETUP_ITEMS[name].from : "given by you";
}

const ROWS: readonly RowName[] = ["units", ...SETUP_NAMES];

/** The rows of a set-up under their headings, for a sheet. */
export function setupRows(setup: Setup): NewCell[][] {
  return [
    HEADINGS.map((value) => ({ value, bold: true })),
    ...ROWS.map((name) =>
      rowCells(name, setup, name === "units" ? undefined : fromOf(name, setup[name])).map((value) => ({ value })),
    ),
  ];
}

/** The set-up as a new sheet. */
export function setupSheet(setup: Setup): NewSheet {
  return {
    name: SETUP_SHEET,
    rows: [
      [
        {
          value:
            "Set-up of this workbook: what stands here holds in every view. Columns A and B are a range of conditions for the functions.",
        },
      ],
      [],
      ...setupRows(setup),
    ],
    columnWidths: [24, 14, 12, 12, 8, 70],
  };
}

export interface SetupRow {
  readonly row: number;
  readonly cells: readonly PlacedCell[];
}

/** The rows of a sheet that a change of the set-up changes. All lengths and masses change with the units. */
export function changedRows(place: SetupPlace, before: Setup, after: Setup): SetupRow[] {
  let free = place.free;
  return ROWS.filter(
    (name) => before.units !== after.units || JSON.stringify(before[name]) !== JSON.stringify(after[name]),
  ).map((name) => {
    const row = place.rows.get(name) ?? free++;
    const columns = HEADINGS.map((heading) => place.columns[heading.toLowerCase() as Column]);
    const from = name === "units" ? undefined : fromOf(name, after[name]);
    const cells = rowCells(name, after, from).flatMap((value, i): PlacedCell[] => {
      const column = columns[i];
      // The label of a row that is there stays as it is written.
      return column === undefined || (i === 0 && place.rows.has(name)) ? [] : [{ column, value }];
    });
    return { row, cells };
  });
}
