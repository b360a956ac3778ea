/**
 * The set-up: read from the sheet of conditions and again as its cells change, written to it once typing rests. While
 * there is no such sheet, what earlier versions kept holds, and the first change makes one.
 */
import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { Setup } from "../../experiment/setup/setup";
import { changedRows, isSetupName, readSetup, setupSheet, type ReadSetup } from "../../experiment/setup/setupSheet";
import type { Port } from "../../workbook/port";
import { messageOf } from "./messageOf";
import type { PanelSettings } from "./settings";
import { setupOfKept } from "./setupSettings";
import { READ_AFTER, useSheet } from "./useSheet";

export interface SetupState {
  readonly setup: Setup;
  /** The sheet that it stands on; undefined while there is none. */
  readonly sheet: string | undefined;
  /** What on that sheet could not be taken. */
  readonly problems: readonly string[];
  /** Takes over at once, and writes to the sheet once changes rest. */
  change(next: Setup): void;
  /** Why the last change could not be written. */
  readonly failure: string | undefined;
}

const hasRanges = ({ place: { columns } }: ReadSetup) => columns.low !== undefined && columns.high !== undefined;

/** A change is written once it has rested this long, in ms. */
const WRITE_REST = 400;

export function useSetup(port: Port, settings: PanelSettings): SetupState {
  const [name, setName] = useSetupSheet(port);
  const data = useSheet(port, name);
  const read = useMemo(() => (data ? readSetup(data) : undefined), [data]);
  const kept = useMemo(() => setupOfKept(settings), [settings]);
  const { own, failure, change } = useOwnSetup(port, read, kept, setName);
  return {
    setup: own ?? read?.setup ?? kept,
    sheet: read ? name : undefined,
    problems: read?.problems ?? [],
    change,
    failure,
  };
}

/**
 * The sheet that is named so and holds a set-up, one with ranges before one without; looked for again when such a sheet
 * changes.
 */
function useSetupSheet(port: Port) {
  const [name, setName] = useState<string>();
  useEffect(() => {
    let here = true;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const look = async () => {
      let short: string | undefined;
      for (const { name: sheet, hidden } of await port.sheets()) {
        if (hidden || !isSetupName(sheet)) continue;
        const found = readSetup(await port.read(sheet));
        if (found && hasRanges(found)) return sheet;
        if (found) short ??= sheet;
      }
      return short;
    };
    const find = () =>
      void look().then(
        (found) => here && setName((before) => found ?? before),
        () => undefined,
      );
    find();
    const stop = port.onChange(({ sheet }) => {
      if (!isSetupName(sheet)) return;
      clearTimeout(timer);
      timer = setTimeout(find, READ_AFTER);
    });
    return () => {
      here = false;
      clearTimeout(timer);
      stop();
    };
  }, [port]);
  return [name, setName] as const;
}

/** What was changed here and may not yet stand on the sheet. */
function useOwnSetup(port: Port, read: ReadSetup | undefined, kept: Setup, onSheet: (name: string) => void) {
  const [own, setOwn] = useState<Setup>();
  const [failure, setFailure] = useState<string>();
  const latest = useRef({ read, kept });
  latest.current = { read, kept };
  const due = useRef<Setup>();
  const rest = useRef<ReturnType<typeof setTimeout>>();
  const settle = useRef<ReturnType<typeof setTimeout>>();
  const write = useCallback(async () => {
    clearTimeout(rest.current);
    const next = due.current;
    due.current = undefined;
    if (!next) return;
    try {
      const { read: there } = latest.current;
      // A list without columns for ranges is left as it is; a sheet that can hold all of them takes its place.
      if (there && hasRanges(there)) {
        const rows = changedRows(there.place, there.setup, next);
        if (rows.length > 0) await port.changeRows(there.place.sheet, rows);
      } else onSheet(await port.addSheet(setupSheet(next)));
      setFailure(undefined);
    } catch (problem) {
      setFailure(messageOf(problem));
    }
    // By then the sheet has been read again and says the same, or what it can hold of it.
    settle.current = setTimeout(() => due.current === undefined && setOwn(undefined), 4 * READ_AFTER);
  }, [port, onSheet]);
  const change = useCallback(
    (next: Setup) => {
      due.current = next;
      setOwn(next);
      clearTimeout(rest.current);
      clearTimeout(settle.current);
      rest.current = setTimeout(() => void write(), WRITE_REST);
    },
    [write],
  );
  useEffect(() => {
    const now = () => void write();
    const leaving = ["click", "drop", "beforeunload"] as const;
    for (const one of leaving) addEventListener(one, now, true);
    return () => {
      for (const one of leaving) removeEventListener(one, now, true);
      void write();
    };
  }, [write]);
  return { own, failure, change };
}
