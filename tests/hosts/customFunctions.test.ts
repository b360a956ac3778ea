import { beforeEach, describe, expect, it } from "vitest";
import metadata from "../../src/functions/functions.json";
import { associateFunctions } from "../../src/hosts/excel/customFunctions";

class HostError {
  constructor(
    readonly code: string,
    readonly message?: string,
  ) {}
}
/** What Excel adds after the arguments. */
const INVOCATION = { address: "Sheet1!A1", functionName: "BEND", isInValuePreview: false };

const associated = new Map<string, (...given: unknown[]) => unknown>();
let blanksSeen = false;
associateFunctions(
  { associate: (id, body) => void associated.set(id, body), Error: HostError as never },
  { seen: () => blanksSeen, saw: () => void (blanksSeen = true) },
);
beforeEach(() => {
  blanksSeen = false;
});

/** Calls as Excel does: rows of cells, null for what is left out, the invocation at the end. */
const call = (id: string, ...given: unknown[]) => {
  const { parameters } = metadata.functions.find((one) => one.id === id)!;
  return associated.get(id)!(...parameters.map((_, index) => given[index] ?? null), INVOCATION);
};
const firstTwo = (table: unknown) => (table as unknown[][]).map((row) => row.slice(0, 2));
const failure = (id: string, ...given: unknown[]): HostError => {
  try {
    call(id, ...given);
  } catch (problem) {
    expect(problem).toBeInstanceOf(HostError);
    return problem as HostError;
  }
  throw new Error(`${id} gave no error`);
};

describe("functions as Excel calls them", () => {
  it("associates every id of functions.json once", () => {
    expect([...associated.keys()]).toEqual(metadata.functions.map(({ id }) => id));
  });

  it("computes, with optional arguments left out as null", () => {
    expect(call("BEND", [[0.875]])).toEqual([[0.25]]);
    expect(call("BEND", [["1/8"]], null, [["in"]])).toEqual([[1]]);
    expect(firstTwo(call("SPREAD", [[1], [2], [3]]))).toEqual([
      ["quantity", "estimate"],
      ["mean", 2],
      ["standard deviation", 1],
      ["n", 3],
    ]);
    expect(call("FRACTION", [[1.125]])).toEqual([["1 1/8"]]);
  });

  it("spills over ranges, with an error in its own cell", () => {
    const [first, second, third, fourth] = call("BEND", [[0.875], ["soon"], [null], [0.5]]) as unknown[][];
    expect(first).toEqual([0.25]);
    expect(second[0]).toBeInstanceOf(HostError);
    expect(second[0]).toMatchObject({ code: "#VALUE!", message: expect.stringContaining('gap is "soon"') });
    expect(third[0]).toMatchObject({ code: "#N/A", message: expect.stringContaining("gap is blank") });
    expect(fourth).toEqual([0.625]);
  });

  it("throws Excel's own error with the message for a single cell", () => {
    expect(failure("BEND", [[null]])).toMatchObject({ code: "#N/A", message: expect.stringContaining("gap is blank") });
    expect(failure("BEND", [[46030]])).toMatchObject({
      code: "#VALUE!",
      message: expect.stringContaining("was turned into a date"),
    });
    expect(failure("MAKES", [[5]], [[4]])).toMatchObject({
      code: "#VALUE!",
      message: expect.stringContaining("no more shots can be made than tried"),
    });
  });

  it("keeps a blank from becoming 0", () => {
    expect(firstTwo(call("SPREAD", [[1], [null], [""], [3]]))).toEqual([
      ["quantity", "estimate"],
      ["mean", 2],
      ["standard deviation", Math.SQRT2],
      ["n", 2],
    ]);
  });

  it("points out zeros that may be blanks under a table, of ranges and of single cells, until a blank has come", () => {
    const notes = (answer: unknown) =>
      (answer as unknown[][]).flat().filter((cell) => /may hand over a blank/.test(String(cell)));
    expect(notes(call("SPREAD", [[1], [0], [0], [3]]))).toEqual([
      expect.stringMatching(/^2 of the cells given are 0: .* write IF\(cells="","",cells\) for the cells\.$/),
    ]);
    expect(notes(call("MAKES", [[0]], [[4]]))).toEqual([expect.stringMatching(/^1 of the cells given is 0: /)]);
    // Words below a path would spoil a chart of it, and one number has no place for them.
    expect(notes(call("PATH", [[5]], [[20]], [[1]], [[0]], [[45]]))).toEqual([]);
    expect(call("BEND", [[0]])).toEqual([[1.125]]);
    // What is left out may come as a single blank as well.
    call("BEND", [[0.5]], [[null]]);
    expect([blanksSeen, notes(call("MAKES", [[0]], [[4]])).length]).toEqual([false, 1]);
    failure("BEND", [[null]]);
    expect([blanksSeen, notes(call("MAKES", [[0]], [[4]])).length]).toEqual([true, 0]);
  });

  it("understands errors in cells, as objects of either kind", () => {
    expect(failure("BEND", [[new HostError("#DIV/0!")]])).toMatchObject({
      code: "#VALUE!",
      message: expect.stringContaining("#DIV/0!"),
    });
    expect(
      failure("SPREAD", [
        [1],
        [{ type: "Error", basicType: "Error", basicValue: "#N/A", errorType: "NotAvailable" }],
        [2],
      ]),
    ).toMatchObject({ message: expect.stringContaining("the error #N/A in row 2") });
  });

  it("answers every error of a cell with a code that Excel takes, and words", () => {
    for (const { id, parameters } of metadata.functions)
      for (const code of ["#REF!", "#NAME?", "#SPILL!", "#BUSY!", "#DIV/0!", "#N/A"]) {
        const { code: answered, message } = failure(id, ...parameters.map(() => [[new HostError(code)]]));
        expect(["#VALUE!", "#N/A"], id).toContain(answered);
        expect(message, id).toMatch(/\S/);
      }
  });

  it("takes formatted numbers and other values with a look for their plain values", () => {
    expect(
      call("BEND", [[{ type: "FormattedNumber", basicType: "Double", basicValue: 0.875, numberFormat: "0.000" }]]),
    ).toEqual([[0.25]]);
    expect(failure("BEND", [[{ type: "Empty", basicType: "Empty", basicValue: "" }]])).toMatchObject({ code: "#N/A" });
  });

  it("answers #VALUE! with words when something unforeseen is handed over", () => {
    const hostile = {
      get basicType(): string {
        throw new Error("no such luck");
      },
    };
    expect(failure("BEND", [[hostile]])).toMatchObject({ code: "#VALUE!", message: "BANK.BEND stopped: no such luck" });
  });

  it("hands over nothing that Excel would show as 0 or refuse", () => {
    for (const result of [
      call("SPREAD", [[1], [2]]),
      call("REGRESS", [[1], [2], [4]], [[1], [2], [3]]),
      call("MAKES", [[3]], [[4]]),
    ] as unknown[][][]) {
      for (const cell of result.flat())
        expect(
          cell instanceof HostError || typeof cell === "string" || (typeof cell === "number" && Number.isFinite(cell)),
        ).toBe(true);
      expect(new Set(result.map((row) => row.length)).size).toBe(1);
    }
  });
});
