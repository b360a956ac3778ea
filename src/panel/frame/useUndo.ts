/** What can be taken back, as the panel shows it. */
import { useMemo, useRef, useState } from "react";
import type { Port } from "../../workbook/port";
import { undoOver, type Undo } from "./undo";

/** @param onSettings called with settings that were taken back to */
export function useUndo(
  port: Port,
  isChoice: (before: string | null, after: string) => boolean,
  onSettings: (text: string) => void,
): Undo {
  const [, setTurn] = useState(0);
  const latest = useRef(onSettings);
  latest.current = onSettings;
  return useMemo(
    () =>
      undoOver(
        port,
        isChoice,
        () => setTurn((before) => before + 1),
        (text) => latest.current(text),
      ),
    [port, isChoice],
  );
}
