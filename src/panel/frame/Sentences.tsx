/** Sentences of an answer: findings, then what could not be said, then what to keep in mind. */
import { toText } from "../../experiment/language/said";
import { MessageBar, MessageBarBody } from "@fluentui/react-components";
import type { Sentence } from "../../experiment/question/answer";
import { CopyButton } from "./CopyButton";
import { useSectionStyles } from "./styles";

export function Sentences({ sentences, part = "sentences" }: { sentences: readonly Sentence[]; part?: string }) {
  const styles = useSectionStyles();
  const of = (kind: Sentence["kind"]) => sentences.filter((sentence) => sentence.kind === kind);
  const all = () => sentences.map(({ text }) => toText(text)).join("\n");
  return (
    <div data-part={part}>
      {sentences
        .filter(({ kind }) => kind !== "caution" && kind !== "missing")
        .map(({ text }) => (
          <p key={toText(text)} className={styles.sentence}>
            {toText(text)}
          </p>
        ))}
      {of("missing").map(({ text }) => (
        <MessageBar key={toText(text)} intent="warning" layout="multiline">
          <MessageBarBody>{toText(text)}</MessageBarBody>
        </MessageBar>
      ))}
      {of("caution").map(({ text }) => (
        <p key={toText(text)} className={`${styles.sentence} ${styles.quiet}`}>
          {toText(text)}
        </p>
      ))}
      {sentences.length > 0 && <CopyButton what="the sentences" text={all} />}
    </div>
  );
}
