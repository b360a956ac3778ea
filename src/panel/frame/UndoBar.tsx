/** The button that takes back what the panel wrote last. */
import { Button } from "@fluentui/react-components";
import { useState } from "react";
import type { Undo } from "./undo";
import { messageOf } from "./messageOf";

export function UndoBar({ undo }: { undo: Undo }) {
  const [said, setSaid] = useState<string>();
  const [busy, setBusy] = useState(false);
  if (undo.next === undefined && said === undefined) return null;
  const back = async () => {
    setBusy(true);
    try {
      setSaid(`Taken back: ${await undo.back()}.`);
    } catch (problem) {
      setSaid(messageOf(problem));
    } finally {
      setBusy(false);
    }
  };
  return (
    <div style={{ display: "flex", flexWrap: "wrap", gap: "4px 12px", alignItems: "center", padding: "6px 0 0" }}>
      {undo.next !== undefined && <Button size="small" disabled={busy} onClick={back}>{`Undo ${undo.next}`}</Button>}
      <span role="status">{said}</span>
    </div>
  );
}
