/**
 * The button that takes back what the panel wrote last. It lies at the panel's lower edge, in a place that is kept for
 * it at the end of the page: it comes a moment after a press, when the next may be on its way, and so moves nothing.
 */
import { Button, makeStyles, mergeClasses, tokens } from "@fluentui/react-components";
import { useState } from "react";
import type { Undo } from "./undo";
import { messageOf } from "./messageOf";

const useStyles = makeStyles({
  place: {
    position: "sticky",
    bottom: 0,
    zIndex: 2,
    boxSizing: "border-box",
    minHeight: "36px",
    margin: "0 -12px",
    padding: "5px 12px",
    pointerEvents: "none",
    "@media (pointer: coarse)": { minHeight: "58px" },
  },
  bar: {
    display: "flex",
    flexWrap: "wrap",
    alignItems: "center",
    gap: "4px 12px",
    pointerEvents: "auto",
    backgroundColor: tokens.colorNeutralBackground1,
    borderTop: `1px solid ${tokens.colorNeutralStroke2}`,
  },
  said: { flex: "1 1 140px", minWidth: 0 },
});

export function UndoBar({ undo }: { undo: Undo }) {
  const styles = useStyles();
  const [said, setSaid] = useState<string>();
  const [busy, setBusy] = useState(false);
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
  const empty = undo.next === undefined && said === undefined;
  return (
    <div className={empty ? styles.place : mergeClasses(styles.place, styles.bar)} data-part="undo">
      {undo.next !== undefined && <Button size="small" disabled={busy} onClick={back}>{`Undo ${undo.next}`}</Button>}
      {!empty && (
        <span role="status" className={styles.said}>
          {said}
        </span>
      )}
      {said !== undefined && undo.next === undefined && (
        <Button size="small" appearance="transparent" onClick={() => setSaid(undefined)}>
          Close
        </Button>
      )}
    </div>
  );
}
