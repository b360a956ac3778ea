/** Something that has to be mended, or that the reader must know. */
import { MessageBar, MessageBarBody } from "@fluentui/react-components";

export function Warning({ text }: { readonly text: string }) {
  return (
    <MessageBar intent="warning" layout="multiline">
      <MessageBarBody>{text}</MessageBarBody>
    </MessageBar>
  );
}
