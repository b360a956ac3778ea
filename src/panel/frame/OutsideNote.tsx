/** Says what stands around the log's table without being part of it, and takes it in. */
import { Button, MessageBar, MessageBarActions, MessageBarBody } from "@fluentui/react-components";
import { outsideText } from "../../experiment/log/outsideTable";
import type { TrialLog } from "../../experiment/log/trialLog";
import type { PanelSettings } from "./settings";

interface OutsideNoteProps {
  readonly log: TrialLog | undefined;
  readonly takeIn: readonly string[] | undefined;
  onChange(change: Pick<PanelSettings, "takeIn">): void;
}

export function OutsideNote({ log, takeIn = [], onChange }: OutsideNoteProps) {
  if (!log?.outside) return null;
  const { takenIn } = log.outside;
  const others = takeIn.filter((name) => name !== log.title);
  return (
    <MessageBar
      intent={takenIn ? "info" : "warning"}
      layout="multiline"
      style={{ margin: "8px 0" }}
      data-part="outside"
    >
      <MessageBarBody>
        {`${outsideText(log.title, log.outside)}${takenIn ? "; they are taken in here, as if they were." : ", so nothing here counts them."}`}
      </MessageBarBody>
      <MessageBarActions>
        <Button onClick={() => onChange({ takeIn: takenIn ? others : [...others, log.title] })}>
          {takenIn ? "Leave them out" : "Take them in"}
        </Button>
      </MessageBarActions>
    </MessageBar>
  );
}
