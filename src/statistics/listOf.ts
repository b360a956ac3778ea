/** Names in a row, as a sentence has them. May import: nothing. */

/** "a", "a and b", "a, b and c". @example listOf(["a", "b", "c"]) === "a, b and c" */
export function listOf(words: readonly string[]): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}`;
}
