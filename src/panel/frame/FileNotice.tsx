/**
 * What became of a file that was made, and what else can be done with it. It stands at the window's lower edge, because
 * the button that made the file may be anywhere.
 */
import { Button, MessageBar, MessageBarActions, MessageBarBody } from "@fluentui/react-components";
import { useEffect, useState } from "react";
import { onGiven, type GivenFile } from "./fileDoor";
import { messageOf } from "./messageOf";

const PLACE = { position: "fixed", bottom: "8px", left: "12px", right: "12px", zIndex: 10 } as const;

export function FileNotice() {
  const [given, setGiven] = useState<GivenFile>();
  useEffect(() => onGiven(setGiven), []);
  if (!given) return null;
  const act = (work: () => Promise<string>) =>
    void work().then(
      (text) => setGiven({ ...given, text }),
      (problem: unknown) => setGiven({ ...given, text: `That was not possible: ${messageOf(problem)}` }),
    );
  return (
    <MessageBar intent="info" layout="multiline" style={PLACE} data-part="file">
      <MessageBarBody>
        <span role="status">{given.text}</span>
      </MessageBarBody>
      <MessageBarActions>
        {(given.acts ?? []).map(([label, work]) => (
          <Button key={label} onClick={() => act(work)}>
            {label}
          </Button>
        ))}
        <Button onClick={() => setGiven(undefined)}>Close</Button>
      </MessageBarActions>
    </MessageBar>
  );
}
