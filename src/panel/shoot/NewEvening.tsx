/** Asks whether a new session begins, when the last attempt is of an earlier day. */
import { Button } from "@fluentui/react-components";
import type { Evening } from "../../experiment/shoot/evening";
import { useSectionStyles } from "../frame/styles";

interface Props {
  readonly asks: NonNullable<Evening["asks"]>;
  readonly onSession: (session: string) => void;
}

const LARGE = { minHeight: "48px" } as const;

export function NewEvening({ asks: { lastDay, before, next }, onSession }: Props) {
  const section = useSectionStyles();
  return (
    <section aria-label="A new session?" className={section.stack} data-part="evening">
      <p className={section.sentence}>
        {`The last attempt is of ${lastDay}. Attempts of one session go together: is this a new one?`}
      </p>
      <Button size="large" appearance="primary" style={LARGE} onClick={() => onSession(next)}>
        {`New session ${next}`}
      </Button>
      <Button size="large" style={LARGE} onClick={() => onSession(before)}>
        {before === "" ? "Go on without a session" : `Go on with ${before}`}
      </Button>
    </section>
  );
}
