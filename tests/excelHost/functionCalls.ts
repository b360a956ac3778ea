/**
 * Calls of custom functions as Excel makes them: a message for each, answers in batches through a service of their own.
 */
import signatures from "../../src/functions/signatures.json";
import type { CellValue } from "../../src/workbook/book";
import { ExcelFailure } from "./failure";
import { remote, type Kind, type Remote } from "./model";

/** Of the functions, as manifest.xml has it. */
const NAMESPACE = "BANK";
const CATEGORY = 1;
const INVOKE = 1000;
/** Flag of a call whose arguments may hold errors: "allowErrorForDataTypeAny" in functions.json. */
const ALLOWS_ERRORS = 4;
/** The client's numbers for the errors of a whole answer. */
const CODES: Readonly<Record<number, string>> = {
  1: "#N/A",
  5: "#DIV/0!",
  6: "#NUM!",
  7: "#VALUE!",
  8: "#NULL!",
};

export interface FunctionResult {
  readonly value: unknown;
  /** What the error's menu shows, for #VALUE! and #N/A. */
  readonly message?: string;
}

export class FunctionCalls {
  private readonly waiting = new Map<number, (result: FunctionResult) => void>();
  private called = 0;
  readonly services: Readonly<Record<string, Remote>>;

  /** @param send takes one entry of a message to the client */
  constructor(private readonly send: (entry: object) => void) {
    const kind: Kind<FunctionCalls> = {
      name: "CustomFunctions",
      methods: {
        SetInvocationArrayResults: (calls, results: unknown[][]) =>
          results.forEach(([id, fine, value, code]) => calls.take(id as number, fine === true, value, code as number)),
        SetInvocationResults: (
          calls,
          results: { id: number; failed?: boolean; value: unknown; errorCode?: number }[],
        ) => results.forEach(({ id, failed, value, errorCode }) => calls.take(id, !failed, value, errorCode)),
        _SetOsfControlContainerReadyForCustomFunctions: () => undefined,
      },
    };
    this.services = { "Microsoft.ExcelServices.CustomFunctions": remote(kind, this) };
  }

  /**
   * @param id of functions.json
   * @param given rows of cells, or null for an argument that is left out; an error is { error: "#N/A" }
   */
  call(id: string, given: readonly unknown[]): Promise<FunctionResult> {
    const invocationId = ++this.called;
    const message = {
      invocationId,
      functionName: id,
      parameterValues: given.map(outgoing),
      address: "Sheet1!A1",
      flags: ALLOWS_ERRORS,
      parameterAddresses: null,
    };
    return new Promise((resolve) => {
      this.waiting.set(invocationId, resolve);
      this.send({ messageCategory: CATEGORY, messageType: INVOKE, targetId: "", message: JSON.stringify(message) });
    });
  }

  /** As a formula asks: "BANK.BEND", cells for each argument, those at the end left out. */
  async ofCell(name: string, given: readonly unknown[]): Promise<CellValue | CellValue[][]> {
    const [, namespace = "", id = ""] = /^([^.]*)\.(.*)$/.exec(name) ?? [];
    const signature = namespace === NAMESPACE ? signatures.functions.find((one) => one.name === id) : undefined;
    if (!signature) return { error: "#NAME?" };
    const { value } = await this.call(
      signature.id,
      signature.parameters.map((_, index) => given[index] ?? null),
    );
    return value as CellValue | CellValue[][];
  }

  private take(id: number, fine: boolean, value: unknown, code: number | undefined): void {
    const resolve = this.waiting.get(id);
    if (!resolve) throw new ExcelFailure("InvalidArgument", "No call of that number is waiting.");
    this.waiting.delete(id);
    if (fine) return resolve({ value: incoming(value) });
    const error = CODES[code ?? 0] ?? "#VALUE!";
    // Only these two show words: learn.microsoft.com/office/dev/add-ins/excel/custom-functions-errors.
    const message = error === "#VALUE!" || error === "#N/A" ? String(value) : undefined;
    resolve({ value: { error }, ...(message === undefined ? {} : { message }) });
  }
}

/** An argument on the wire: errors as the client reads them, blanks as null. */
function outgoing(argument: unknown): unknown {
  if (Array.isArray(argument)) return argument.map(outgoing);
  const error = (argument as { error?: unknown } | null)?.error;
  return typeof error === "string" ? { type: "CustomFunctionError", code: error } : argument;
}

/** A result from the wire: errors inside an array are objects. */
function incoming(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(incoming);
  if (typeof value !== "object" || value === null) return value;
  const { code, errorCode, message } = value as Record<string, unknown>;
  const error = code ?? errorCode;
  return typeof error === "string" ? { error, ...(typeof message === "string" ? { message } : {}) } : value;
}
