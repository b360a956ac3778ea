/**
 * Recalculation: formulas that were written since the workbook was opened follow their cells; those that came with it
 * keep what was stored. A function of the add-in is asked over the bridge; until it answers, its cell shows #BUSY!
 * (learn.microsoft.com/office/dev/add-ins/excel/custom-functions-errors).
 */
import { isCellError, type CellValue } from "../../src/workbook/book";
import { computed } from "./formula";
import { LAST_COLUMN, type HostSheet } from "./workbook";

type Cells = readonly (readonly CellValue[])[];
/** Asks a function of the add-in; resolves to rows of cells or one value. */
export type Ask = (name: string, given: readonly (Cells | null)[]) => Promise<CellValue | Cells>;

class Busy {}

export class Calculation {
  /** Answers by what was asked. */
  private readonly answers = new Map<string, CellValue | Cells>();

  constructor(private readonly ask: Ask) {}

  /**
   * Computes the sheet's formulas, again after the add-in's answers.
   * @param done is called once everything stands, when anything was computed
   */
  run(sheet: HostSheet, done: () => void): void {
    const asked: Promise<unknown>[] = [];
    let any = false;
    // Twice, so that a formula sees what another one gives.
    for (let round = 0; round < 2; round++)
      for (const [key, cell] of sheet.cells) {
        if (!cell.fresh || cell.formula === undefined) continue;
        any = true;
        const [row, column] = [Math.floor(key / LAST_COLUMN), key % LAST_COLUMN];
        this.put(sheet, row, column, this.value(sheet, cell.formula.slice(1), asked));
      }
    if (asked.length > 0) void Promise.all(asked).then(() => this.run(sheet, done));
    else if (any) done();
  }

  private value(sheet: HostSheet, formula: string, asked: Promise<unknown>[]): CellValue | Cells {
    try {
      return computed(formula, {
        cells: ({ row, column, rows, columns }) =>
          Array.from({ length: rows }, (_, r) =>
            Array.from({ length: columns }, (__, c): CellValue => {
              const cell = sheet.cell(row + r, column + c);
              if (cell?.error) return { error: String(cell.value) };
              // A formula that shows nothing is a text without characters, not a blank.
              return !cell || (cell.value === "" && cell.formula === undefined) ? null : cell.value;
            }),
          ),
        call: (name, given) => {
          const key = JSON.stringify([name, given]);
          const answer = this.answers.get(key);
          if (answer !== undefined) return answer;
          asked.push(this.ask(name, given).then((result) => this.answers.set(key, result)));
          throw new Busy();
        },
      });
    } catch (problem) {
      if (problem instanceof Busy) return { error: "#BUSY!" };
      throw problem;
    }
  }

  /** A value, or rows that spill from the cell on. */
  private put(sheet: HostSheet, row: number, column: number, result: CellValue | Cells): void {
    const rows = Array.isArray(result) ? (result as Cells) : [[result as CellValue]];
    rows.forEach((line, r) =>
      line.forEach((value, c) => {
        const cell = sheet.make(row + r, column + c);
        delete cell.error;
        if (isCellError(value)) [cell.value, cell.error] = [value.error, true];
        else cell.value = value ?? (r === 0 && c === 0 ? 0 : "");
      }),
    );
  }
}
