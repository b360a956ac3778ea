/**
 * The error a worksheet function ends in. Hosts turn it into their own; only these two codes carry a message in Excel.
 */
export class SheetError extends Error {
  /** @param code "#VALUE!" for a wrong value, "#N/A" for a missing one. */
  constructor(
    readonly code: "#VALUE!" | "#N/A",
    message: string,
  ) {
    super(message);
    this.name = "SheetError";
  }
}
