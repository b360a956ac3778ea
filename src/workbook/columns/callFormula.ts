/**
 * Formulas that are one call of one function with cells and constants, as most of a log's are: read without an engine.
 */
import { treeOf, type Node } from "../formula/tree";

type Area = Extract<Node, { kind: "area" }>;
type Constant = Extract<Node, { kind: "constant" }>;

export interface Call {
  /** In capitals: "BANK.BEND". */
  readonly name: string;
  /** A cell, its rows counted from the top of the sheet, a constant, or nothing between two commas. */
  readonly arguments: readonly (Area | Constant | undefined)[];
}

/**
 * The call that a formula is; undefined for every other formula: one with ranges, names, operators or inner calls.
 * @param formula without "="
 * @example callIn("BANK.BEND(J2)")?.name // "BANK.BEND"
 */
export function callIn(formula: string): Call | undefined {
  // Most of what is no call is told by its ends.
  if (!/^[A-Z]+\.[A-Z0-9]+\([^]*\)$/i.test(formula)) return undefined;
  const tree = treeOf(formula, 0);
  if (tree?.kind !== "call" || tree.given.length === 0 || !tree.given.every(isCellOrConstant)) return undefined;
  return { name: tree.name, arguments: tree.given };
}

function isCellOrConstant(node: Node | undefined): node is Area | Constant | undefined {
  return node === undefined || node.kind === "constant" || (node.kind === "area" && node.first === node.last);
}
