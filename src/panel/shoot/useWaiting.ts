/**
 * Presses on their way into the log, one after the other. What could not be written waits, kept with the workbook, and
 * nothing is dropped; presses that a page left behind are written only when somebody has looked at the rows.
 */
import { useCallback, useEffect, useRef, useState, type MutableRefObject } from "react";
import { LATEST, type WaitingPress } from "../../experiment/shoot/shootForm";
import type { Press } from "../../experiment/shoot/shootRow";
import { messageOf } from "../frame/messageOf";
import { write, type PressPlace } from "./writePress";

/** A press that is not in the log yet, or that the log as shown does not have yet. */
export interface ShownPress extends WaitingPress {
  /** Sheet row, once it is written. */
  readonly row?: number;
}

type Show = (change: (before: readonly ShownPress[]) => readonly ShownPress[]) => void;

const leftBehind = (sheet: string) =>
  `pressed just before the page closed. Look at the last rows of ${sheet}: if what waits is missing there, try again; if it is there, let it go.`;

/** @param rowsShown sheet rows of the attempts in the log as shown */
export function useWaiting(latest: { readonly current: PressPlace }, rowsShown: readonly number[]) {
  const { form, sheet } = latest.current;
  const [left] = useState(() => form.waiting.filter((one) => one.sheet === sheet));
  const queue = useRef<WaitingPress[]>([...left]);
  const held = useRef(left.length > 0);
  const running = useRef<Promise<void>>();
  const [waiting, show] = useState<readonly ShownPress[]>(left);
  const [stopped, setStopped] = useState(left.length > 0 ? leftBehind(sheet) : undefined);
  useShown(rowsShown, show);
  const keep = useCallback(() => {
    const { current } = queue;
    latest.current.onForm((before) => ({
      waiting: [...before.waiting.filter((one) => one.sheet !== latest.current.sheet), ...current],
    }));
  }, [latest]);
  const again = useCallback(() => {
    held.current = false;
    setStopped(undefined);
    running.current ??= writeAll(latest, queue, show)
      .catch((problem: unknown) => setStopped(messageOf(problem)))
      .finally(() => (running.current = undefined));
  }, [latest]);
  const add = useCallback(
    (press: Press) => {
      const one = {
        ...press,
        sheet: latest.current.sheet,
        id: Math.max(Date.now(), (queue.current.at(-1)?.id ?? 0) + 1),
      };
      queue.current = [...queue.current, one];
      keep();
      show((before) => [...before, one]);
      if (!held.current) again();
    },
    [latest, keep, again],
  );
  /** Lets the latest so many go. @returns how many there were */
  const drop = useCallback(
    (count: number) => {
      const gone = new Set(queue.current.slice(-count).map(({ id }) => id));
      queue.current = queue.current.filter(({ id }) => !gone.has(id));
      if (gone.size > 0) keep();
      show((before) => before.filter(({ id, row }) => row !== undefined || !gone.has(id)));
      if (queue.current.length > 0) return gone.size;
      held.current = false;
      setStopped(undefined);
      return gone.size;
    },
    [keep],
  );
  /** Shows a row no more as one that is on its way. */
  const forget = useCallback((gone: number) => show((before) => before.filter(({ row }) => row !== gone)), []);
  return { waiting, stopped, running, add, again, drop, forget };
}

/** What the log shows by now waits no more. */
function useShown(rowsShown: readonly number[], show: Show): void {
  useEffect(() => {
    const shown = new Set(rowsShown);
    const isThere = ({ row }: ShownPress) => row !== undefined && shown.has(row);
    show((before) => (before.some(isThere) ? before.filter((one) => !isThere(one)) : before));
  }, [rowsShown, show]);
}

/** Writes what waits, in order. @throws Error saying why one cannot be written; it waits on */
async function writeAll(
  asked: { readonly current: PressPlace },
  queue: MutableRefObject<WaitingPress[]>,
  show: Show,
): Promise<void> {
  for (let next = queue.current[0]; next; next = queue.current[0]) {
    const { id, changed: meant } = next;
    const written = await write(asked.current, next);
    queue.current = queue.current.filter((one) => one.id !== id);
    show((before) => before.map((one) => (one.id === id ? { ...one, row: written.row } : one)));
    // What was changed for it stands in its row now; what was typed since is for the next.
    asked.current.onForm(({ pressed, changed, waiting }) => ({
      pressed: [...pressed, written].slice(-LATEST),
      changed: Object.fromEntries(Object.entries(changed).filter(([name, text]) => meant[name] !== text)),
      waiting: waiting.filter((one) => one.id !== id),
    }));
  }
}
