/** Copies words, and says that it did. */
import { Button, tokens } from "@fluentui/react-components";
import { useState } from "react";
import { copyText } from "./copyText";
import { messageOf } from "./messageOf";

interface Props {
  /** What is copied, for those who hear the button: "the sentences". */
  readonly what: string;
  /** Made when it is asked for. */
  readonly text: () => string;
}

export function CopyButton({ what, text }: Props) {
  const [said, setSaid] = useState("");
  const copy = () =>
    copyText(text()).then(
      () => setSaid("Copied."),
      (problem: unknown) => setSaid(messageOf(problem)),
    );
  return (
    <div style={{ display: "flex", flexWrap: "wrap", alignItems: "center", columnGap: "4px" }}>
      <Button
        size="small"
        appearance="subtle"
        style={{ minWidth: 0, padding: "0 8px" }}
        aria-label={`Copy ${what}`}
        onClick={() => void copy()}
      >
        Copy
      </Button>
      <span role="status" style={{ fontSize: tokens.fontSizeBase200 }}>
        {said}
      </span>
    </div>
  );
}
