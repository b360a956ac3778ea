/** What the rows cannot tell, found from the rows themselves. */
import type { Known } from "./likelihood";
import type { CensoredQuestion, Solved } from "./solve";

/** Why the likelihood has no highest place, or what else the rows cannot tell. */
export type Untold =
  | { readonly kind: "one row" }
  /** Every row says at least: nothing bounds the value from above. */
  | { readonly kind: "only at least" }
  | { readonly kind: "only less than" }
  /** Every bound that was reached is at most every bound that was not: the scatter may be anything small. */
  | { readonly kind: "clean step"; readonly from: number; readonly to: number }
  /** The drivers tell the two kinds of row apart without exception. */
  | { readonly kind: "parted" }
  /** Rows taken for misjudged, the two kinds of row are told apart without exception. */
  | { readonly kind: "clean but for misjudged" }
  /** High bounds were reached no less often than low ones. */
  | { readonly kind: "backwards" }
  /** Sessions too few to judge how they differ, or rows that do not bear them. */
  | { readonly kind: "few sessions"; readonly groups: number };

/** All of it, what stands in the way of an estimate first. */
export function untoldOf(solved: Solved, { known, bounds, sessions, misjudged = 0 }: CensoredQuestion): Untold[] {
  const groups = sessions?.levels.length;
  const few: Untold[] = groups !== undefined && groups < 3 ? [{ kind: "few sessions", groups }] : [];
  return solved.inverse ? few : [withoutSummit(solved, bounds, known, misjudged), ...few];
}

function withoutSummit(
  { top, data, scale }: Solved,
  bounds: ArrayLike<number>,
  known: readonly Known[],
  misjudged: number,
): Untold {
  const of = (kind: Known) => known.flatMap((one, i) => (one === kind ? [bounds[i]] : []));
  const [reached, missed] = [of("at least"), of("less than")];
  if (known.length === 1) return known[0] === "value" ? { kind: "parted" } : { kind: "one row" };
  if (data.exactCount > 0) return { kind: "parted" };
  if (missed.length === 0) return { kind: "only at least" };
  if (reached.length === 0) return { kind: "only less than" };
  const [from, to] = [Math.max(...reached), Math.min(...missed)];
  if (from <= to + 1e-9 * scale) return { kind: "clean step", from, to };
  if (misjudged > 0 && top.place[data.directions] > 0) return { kind: "clean but for misjudged" };
  return top.settled ? { kind: "backwards" } : { kind: "parted" };
}
