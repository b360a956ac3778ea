/** Names in a row, as a sentence has them. */

/** The parts with what stands between them, whatever they are made of. @example listed(["a", "b"]).join("") === "a and b" */
export function listed<T>(parts: readonly T[], last: "and" | "or" = "and"): (T | string)[] {
  return parts.flatMap((part, i) => (i === 0 ? [part] : [i < parts.length - 1 ? ", " : ` ${last} `, part]));
}

/** "a", "a and b", "a, b and c". @param last "and" or "or" @example listOfWords(["a", "b", "c"]) === "a, b and c" */
export function listOfWords(words: readonly string[], last: "and" | "or" = "and"): string {
  return listed(words, last).join("");
}
