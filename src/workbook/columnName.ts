/** Columns of tables as formulas name them. */

/**
 * The bracket of a structured reference after a column got another header.
 * @example renameColumn("[@Gap]", "Gap", "Gap (in)") // "[@[Gap (in)]]"
 */
export function renameColumn(bracket: string, from: string, to: string): string {
  const escaped = (header: string) => header.replace(/['[\]#@]/g, "'$&");
  const literal = escaped(from).replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  return bracket.replace(new RegExp(`\\[(@?)${literal}(?=\\])`, "gi"), (_, at: string) =>
    at && !/^\w+$/.test(to) ? `[@[${escaped(to)}]` : `[${at}${escaped(to)}`,
  );
}
