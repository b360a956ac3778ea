/** What Excel makes of what is written into a cell, and its two ways to write a formula. */
import { areaAddress, parseAddress } from "../../src/workbook/address";
import type { HostCell } from "./workbook";

/** 15 February 2026: which day a fraction that looks like a date becomes does not matter, that it becomes one does. */
const SOME_DAY = 46068;

/**
 * Puts a value into a cell as if it were typed. "" empties it; a leading apostrophe keeps the rest as text; in a cell
 * of the format "@" everything is text.
 */
export function write(cell: HostCell, value: number | string | boolean): void {
  delete cell.error;
  delete cell.formula;
  delete cell.fresh;
  if (typeof value !== "string") cell.value = value;
  else if (value.startsWith("'")) cell.value = value.slice(1);
  else if (cell.format === "@") cell.value = value;
  else if (/^[=+-][^\d.]|^=/.test(value)) [cell.formula, cell.value, cell.fresh] = [value, 0, true];
  else if (/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(value.trim())) cell.value = Number(value);
  else if (/^\d+%$/.test(value)) [cell.value, cell.format] = [parseFloat(value) / 100, "0%"];
  else if (/^\d{1,2}\/\d{1,2}$/.test(value)) [cell.value, cell.format] = [SOME_DAY, "d-mmm"];
  else if (/^(true|false)$/i.test(value)) cell.value = value.toLowerCase() === "true";
  else if (/^#(N\/A|VALUE!|REF!|DIV\/0!|NUM!|NAME\?|NULL!)$/.test(value)) [cell.value, cell.error] = [value, true];
  else cell.value = value;
}

/** A formula with its references counted from its own cell; enough for what tests write. */
export function toR1C1(formula: string, row: number, column: number): string {
  return formula.replace(/(?<![A-Z.])([A-Z]{1,2})(\d+)(?![\d(])/g, (whole, letters: string, number: string) => {
    const at = parseAddress(`${letters}${number}`);
    return at ? `R[${at.row - row}]C[${at.column - column}]` : whole;
  });
}

/** And back. */
export function fromR1C1(formula: string, row: number, column: number): string {
  return formula.replace(/R\[(-?\d+)\]C\[(-?\d+)\]/g, (_, down: string, right: string) =>
    areaAddress({ row: row + Number(down), column: column + Number(right), rows: 1, columns: 1 }),
  );
}
