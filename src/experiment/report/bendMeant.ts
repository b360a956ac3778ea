/** Which bend a log's bends are: what the obstacle was set to, or the path's own. */
import { correctionColumn } from "../log/gateCorrection";
import type { TrialLog } from "../log/trialLog";

/** A sentence for the method; undefined of a log without gaps. */
export function bendMeant(log: TrialLog): string | undefined {
  if (!log.columns.some(({ meaning }) => meaning === "gap")) return undefined;
  const column = correctionColumn(log);
  return column
    ? `Set bend is ball radius less gap; the bend of the path is that less what the departure gate takes off, which stands row by row under ${column.heading.text}. A row without one is taken at its set bend.`
    : "Set bend is ball radius less gap. No column of this log says what the departure gate takes off (Gate correction), so its bends are set bends: a ball that passes that gate beyond grazing has bent less on its own path, and one that starts inside the channel more.";
}
