/** The worksheet functions as Univer's formula engine calls them. */
import type { BaseValueObject } from "@univerjs/engine-formula";
import type { Injector } from "@univerjs/core";
import {
  Failure,
  sheetFunctions,
  type AnswerCell,
  type FunctionLibrary,
  type SheetFunction,
} from "../../functions/call";
import type { CellError } from "../../workbook/book";
import type { UniverKit } from "./univerKit";

/**
 * Who keeps what functions say of errors: a cell of the engine holds a code and no words. Sheets go by Univer's ids.
 */
export interface Listener {
  /** The formula in the cell is being computed. */
  enter(sheet: string, row: number, column: number): void;
  /** It ends in an error in the cell that is `down` and `right` of it. */
  say(sheet: string, row: number, column: number, down: number, right: number, code: string, message: string): void;
}

type Scalar = number | string | boolean | null | CellError;

/** Makes the functions computable and describes them for autocomplete. */
export function registerFunctions(
  kit: UniverKit,
  injector: Injector,
  library: FunctionLibrary,
  listener: Listener,
): void {
  const entries = sheetFunctions(library);
  injector.get(kit.IFunctionService).registerExecutors(...entries.map((entry) => executorOf(kit, entry, listener)));
  injector.get(kit.IDescriptionService).registerDescriptions(
    entries.map(({ name, description, parameters }) => ({
      functionName: name,
      functionType: kit.FunctionType.User,
      description,
      abstract: description,
      functionParameter: parameters.map((parameter) => ({
        name: parameter.name,
        detail: parameter.description ?? "",
        example: parameter.dimensionality === "matrix" ? "B2:B20" : "B2",
        require: parameter.optional ? 0 : 1,
        repeat: 0,
      })),
    })),
  );
}

function executorOf(kit: UniverKit, { name, call }: SheetFunction, listener: Listener) {
  class BankFunction extends kit.BaseFunction {
    // The engine answers a wrong number of arguments with a bare #N/A; the protocol says what is wrong.
    override minParams = -1;
    override maxParams = -1;

    /** Text that looks like a date or a fraction stays text. */
    override isArgumentsIgnoreNumberPattern(): boolean {
      return true;
    }

    override calculate(...given: BaseValueObject[]): BaseValueObject {
      const { row, column } = this;
      const sheet = this.subUnitId ?? "";
      listener.enter(sheet, row, column);
      const made = (cell: AnswerCell, down: number, right: number): BaseValueObject => {
        if (cell instanceof Failure) {
          listener.say(sheet, row, column, down, right, cell.code, cell.message);
          return kit.ErrorValueObject.create(cell.code as never);
        }
        if (typeof cell === "number") return kit.NumberValueObject.create(cell);
        if (typeof cell === "string") return kit.StringValueObject.create(cell);
        return typeof cell === "boolean" ? kit.BooleanValueObject.create(cell) : kit.NullValueObject.create();
      };
      // An argument left out between two commas is null; a reference to a blank cell is an array with a blank in it.
      const answer = call(
        given.map((value) => (!value.isArray() && value.isNull() ? null : value)),
        (value) => cellsOf(value as BaseValueObject),
      );
      if (answer instanceof Failure) return made(answer, 0, 0);
      const [first] = answer;
      if (answer.length === 1 && first?.length === 1 && first[0] !== undefined) return made(first[0], 0, 0);
      return kit.ArrayValueObject.create({
        calculateValueList: answer.map((line, down) => line.map((cell, right) => made(cell, down, right))),
        rowCount: answer.length,
        columnCount: first?.length ?? 0,
        unitId: this.unitId ?? "",
        sheetId: sheet,
        row,
        column,
      });
    }
  }
  return new BankFunction(name);
}

/** The rows of a range or array constant; of one value, one row with one cell. */
function cellsOf(value: BaseValueObject): Scalar[][] {
  if (!value.isArray()) return [[scalarOf(value)]];
  const array = value as unknown as {
    getRowCount(): number;
    getColumnCount(): number;
    get(row: number, column: number): BaseValueObject | null | undefined;
  };
  const rows = Math.max(1, array.getRowCount());
  const columns = Math.max(1, array.getColumnCount());
  return Array.from({ length: rows }, (_, r) => Array.from({ length: columns }, (_, c) => scalarOf(array.get(r, c))));
}

function scalarOf(value: BaseValueObject | null | undefined): Scalar {
  if (!value || value.isNull()) return null;
  if (value.isError()) return { error: value.getValue() as string };
  const plain = value.getValue();
  if (value.isBoolean()) return plain === true || plain === 1;
  return plain as number | string;
}
