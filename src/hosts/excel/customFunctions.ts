/**
 * The worksheet functions as Excel calls them.
 *
 * Excel hands over a value for each parameter that it knows of, null where one is left out, then one more argument that
 * describes the call, and takes errors as CustomFunctions.Error alone. A blank is null, or a value of the type Empty;
 * older builds say 0. Which it is, is known where a blank was seen, or where Excel has data types (the requirement set
 * CustomFunctionsRuntime 1.4, which functions.json asks for by allowCustomDataForDataTypeAny); elsewhere a zero in a
 * range is pointed out.
 */
import { bankFunctions, Failure, sheetFunctions, type AnswerCell, type SheetFunction } from "../../functions/call";
import signatures from "../../functions/signatures.json";
import { notice } from "./callNotices";

/** The part of the custom functions runtime that is used here. */
export interface FunctionHost {
  associate(id: string, body: (...given: unknown[]) => unknown): void;
  readonly Error: new (code: CustomFunctions.ErrorCode, message?: string) => object;
}

/** What can be returned; #REF! and #NAME? cannot. */
const CODES: ReadonlySet<string> = new Set(["#VALUE!", "#N/A", "#DIV/0!", "#NUM!", "#NULL!"]);

/**
 * Tells Excel which code belongs to which id of functions.json.
 *
 * @param hasDataTypes whether this Excel can tell a blank from 0; asked with each call, since Office says it late
 */
export function associateFunctions(host: FunctionHost, hasDataTypes: () => boolean): void {
  const failed = ({ code, message }: Failure) =>
    new host.Error((CODES.has(code) ? code : "#VALUE!") as CustomFunctions.ErrorCode, message);
  // null would be shown as 0.
  const outgoing = (cell: AnswerCell) => (cell instanceof Failure ? failed(cell) : (cell ?? ""));
  let blanksSeen = false;
  for (const one of sheetFunctions(bankFunctions(signatures))) {
    host.associate(one.id, (...all) => {
      const given = argumentsOf(one, all);
      if (given instanceof Failure) throw failed(given);
      blanksSeen ||= given.some(holdsBlank);
      const answer = one.call(given, rowsOf);
      if (answer instanceof Failure) throw failed(answer);
      const zeros = blanksSeen || hasDataTypes() ? 0 : given.reduce<number>((sum, range) => sum + zerosIn(range), 0);
      if (zeros > 0) notice({ zeros: one.name });
      return withNote(answer, zeros).map((row) => row.map(outgoing));
    });
  }
}

/**
 * The arguments without Excel's own at the end. Another number than the function takes says that Excel keeps another
 * functions.json; what is missing is left out then, what is too much must be nothing.
 */
function argumentsOf({ name, parameters }: SheetFunction, all: readonly unknown[]): readonly unknown[] | Failure {
  const given = all.slice(0, -1);
  const takes = parameters.length;
  if (given.length === takes) return given;
  notice({ outdated: { name, given: given.length, takes } });
  if (given.slice(takes).every((one) => one === null || one === undefined)) return given.slice(0, takes);
  return new Failure(
    "#VALUE!",
    `${name} takes ${takes} arguments, but Excel keeps another list of the functions and gave ${given.length}. The Bendbook pane says how to clear that list.`,
  );
}

/** The cells of a range; none of a single cell, whose blank the functions' own messages speak of. */
function cellsOf(argument: unknown): readonly unknown[] {
  const cells = Array.isArray(argument) ? argument.flat() : [];
  return cells.length > 1 ? cells : [];
}

function holdsBlank(argument: unknown): boolean {
  return cellsOf(argument).some((cell) => incoming(cell) === null);
}

function zerosIn(argument: unknown): number {
  return cellsOf(argument).filter((cell) => cell === 0).length;
}

type Rows = readonly (readonly AnswerCell[])[];

/** A line under a table, where zeros of its ranges may have been blanks. */
function withNote(answer: Rows, zeros: number): Rows {
  const [headings = [], ...rows] = answer;
  const isTable = rows.length > 0 && headings.every((cell) => typeof cell === "string" && cell !== "");
  if (zeros === 0 || !isTable) return answer;
  const cells = zeros === 1 ? "1 cell of the ranges is 0" : `${zeros} cells of the ranges are 0`;
  const text = `${cells}: this Excel may hand over a blank as 0, which counts here as a measurement. If any is blank, write IF(range="","",range) for the range.`;
  return [...answer, headings.map((_, column) => (column === 0 ? text : ""))];
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
