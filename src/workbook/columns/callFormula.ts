/**
 * Formulas that are one call of one function with cells and constants, as most of a log's are: read without an engine.
 */
import { columnNumber } from "../address";

/** One argument: a cell, a constant, or nothing between two commas. */
type CallArgument =
  | {
      readonly kind: "cell";
      /** As the formula names it; undefined for the formula's own. */
      readonly sheet: string | undefined;
      readonly row: number;
      readonly column: number;
      /** Whether a $ stands before the row. */
      readonly fixedRow: boolean;
    }
  | { readonly kind: "constant"; readonly value: number | string | boolean }
  | { readonly kind: "nothing" };

export interface Call {
  /** As the formula writes it: "BANK.BEND". */
  readonly name: string;
  readonly arguments: readonly CallArgument[];
}

const CALL = /^([A-Z]+\.[A-Z0-9]+)\((.*)\)$/s;
const CELL = /^(?:([A-Za-z_][A-Za-z0-9_]*|'(?:[^'[\]:]|'')+')!)?\$?([A-Z]{1,3})(\$?)([1-9]\d{0,6})$/;
const NUMBER = /^(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;
const LAST_COLUMN = 16_383;
const LAST_ROW = 1_048_575;

/**
 * The call that a formula is; undefined for every other formula: one with ranges, names, operators or inner calls.
 * @param formula without "="
 * @example callIn("BANK.BEND(J2)")?.name // "BANK.BEND"
 */
export function callIn(formula: string): Call | undefined {
  const match = CALL.exec(formula);
  if (!match) return undefined;
  const [, name = "", inside = ""] = match;
  if (inside.trim() === "") return undefined;
  const found: CallArgument[] = [];
  const sources = splitAtCommas(inside);
  if (!sources) return undefined;
  for (const source of sources) {
    const argument = argumentOf(source.trim());
    if (!argument) return undefined;
    found.push(argument);
  }
  return { name, arguments: found };
}

/** The text between commas that stand in no quotes; undefined where a bracket stands outside quotes. */
function splitAtCommas(inside: string): string[] | undefined {
  if (!/["']/.test(inside)) return /[()]/.test(inside) ? undefined : inside.split(",");
  const parts: string[] = [];
  let quote = "";
  let began = 0;
  for (let i = 0; i < inside.length; i++) {
    const c = inside[i] ?? "";
    if (quote !== "") quote = c === quote ? "" : quote;
    else if (c === '"' || c === "'") quote = c;
    else if (c === "(" || c === ")") return undefined;
    else if (c === ",") {
      parts.push(inside.slice(began, i));
      began = i + 1;
    }
  }
  return quote === "" ? [...parts, inside.slice(began)] : undefined;
}

function argumentOf(source: string): CallArgument | undefined {
  if (source === "") return { kind: "nothing" };
  if (NUMBER.test(source)) {
    const value = Number(source);
    return Number.isFinite(value) ? { kind: "constant", value } : undefined;
  }
  if (/^"(?:[^"]|"")*"$/.test(source)) return { kind: "constant", value: source.slice(1, -1).replace(/""/g, '"') };
  if (source === "TRUE" || source === "FALSE") return { kind: "constant", value: source === "TRUE" };
  const [, sheet, letters, fixed, digits] = CELL.exec(source) ?? [];
  if (letters === undefined) return undefined;
  const [row, column] = [Number(digits) - 1, columnNumber(letters)];
  if (row > LAST_ROW || column > LAST_COLUMN) return undefined;
  return { kind: "cell", sheet: sheet && plainName(sheet), row, column, fixedRow: fixed === "$" };
}

function plainName(sheet: string): string {
  return sheet.startsWith("'") ? sheet.slice(1, -1).replace(/''/g, "'") : sheet;
}
