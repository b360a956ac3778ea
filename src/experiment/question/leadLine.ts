/** The sentence that an answer begins with. */
import { say, saysSame, type Said } from "../language/said";
import type { Sentence } from "./answer";

const ORDER: readonly Sentence["kind"][] = ["finding", "missing", "open", "summary"];

/** What was found, or else what is missing or open; "" without sentences. */
export function leadLine(sentences: readonly Sentence[]): Said {
  const kind = ORDER.find((one) => sentences.some((sentence) => sentence.kind === one));
  return sentences.find((sentence) => sentence.kind === kind)?.text ?? "";
}

/** What it rests on: the first sentence that sums up, after cautions that must not be missed. */
export function restsOn(sentences: readonly Sentence[], line: Said): Said {
  const first = sentences.find(({ kind, text }) => kind === "summary" && !saysSame(text, line))?.text ?? "";
  const before = sentences[0]?.kind === "caution" ? say`${sentences[0].text} ` : "";
  return say`${before}${first}`;
}
