/**
 * The worksheet functions as Excel calls them.
 *
 * Excel hands over rows of cells for every argument and one more argument that describes the call, and takes errors as
 * CustomFunctions.Error alone. A blank is null on new builds; older ones say 0, and nothing here can tell that from a
 * typed 0.
 */
import { bankFunctions, Failure, sheetFunctions, type AnswerCell } from "../../functions/call";
import signatures from "../../functions/signatures.json";

/** The part of the custom functions runtime that is used here. */
export interface FunctionHost {
  associate(id: string, body: (...given: unknown[]) => unknown): void;
  readonly Error: new (code: CustomFunctions.ErrorCode, message?: string) => object;
}

/** What can be returned; #REF! and #NAME? cannot. */
const CODES: ReadonlySet<string> = new Set(["#VALUE!", "#N/A", "#DIV/0!", "#NUM!", "#NULL!"]);

/** Tells Excel which code belongs to which id of functions.json. */
export function associateFunctions(host: FunctionHost): void {
  const failed = ({ code, message }: Failure) =>
    new host.Error((CODES.has(code) ? code : "#VALUE!") as CustomFunctions.ErrorCode, message);
  // null would be shown as 0.
  const outgoing = (cell: AnswerCell) => (cell instanceof Failure ? failed(cell) : (cell ?? ""));
  for (const { id, parameters, call } of sheetFunctions(bankFunctions(signatures))) {
    host.associate(id, (...given) => {
      const answer = call(given.slice(0, parameters.length), rowsOf);
      if (answer instanceof Failure) throw failed(answer);
      return answer.map((row) => row.map(outgoing));
    });
  }
}

function rowsOf(argument: unknown): unknown[][] {
  const rows = Array.isArray(argument) ? argument : [argument];
  return rows.map((row: unknown) => (Array.isArray(row) ? row.map(incoming) : [incoming(row)]));
}

/** A cell as the functions take it: formatted numbers as numbers, errors as CellError. */
function incoming(value: unknown): unknown {
  if (typeof value !== "object" || value === null) return value;
  const { basicType, basicValue, code, message } = value as Readonly<
    Record<"basicType" | "basicValue" | "code" | "message", unknown>
  >;
  if (basicType === "Error" && typeof basicValue === "string") return { error: basicValue };
  if (basicType === "Empty") return null;
  if (basicValue !== undefined) return basicValue;
  if (typeof code === "string")
    return { error: code, ...(typeof message === "string" && message !== "" ? { message } : {}) };
  return value;
}
