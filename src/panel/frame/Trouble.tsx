/** Something that went wrong, said above what is shown. */
import { MessageBar, MessageBarBody } from "@fluentui/react-components";

export function Trouble({ text }: { text: string }) {
  return (
    <MessageBar intent="warning" layout="multiline" style={{ margin: "8px 0" }}>
      <MessageBarBody>{text}</MessageBarBody>
    </MessageBar>
  );
}
