/**
 * Structured references such as Trials[Gap], [@Gap] or Trials[[#Headers],[Gap]:[Bend]] as plain ranges.
 * Univer knows only the simplest of them.
 */
import { columnLetters, fixedAddress, quoteSheetName } from "../../address";
import { dataArea, type Area, type BookTable } from "../../book";

/** A table and its headers, where it is now. */
export interface Table extends BookTable {
  readonly sheet: string;
  readonly headers: readonly string[];
}

/** The cell in which a formula stands. */
export interface FormulaCell {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
}

/** What a structured reference stands for, or why it stands for nothing. */
export type Resolved = { readonly range: string } | { readonly problem: string };

/**
 * @param name the table's name; "" for the table around the formula
 * @param bracket the part in brackets, brackets included
 * @example resolveTable("T", "[Gap]", [{ name: "T", sheet: "Log", area: { row: 0, column: 0, rows: 9, columns: 1 }, headers: ["Gap"] }], undefined) // { range: "Log!$A$2:$A$9" }
 */
export function resolveTable(
  name: string,
  bracket: string,
  tables: readonly Table[],
  place: FormulaCell | undefined,
): Resolved {
  const table = tableAround(name, tables, place);
  if (!table) {
    const names = tables.map((one) => one.name).join(", ");
    return {
      problem:
        name === ""
          ? `${bracket} means a column of the table around the formula, and the formula is in no table. Write the table's name before it.`
          : `There is no table ${name}. ${names ? `The tables are ${names}.` : "The workbook has no tables."}`,
    };
  }
  const part = partMeant(table, bracket);
  return "problem" in part ? part : rangeOf(table, bracket, part, place);
}

/** The part of a table that a bracket names. */
interface PartMeant {
  /** The first and the last sheet row; the last before the first where there is none. */
  readonly rows: readonly [number, number];
  /** The first and the last column, from the table's own first. */
  readonly columns: readonly [number, number];
  /** The row of the formula alone. */
  readonly thisRow: boolean;
}

type Problem = Extract<Resolved, { problem: string }>;

function partMeant(table: Table, bracket: string): PartMeant | Problem {
  let rows = sectionOf(table, "#data");
  let columns: readonly [number, number] = [0, table.area.columns - 1];
  let [thisRow, chosen] = [false, false];
  for (const part of parts(bracket.slice(1, -1).trim())) {
    const special = part.text.toLowerCase().replace(/\s+/g, " ");
    if (!part.special) {
      const named = columnsOf(table, part);
      if ("problem" in named) return named;
      columns = named;
    } else if (SECTIONS.has(special)) {
      const [top, end] = sectionOf(table, special);
      if (end < top) return { problem: `The table ${table.name} has no ${MISSING[special] ?? "rows"}.` };
      rows = chosen ? [Math.min(rows[0], top), Math.max(rows[1], end)] : [top, end];
      chosen = true;
    } else if (special === "@" || special === "#this row") thisRow = true;
    else
      return {
        problem: `${table.name}${bracket}: ${part.text} is not known. #All, #Data, #Headers, #Totals and @ are.`,
      };
  }
  return { rows, columns, thisRow };
}

const MISSING: Readonly<Record<string, string>> = { "#totals": "row of totals", "#headers": "header row" };

function columnsOf(table: Table, { text, to: other }: Part): readonly [number, number] | Problem {
  const from = columnOf(table, text);
  const to = other === undefined ? from : columnOf(table, other);
  if (from < 0 || to < 0)
    return {
      problem: `The table ${table.name} has no column ${from < 0 ? text : other}. Its columns are ${table.headers.join(", ")}.`,
    };
  return [Math.min(from, to), Math.max(from, to)];
}

function rangeOf(
  table: Table,
  bracket: string,
  { rows: [first, last], columns, thisRow }: PartMeant,
  place: FormulaCell | undefined,
): Resolved {
  const prefix = place?.sheet === table.sheet ? "" : `${quoteSheetName(table.sheet)}!`;
  const [left, right] = [table.area.column + columns[0], table.area.column + columns[1]];
  if (thisRow) {
    const [top, bottom] = sectionOf(table, "#data");
    if (!place || place.sheet !== table.sheet || place.row < top || place.row > bottom)
      return {
        problem: `${table.name}${bracket} means the table's row in which the formula stands, and the formula stands in none.`,
      };
    const cell = (column: number) => `$${columnLetters(column)}${place.row + 1}`;
    return { range: prefix + (left === right ? cell(left) : `${cell(left)}:${cell(right)}`) };
  }
  if (last < first) return { problem: `The table ${table.name} has no rows.` };
  const meant = { row: first, column: left, rows: last - first + 1, columns: right - left + 1 };
  return { range: prefix + fixedAddress(meant) };
}

const SECTIONS: ReadonlySet<string> = new Set(["#all", "#data", "#headers", "#totals"]);

/** The first and the last sheet row of a section of the table; a section that is not there ends before it begins. */
function sectionOf(table: Table, section: string): readonly [number, number] {
  const { area } = table;
  const bottom = area.row + area.rows - 1;
  if (section === "#all") return [area.row, bottom];
  if (section === "#headers") return [area.row, table.columns ? area.row - 1 : area.row];
  if (section === "#totals") return [table.totals ? bottom : bottom + 1, bottom];
  const data = dataArea(table);
  return [data.row, data.row + data.rows - 1];
}

/** The table of that name; for "" the one around the place. */
export function tableAround(name: string, tables: readonly Table[], place: FormulaCell | undefined): Table | undefined {
  if (name === "")
    return tables.find((one) => place !== undefined && one.sheet === place.sheet && contains(one.area, place));
  return tables.find((one) => one.name.toLowerCase() === name.toLowerCase());
}

interface Part {
  readonly special: boolean;
  readonly text: string;
  /** The other end of a range of columns. */
  readonly to?: string;
}

function parts(inside: string): Part[] {
  if (inside === "") return [];
  if (inside.startsWith("@")) {
    const rest = inside.slice(1).trim();
    return [{ special: true, text: "@" }, ...(rest === "" ? [] : parts(rest))];
  }
  if (!inside.startsWith("[")) return [partOf(inside)];
  const found: Part[] = [];
  let from: string | undefined;
  for (const [, text = "", joint] of inside.matchAll(/\[((?:'[\s\S]|[^[\]'])*)\]\s*([:,]?)/g)) {
    if (from !== undefined) found.push({ special: false, text: plain(from), to: plain(text) });
    else if (joint !== ":") found.push(partOf(text));
    from = from === undefined && joint === ":" ? text : undefined;
  }
  // A range without its other end is one column.
  return from === undefined ? found : [...found, partOf(from)];
}

function partOf(text: string): Part {
  return text.trim().startsWith("#") ? { special: true, text: text.trim() } : { special: false, text: plain(text) };
}

/** A column's name: an apostrophe makes the next character an ordinary one. */
function plain(text: string): string {
  return text.replace(/'([\s\S])/g, "$1");
}

/** Where columns stand by their simple names, for headers that were asked before: each formula of a column asks. */
const PLACES = new WeakMap<readonly string[], ReadonlyMap<string, number>>();

function columnOf({ headers }: Table, name: string): number {
  let places = PLACES.get(headers);
  // Of two that are alike the first counts.
  if (!places) PLACES.set(headers, (places = new Map(headers.map((one, i) => [simple(one), i] as const).reverse())));
  return places.get(simple(name)) ?? -1;
}

/** Excel writes a line break in a header as a blank or as it is. */
function simple(text: string): string {
  return text.trim().replace(/\s+/g, " ").toLowerCase();
}

function contains(area: Area, place: FormulaCell): boolean {
  return (
    place.row >= area.row &&
    place.row < area.row + area.rows &&
    place.column >= area.column &&
    place.column < area.column + area.columns
  );
}
