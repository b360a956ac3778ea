/** What the sessions mean for the plain fit, and the switch back to it. */
import { toText } from "../../experiment/language/said";
import { Switch } from "@fluentui/react-components";
import type { SessionAware } from "../../experiment/question/sessionAware";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly aware: Pick<SessionAware, "sentences" | "untold">;
  readonly plainFirst: boolean;
  readonly onPlainFirst: (plain: boolean) => void;
}

export function SessionsNote({ aware, plainFirst, onPlainFirst }: Props) {
  const styles = useSectionStyles();
  return (
    <div data-part="sessions">
      {aware.sentences.map(({ text }) => (
        <p key={toText(text)} className={styles.sentence}>
          {toText(text)}
        </p>
      ))}
      {aware.untold.length === 0 && (
        <Switch
          label="Read the plain fit, which counts every shot on its own"
          checked={plainFirst}
          onChange={(_, { checked }) => onPlainFirst(checked)}
        />
      )}
    </div>
  );
}
