/** Names in a row, as a sentence has them. */

/** "a", "a and b", "a, b and c". @param joined "and" or "or" @example listOf(["a", "b", "c"]) === "a, b and c" */
export function listOf(words: readonly string[], joined: "and" | "or" = "and"): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} ${joined} ${words[words.length - 1]}`;
}
