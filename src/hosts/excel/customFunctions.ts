/**
 * The worksheet functions as Excel calls them.
 *
 * Excel hands over a value for each parameter that it knows of, null where one is left out, then one more argument that
 * describes the call, and takes errors as CustomFunctions.Error alone. A blank is null, or a value of the type Empty;
 * other builds say 0. No page says which: those on data types (CustomFunctionsRuntime 1.4, asked for in functions.json
 * by allowCustomDataForDataTypeAny) are silent on blanks, and people report 0 from newer builds too. So it is known
 * only where a blank has come as one; elsewhere zeros are pointed out.
 */
import { bankFunctions, Failure, sheetFunctions, type AnswerCell, type SheetFunction } from "../../functions/call";
import signatures from "../../functions/signatures.json";
import { notice } from "./callNotices";

/** The part of the custom functions runtime that is used here. */
export interface FunctionHost {
  associate(id: string, body: (...given: unknown[]) => unknown): void;
  readonly Error: new (code: CustomFunctions.ErrorCode, message?: string) => object;
}

/** Whether a blank has ever come as one in this Excel, which then tells blanks from zeros. */
export interface BlankMemory {
  seen(): boolean;
  /** To be kept: one has come. */
  saw(): void;
}

/** What can be returned; #REF! and #NAME? cannot. */
const CODES: ReadonlySet<string> = new Set(["#VALUE!", "#N/A", "#DIV/0!", "#NUM!", "#NULL!"]);

/** Tells Excel which code belongs to which id of functions.json. */
export function associateFunctions(host: FunctionHost, blanks: BlankMemory): void {
  const failed = ({ code, message }: Failure) =>
    new host.Error((CODES.has(code) ? code : "#VALUE!") as CustomFunctions.ErrorCode, message);
  // null would be shown as 0.
  const outgoing = (cell: AnswerCell) => (cell instanceof Failure ? failed(cell) : (cell ?? ""));
  for (const one of sheetFunctions(bankFunctions(signatures))) {
    host.associate(one.id, (...all) => {
      const given = argumentsOf(one, all);
      if (given instanceof Failure) throw failed(given);
      const answer = one.call(given, rowsOf);
      // #VALUE! may say that the cells could not even be read.
      if (!(answer instanceof Failure && answer.code === "#VALUE!") && hasBlank(one, given)) blanks.saw();
      if (answer instanceof Failure) throw failed(answer);
      const zeros = blanks.seen() ? NO_ZEROS : zerosOf(given);
      if (zeros.all > 0) notice({ zeros: one.name });
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

function cellsOf(argument: unknown): readonly unknown[] {
  return Array.isArray(argument) ? argument.flat() : [];
}

/** Whether a blank came as one. A single cell of an optional argument says nothing: it may have been left out. */
function hasBlank({ parameters }: SheetFunction, given: readonly unknown[]): boolean {
  return parameters.some(({ optional = false }, i) => {
    const cells = cellsOf(given[i]);
    return (cells.length > 1 || !optional) && cells.some((cell) => incoming(cell) === null);
  });
}

/** Zeros among the arguments that may stand for blanks. */
interface Zeros {
  readonly all: number;
  readonly inRanges: number;
}
const NO_ZEROS: Zeros = { all: 0, inRanges: 0 };

function zerosOf(given: readonly unknown[]): Zeros {
  const count = (cells: readonly unknown[]) => cells.filter((cell) => cell === 0).length;
  const all = given.map(cellsOf);
  return {
    all: all.reduce((sum, cells) => sum + count(cells), 0),
    inRanges: all.reduce((sum, cells) => sum + (cells.length > 1 ? count(cells) : 0), 0),
  };
}

type Rows = readonly (readonly AnswerCell[])[];

/**
 * A line under a table, where zeros among its arguments may have been blanks. Under many rows that single cells led to,
 * such as a path, a line of words would spoil a chart of them: then the pane alone says it. So it does for an answer
 * without headings, which has no place for words.
 */
function withNote(answer: Rows, { all, inRanges }: Zeros): Rows {
  const [headings = [], ...rows] = answer;
  const isTable = rows.length > 0 && headings.every((cell) => typeof cell === "string" && cell !== "");
  if (!isTable || all === 0 || (inRanges === 0 && rows.length > 1)) return answer;
  const cells = all === 1 ? "1 of the cells given is 0" : `${all} of the cells given are 0`;
  const text = `${cells}: this Excel may hand over a blank as 0, which counts here as a measurement. If any is blank, write IF(cells="","",cells) for the cells.`;
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
