/**
 * Registers the worksheet functions with Univer's formula engine. May import: univerKit.ts, errorMessages.ts, the
 * workbook contracts and ../../functions.
 *
 * A function gets each argument as Excel hands it over: rows of cells where functions.json says "matrix", else one cell.
 * A blank is null in every case, an omitted argument is null, and an error in a cell is a CellError.
 */
import type { BaseValueObject } from "@univerjs/engine-formula";
import type { Injector } from "@univerjs/core";
import type { CellError } from "../book";
import { isCellError } from "../book";
import { SheetError } from "../../functions/sheetError";
import type { ErrorMessages } from "./errorMessages";
import type { UniverKit } from "./univerKit";

/** The part of functions.json that is used here. */
export interface FunctionMetadata {
  readonly functions: readonly {
    readonly id: string;
    readonly name: string;
    readonly description?: string;
    readonly parameters: readonly {
      readonly name: string;
      readonly description?: string;
      readonly dimensionality?: string;
      readonly optional?: boolean;
    }[];
  }[];
}

/** The functions by id, and what is known about their arguments. */
export interface FunctionLibrary {
  readonly namespace: string;
  readonly metadata: FunctionMetadata;
  // A function takes any cells and gives any: Excel's metadata generator allows no narrower type.
  // eslint-disable-next-line @typescript-eslint/no-explicit-any
  readonly functions: Readonly<Record<string, (...values: any[]) => any>>;
}

type Scalar = number | string | boolean | null | CellError;

/** Makes the functions computable and describes them for autocomplete. */
export function registerFunctions(kit: UniverKit, injector: Injector, library: FunctionLibrary, messages: ErrorMessages): void {
  const executors = library.metadata.functions.map((entry) => makeFunction(kit, library, entry, messages));
  injector.get(kit.IFunctionService).registerExecutors(...executors);
  injector.get(kit.IDescriptionService).registerDescriptions(
    library.metadata.functions.map((entry) => ({
      functionName: `${library.namespace}.${entry.name}`,
      functionType: kit.FunctionType.User,
      description: entry.description ?? "",
      abstract: entry.description ?? "",
      functionParameter: entry.parameters.map((parameter) => ({
        name: parameter.name,
        detail: parameter.description ?? "",
        example: parameter.dimensionality === "matrix" ? "B2:B20" : "B2",
        require: parameter.optional ? 0 : 1,
        repeat: 0,
      })),
    })),
  );
}

function makeFunction(kit: UniverKit, library: FunctionLibrary, entry: FunctionMetadata["functions"][number], messages: ErrorMessages) {
  const name = `${library.namespace}.${entry.name}`;
  const body = library.functions[entry.id];
  if (!body) throw new Error(`functions.json describes ${name}, but there is no function ${entry.id}.`);
  const parameters = entry.parameters;
  const least = parameters.filter((parameter) => !parameter.optional).length;

  class BankFunction extends kit.BaseFunction {
    // The engine answers a wrong number of arguments with a bare #N/A; here the answer says what is wrong.
    override minParams = -1;
    override maxParams = -1;

    /** Text that looks like a date or a fraction stays text. */
    override isArgumentsIgnoreNumberPattern(): boolean {
      return true;
    }

    override calculate(...given: BaseValueObject[]): BaseValueObject {
      const sheet = this.subUnitId ?? "";
      const { row, column } = this;
      messages.enter(sheet, row, column);
      const fail = (code: string, message: string, down = 0, right = 0): BaseValueObject => {
        messages.say(sheet, row, column, down, right, code, message);
        return kit.ErrorValueObject.create(code as never);
      };
      if (given.length < least || given.length > parameters.length) {
        return fail("#VALUE!", `${name} takes ${count(least, parameters.length)}, not ${given.length}: ${usage(name, entry)}.`);
      }
      const args = parameters.map(({ dimensionality }, i) => {
        if (!given[i] || isSkipped(given[i])) return null;
        const cells = cellsOf(given[i]);
        return dimensionality === "matrix" ? cells : cells[0][0];
      });
      const toValue = (result: unknown, down: number, right: number): BaseValueObject => {
        if (result instanceof SheetError) return fail(result.code, result.message, down, right);
        if (isCellError(result)) return fail(result.error, result.message ?? "", down, right);
        if (typeof result === "number") {
          return Number.isFinite(result) ? kit.NumberValueObject.create(result) : fail("#NUM!", `${name} gives no finite number here.`, down, right);
        }
        if (typeof result === "string") return kit.StringValueObject.create(result);
        if (typeof result === "boolean") return kit.BooleanValueObject.create(result);
        return kit.NullValueObject.create();
      };
      const toCells = (rows: readonly (readonly unknown[])[]): BaseValueObject => {
        const width = Math.max(1, ...rows.map((line) => line.length));
        const cells = rows.map((line, r) => Array.from({ length: width }, (_, c) => toValue(line[c] ?? null, r, c)));
        return kit.ArrayValueObject.create({
          calculateValueList: cells,
          rowCount: cells.length,
          columnCount: width,
          unitId: this.unitId ?? "",
          sheetId: sheet,
          row,
          column,
        });
      };

      let result: unknown;
      try {
        result = body(...args);
      } catch (error) {
        if (error instanceof SheetError) return fail(error.code, error.message);
        return fail("#VALUE!", `${name} stopped: ${error instanceof Error ? error.message : String(error)}`);
      }
      if (!Array.isArray(result) || result.length === 0) return toValue(result, 0, 0);
      const rows = result.map((line) => (Array.isArray(line) ? line : [line]));
      return rows.length === 1 && rows[0].length === 1 ? toValue(rows[0][0], 0, 0) : toCells(rows);
    }
  }
  return new BankFunction(name);
}

/** An argument left out between two commas; a reference to a blank cell is an array with a blank in it. */
function isSkipped(value: BaseValueObject): boolean {
  return !value.isArray() && value.isNull();
}

/** The rows of a range or array constant; of one value, one row with one cell. */
function cellsOf(value: BaseValueObject): Scalar[][] {
  if (!value.isArray()) return [[scalarOf(value)]];
  const array = value as unknown as { getRowCount(): number; getColumnCount(): number; get(row: number, column: number): BaseValueObject | null | undefined };
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

function count(least: number, most: number): string {
  if (least === most) return least === 1 ? "1 argument" : `${least} arguments`;
  return `${least} to ${most} arguments`;
}

function usage(name: string, entry: FunctionMetadata["functions"][number]): string {
  return `${name}(${entry.parameters.map((parameter) => (parameter.optional ? `[${parameter.name}]` : parameter.name)).join(", ")})`;
}
