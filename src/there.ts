/** For what earlier lines have made sure of and a type cannot say. */

/**
 * The value, which must be there. Throws an error that says what is missing: a mistake of the program, never of a user.
 * @param what the thing that must be there, with its article
 * @example there([3, 5].at(-1), "a last number") // 5
 */
export function there<T>(value: T | null | undefined, what: string): T {
  if (value === null || value === undefined) throw new Error(`There should be ${what} here, and there is none.`);
  return value;
}
