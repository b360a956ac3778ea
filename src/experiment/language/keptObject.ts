/** Reading back what was kept with a workbook, which may be anything. */

/** An object's parts by name; none for anything that is no object. @example asRecord([1]) // {} */
export function asRecord(value: unknown): Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value) ? (value as Record<string, unknown>) : {};
}
