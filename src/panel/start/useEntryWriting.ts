/** A typed shot on its way into its row: who types faster than the row is written waits for it, and loses nothing. */
import { useEffect, useRef, useState } from "react";
import { say, toText } from "../../experiment/language/said";
import type { Outcome } from "../../experiment/log/outcome";
import type { ShootLog } from "../../experiment/shoot/shootLog";
import { pressCells, type ShotCells } from "../../experiment/shoot/shootRow";
import { gapText } from "../../experiment/shoot/shootWords";
import { cellAddress } from "../../workbook/address";
import type { Port } from "../../workbook/port";
import { useWriting } from "../frame/useWriting";
import type { TypedEntry } from "./useEntry";

/** @returns `ask` to have what is typed written as soon as its row is known */
export function useEntryWriting(
  port: Port,
  entry: ShootLog,
  typed: TypedEntry,
  onFailure: (text: string | undefined) => void,
) {
  const { busy, done, write } = useWriting(onFailure);
  /** The log as it was for the last row: until it is read anew, the next row is not known. */
  const used = useRef<ShootLog>();
  const [asked, setAsked] = useState(false);
  const submit = () =>
    write("The shot was not written", async () => {
      const { field, gap, outcome, changed, wrong, today, session, begin } = typed;
      // Empty, or wrong and said so: the field is where it is mended.
      field.current?.focus();
      if (!gap || "problem" in gap || wrong) return "";
      await fillOpenRow(port, entry, { gap: gap.gap, ...(outcome && { outcome }), session, today, changed });
      used.current = entry;
      begin();
      await showNextRow(port, entry);
      field.current?.focus();
      return writtenWords(entry, gap.gap, outcome);
    });
  const ready = !busy && entry !== used.current;
  useEffect(() => {
    if (!asked || !ready) return;
    setAsked(false);
    void submit();
  });
  return { busy, done, ask: () => setAsked(true) };
}

/** @throws Error saying what has to be mended first */
async function fillOpenRow(port: Port, entry: ShootLog, shot: ShotCells): Promise<void> {
  const cells = pressCells(entry, shot);
  if ("problem" in cells) throw new Error(cells.problem);
  const { row } = entry.open;
  const filled = await port.fillRow({ sheet: entry.log.sheet, row, cells });
  if ("filled" in filled)
    throw new Error(`${cellAddress(row, filled.filled)} holds something already, and nothing is written over it.`);
}

/** The next row comes into sight; the keyboard stays where the next gap is typed. */
async function showNextRow(port: Port, { log, open, places }: ShootLog): Promise<void> {
  const { column } = places.position.column;
  await port.select(log.sheet, { row: open.row + 1, column, rows: 1, columns: 1 });
}

/** "Row 2: gap 1/4 in, bend 7/8 in.": by the ball's radius less the gap, as far as the outcome lets it be said. */
function writtenWords({ unit, ballDiameter, open }: ShootLog, gap: number, outcome: Outcome | undefined): string {
  const bend = gapText(ballDiameter / 2 - gap, unit);
  const told = outcome === undefined ? say`bend ${bend}` : SAID[outcome](toText(bend));
  return toText(say`Row ${open.row + 1}: gap ${gapText(gap, unit)}, ${told}.`);
}

const SAID: Readonly<Record<Outcome, (bend: string) => string>> = {
  made: (bend) => `pocketed: a bend of ${bend} or more`,
  cleared: (bend) => `got by: a bend of ${bend} or more`,
  "hit obstacle": (bend) => `hit: a bend of less than ${bend}`,
  missed: () => "missed: nothing told of the bend",
};
