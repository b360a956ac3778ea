/** Formulas as trees, for whoever computes them without an engine. */
import { treeOf, type Node } from "../formula/tree";

/** The formula is beyond what is computed here. */
export class NeedsEngine extends Error {}

/**
 * The tree of a formula; references that are not fixed are kept as rows from the formula's own.
 * @param row of the cell in which the formula stands
 * @throws NeedsEngine where it holds anything that is not plain
 */
export function parse(formula: string, row: number): Node {
  const tree = treeOf(formula, row);
  if (!tree) throw new NeedsEngine();
  return tree;
}
