/**
 * The worksheet functions as Excel calls them. May import: ../book.ts, ../../functions.
 *
 * Excel hands over rows of cells for every argument and one more argument that describes the call, and takes errors as
 * CustomFunctions.Error alone. A blank is null on new builds; older ones say 0, and nothing here can tell that from a
 * typed 0.
 */
import * as functions from "../../functions/functions";
import metadata from "../../functions/functions.json";
import { SheetError } from "../../functions/sheetError";
import { isCellError } from "../book";

/** The part of the custom functions runtime that is used here. */
export interface FunctionHost {
  associate(id: string, body: (...given: unknown[]) => unknown): void;
  readonly Error: new (code: CustomFunctions.ErrorCode, message?: string) => object;
}

// A function takes any cells and gives any: the metadata generator allows no narrower type.
// eslint-disable-next-line @typescript-eslint/no-explicit-any
const bodies: Readonly<Record<string, (...values: any[]) => unknown>> = functions;

/** What can be returned; #REF! and #NAME? cannot. */
const CODES: ReadonlySet<string> = new Set(["#VALUE!", "#N/A", "#DIV/0!", "#NUM!", "#NULL!"]);

/** Tells Excel which code belongs to which id of functions.json. */
export function associateFunctions(host: FunctionHost): void {
  for (const { id, name, parameters } of metadata.functions) {
    host.associate(id, (...given) => call(host, `BANK.${name}`, bodies[id], given.slice(0, parameters.length)));
  }
}

function call(host: FunctionHost, name: string, body: (...values: unknown[]) => unknown, given: readonly unknown[]): unknown {
  const failure = (code: string, message?: string) => {
    if (CODES.has(code)) return new host.Error(code as CustomFunctions.ErrorCode, message);
    return new host.Error("#VALUE!" as CustomFunctions.ErrorCode, message ?? `${name} ended in ${code}.`);
  };
  const outgoing = (value: unknown): unknown => {
    if (value instanceof SheetError) return failure(value.code, value.message);
    if (isCellError(value)) return failure(value.error, value.message);
    if (typeof value === "number" && !Number.isFinite(value)) return failure("#NUM!");
    return value ?? ""; // null would be shown as 0
  };
  try {
    const result = body(...given.map((argument) => incoming(argument)));
    return Array.isArray(result) ? result.map((row) => (Array.isArray(row) ? row.map(outgoing) : outgoing(row))) : outgoing(result);
  } catch (problem) {
    if (problem instanceof SheetError) throw failure(problem.code, problem.message);
    throw failure("#VALUE!", `${name} stopped: ${problem instanceof Error ? problem.message : String(problem)}`);
  }
}

/** A cell or rows of cells as the functions take them: formatted numbers as numbers, errors as CellError. */
function incoming(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(incoming);
  if (typeof value !== "object" || value === null) return value;
  const { basicType, basicValue, code, message } = value as { basicType?: unknown; basicValue?: unknown; code?: unknown; message?: unknown };
  if (basicType === "Error" && typeof basicValue === "string") return { error: basicValue };
  if (basicType === "Empty") return null;
  if (basicValue !== undefined) return basicValue;
  if (typeof code === "string") return { error: code, ...(typeof message === "string" && message !== "" ? { message } : {}) };
  return value;
}
