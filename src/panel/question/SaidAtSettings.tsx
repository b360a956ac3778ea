/** What is to be expected at settings that the reader types, in a sentence, and the fields for them. */
import { toText, type Said } from "../../experiment/language/said";
import type { ComponentProps } from "react";
import { useSectionStyles } from "../frame/styles";
import { SettingsFields } from "./SettingsFields";

interface Props extends Omit<ComponentProps<typeof SettingsFields>, "usual"> {
  /** Name of the sentence in the page. */
  readonly part: string;
  readonly sentence: Said | undefined;
}

export function SaidAtSettings({ part, sentence, ...fields }: Props) {
  const styles = useSectionStyles();
  return (
    <div className={styles.stack}>
      {sentence && (
        <p className={styles.sentence} role="status" data-part={part}>
          {toText(sentence)}
        </p>
      )}
      <SettingsFields {...fields} />
    </div>
  );
}
