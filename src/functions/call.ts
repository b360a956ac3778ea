/**
 * The one protocol by which hosts call worksheet functions: which there are, how many arguments each takes, what an
 * argument may be, and what an answer is. A host says only how its own cells are read and how its own cells are made.
 *
 * An argument is rows of cells where functions.json says "matrix", otherwise one cell. A blank is null, an argument
 * left out is null, an error in a cell is a CellError. An answer is rows of cells of the same width.
 */
import { isCellError } from "../workbook/book";
import * as functions from "./functions";
import { SheetError } from "./sheetError";

/** The part of functions.json that calls need. */
interface FunctionMetadata {
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

/** Functions by id, and what is known about their arguments. */
export interface FunctionLibrary {
  readonly namespace: string;
  readonly metadata: FunctionMetadata;
  // A function takes any cells and gives any: Excel's metadata generator allows no narrower type.
  // eslint-disable-next-line @typescript-eslint/no-explicit-any
  readonly functions: Readonly<Record<string, (...values: any[]) => any>>;
}

/** The worksheet functions of this program. @param metadata functions.json, or as much of it as a host needs */
export function bankFunctions(metadata: FunctionMetadata): FunctionLibrary {
  return { namespace: "BANK", metadata, functions };
}

/** An error that a cell of the answer, or the whole of it, ends in. */
export class Failure {
  constructor(
    readonly code: string,
    readonly message: string,
  ) {}
}

export type AnswerCell = number | string | boolean | null | Failure;
/** Rows of cells; a Failure when there is no answer at all. */
type Answer = readonly (readonly AnswerCell[])[] | Failure;

export interface SheetFunction {
  readonly id: string;
  /** As a formula writes it: "BANK.BEND". */
  readonly name: string;
  readonly description: string;
  readonly parameters: FunctionMetadata["functions"][number]["parameters"];
  /**
   * Calls it.
   * @param given arguments as the host has them; undefined and null are left out
   * @param read turns one argument into rows of cells
   */
  call(given: readonly unknown[], read: (argument: unknown) => readonly (readonly unknown[])[]): Answer;
}

/** The functions of a library, ready to be called. Throws when functions.json names one that is not there. */
export function sheetFunctions({
  namespace,
  metadata: { functions: entries },
  functions: bodies,
}: FunctionLibrary): SheetFunction[] {
  return entries.map(({ id, name: short, description = "", parameters }) => {
    const name = `${namespace}.${short}`;
    const body = bodies[id];
    if (!body) throw new Error(`functions.json describes ${name}, but there is no function ${id}.`);
    const least = parameters.filter(({ optional }) => !optional).length;
    return {
      id,
      name,
      description,
      parameters,
      call(given, read) {
        if (given.length < least || given.length > parameters.length)
          return new Failure("#VALUE!", countText(name, parameters, least, given.length));
        try {
          const values = parameters.map(({ dimensionality }, i) => {
            if (given[i] === undefined || given[i] === null) return null;
            const cells = read(given[i]);
            return dimensionality === "matrix" ? cells : cells[0]?.[0];
          });
          return answerOf(name, body(...values));
        } catch (problem) {
          if (problem instanceof SheetError) return new Failure(problem.code, problem.message);
          return new Failure(
            "#VALUE!",
            `${name} stopped: ${problem instanceof Error ? problem.message : String(problem)}`,
          );
        }
      },
    };
  });
}

/** What a function gave, as rows of one width. */
function answerOf(name: string, result: unknown): Answer {
  const lines =
    !Array.isArray(result) || result.length === 0
      ? [[Array.isArray(result) ? null : result]]
      : result.map((line: unknown) => (Array.isArray(line) ? line : [line]));
  const width = Math.max(1, ...lines.map((line) => line.length));
  return lines.map((line) => Array.from({ length: width }, (_, column) => cellOf(name, line[column] ?? null)));
}

function cellOf(name: string, value: unknown): AnswerCell {
  if (value instanceof SheetError) return new Failure(value.code, value.message);
  if (isCellError(value)) return new Failure(value.error, value.message ?? `${name} ended in ${value.error}.`);
  if (typeof value === "number")
    return Number.isFinite(value) ? value : new Failure("#NUM!", `${name} gives no finite number here.`);
  return typeof value === "string" || typeof value === "boolean" ? value : null;
}

function countText(name: string, parameters: SheetFunction["parameters"], least: number, given: number): string {
  const most = parameters.length;
  const many = least === most ? (least === 1 ? "1 argument" : `${least} arguments`) : `${least} to ${most} arguments`;
  const usage = parameters.map((parameter) => (parameter.optional ? `[${parameter.name}]` : parameter.name)).join(", ");
  return `${name} takes ${many}, not ${given}: ${name}(${usage}).`;
}
