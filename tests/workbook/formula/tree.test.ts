/** Formulas written from random trees read back as the same trees, in every way of writing them. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cellAddress, columnLetters, quoteSheetName } from "../../../src/workbook/address";
import { callIn } from "../../../src/workbook/columns/callFormula";
import { piecesOf, piecesOfAny } from "../../../src/workbook/formula/pieces";
import { treeOf, type Node } from "../../../src/workbook/formula/tree";

/** The row in which the formulas stand. */
const ROW = 7;

const constant = fc.oneof(
  fc.double({ min: 0, noNaN: true, noDefaultInfinity: true }),
  fc.nat(),
  fc.string({ unit: "grapheme" }),
  fc.boolean(),
);
const sheet = fc.constantFrom(undefined, "Log", "Bo's log", "ä b", "A1", "2024", "x,y");
const corner = fc.record({
  column: fc.nat(16_383),
  row: fc.oneof(
    fc.record({ at: fc.nat(1_048_575), fixed: fc.constant(true) }),
    fc.record({ at: fc.nat(1_048_575).map((row) => row - ROW), fixed: fc.constant(false) }),
  ),
});
type Area = Extract<Node, { kind: "area" }>;
const area: fc.Arbitrary<Area> = fc.oneof(
  fc.tuple(sheet, corner).map(([on, first]): Area => ({ kind: "area", sheet: on, first, last: first })),
  fc.record({ kind: fc.constant("area" as const), sheet, first: corner, last: corner }),
);
const SIGNS = [["=", "<>", "<", ">", "<=", ">="], ["&"], ["+", "-"], ["*", "/"], ["^"]];

const { tree } = fc.letrec<{ tree: Node }>((tie) => ({
  tree: fc.oneof(
    { maxDepth: 4, withCrossShrink: true },
    fc.record({ kind: fc.constant("constant" as const), value: constant }),
    area,
    fc.record({ kind: fc.constant("name" as const), sheet, name: fc.constantFrom("Rail", "gap_1", "größe") }),
    fc.record({
      kind: fc.constant("table" as const),
      name: fc.constantFrom("", "Trials"),
      bracket: fc.constantFrom("[Gap (in)]", "[@Gap]", "[[#Headers],[a'[b']]]"),
    }),
    fc.record({
      kind: fc.constant("array" as const),
      rows: fc.array(fc.array(constant, { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 2 }),
    }),
    fc.record({ kind: fc.constantFrom("negative" as const, "hundredth" as const), of: tie("tree") }),
    fc.record({
      kind: fc.constant("pair" as const),
      sign: fc.constantFrom(...SIGNS.flat()),
      left: tie("tree"),
      right: tie("tree"),
    }),
    fc.record({
      kind: fc.constant("call" as const),
      name: fc.constantFrom("BANK.BEND", "IF", "COUNTIF"),
      given: fc
        .array(fc.option(tie("tree"), { nil: undefined }), { maxLength: 4 })
        // Nothing between the brackets is no argument.
        .filter((given) => given.length !== 1 || given[0] !== undefined),
    }),
  ),
}));

function constantText(value: number | string | boolean): string {
  return typeof value === "string" ? `"${value.replace(/"/g, '""')}"` : String(value).toUpperCase();
}

function edgeText({ column, row }: Area["first"]): string {
  const written = row.fixed ? `$${row.at + 1}` : String(row.at + ROW + 1);
  return columnLetters(column) + written;
}

const onSheet = (name: string | undefined) => (name === undefined ? "" : `${quoteSheetName(name)}!`);

/** The formula of the tree, with brackets around everything that has parts, and blanks where they mean nothing. */
function written(node: Node): string {
  switch (node.kind) {
    case "constant":
      return constantText(node.value);
    case "array":
      return `{${node.rows.map((line) => line.map(constantText).join(", ")).join(";")}}`;
    case "area":
      return onSheet(node.sheet) + edgeText(node.first) + (node.last === node.first ? "" : `:${edgeText(node.last)}`);
    case "table":
      return node.name + node.bracket;
    case "name":
      return onSheet(node.sheet) + node.name;
    case "negative":
      return `(-(${written(node.of)}))`;
    case "hundredth":
      return `(${written(node.of)})%`;
    case "pair":
      return `(${written(node.left)} ${node.sign} ${written(node.right)})`;
    case "call":
      return `${node.name.toLowerCase()}(${node.given.map((one) => (one ? ` ${written(one)} ` : "")).join(",")})`;
    default:
      return node satisfies never;
  }
}

/** The formula of the tree without the brackets that the signs do not need. */
function tersely(node: Node, tightness = 0): string {
  if (node.kind !== "pair") return written(node);
  const own = SIGNS.findIndex((signs) => signs.includes(node.sign));
  const text = tersely(node.left, own) + node.sign + tersely(node.right, own + 1);
  return own < tightness ? `(${text})` : text;
}

describe("a formula", () => {
  it("reads back as the tree from which it was written", () => {
    fc.assert(
      fc.property(tree, (node) => {
        expect(treeOf(written(node), ROW)).toEqual(node);
        expect(treeOf(tersely(node), ROW)).toEqual(node);
      }),
      { numRuns: 500 },
    );
  });

  it("is one call for computing by column exactly if its tree is one of cells and constants", () => {
    fc.assert(
      fc.property(tree, (node) => {
        const plain =
          node.kind === "call" &&
          node.name.startsWith("BANK.") &&
          node.given.length > 0 &&
          node.given.every((one) => !one || one.kind === "constant" || (one.kind === "area" && one.first === one.last));
        expect(callIn(written(node))?.arguments.length).toBe(plain ? node.given.length : undefined);
      }),
    );
  });

  it("is in pieces what it is in one, readable or not", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), tree, (noise, node) => {
        const joined = (pieces: readonly { readonly source: string }[]) => pieces.map(({ source }) => source).join("");
        expect(joined(piecesOfAny(noise))).toBe(noise);
        expect(joined(piecesOf(written(node)))).toBe(written(node));
      }),
    );
  });

  it.each(["-2^2", "A1:B2 B1:C3", "B2#", "Log:Plan!A1", "'[Other.xlsx]Log'!A1", "SUM(A1", "1 2", "A1:A", "{#N/A}"])(
    "%s is left to the engine",
    (formula) => expect(treeOf(formula, 0)).toBeUndefined(),
  );

  it("names cells within the sheet only", () => {
    expect(treeOf(cellAddress(1_048_575, 16_383), 0)?.kind).toBe("area");
    expect(treeOf("XFE1", 0)?.kind).toBe("name");
    expect(treeOf("A1048577", 0)?.kind).toBe("name");
  });
});
