/** The sheet that the analysis reads: the one chosen, else the first with trials; read again as its cells change. */
import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import { readSetup } from "../../experiment/setup/setupSheet";
import type { Port, SheetData, SheetSummary } from "../../workbook/port";
import { SheetReader } from "../../workbook/sheetReader";
import { inTurns } from "../../workbook/turns";
import { messageOf } from "./messageOf";
import { NO_SETTINGS, type PanelSettings } from "./settings";
import { READ_AFTER } from "./useSheet";
import { panelView, viewInSteps } from "./view";

interface LogSheet {
  readonly sheets: readonly SheetSummary[];
  readonly data: SheetData | undefined;
  /** A failure of the workbook itself, such as a sheet that was deleted. */
  readonly failure: string | undefined;
  /** Reads everything anew. */
  refresh(): void;
}

/** @param settings what was chosen, the sheet's name among it; nothing is read before they are known */
export function useLogSheet(port: Port, settings: PanelSettings | undefined): LogSheet {
  const wanted = settings?.sheet;
  const settled = settings !== undefined;
  const [sheets, setSheets] = useState<readonly SheetSummary[]>([]);
  const [turn, setTurn] = useState(0);
  const refresh = useCallback(() => setTurn((before) => before + 1), []);
  const reader = useMemo(() => new SheetReader(port), [port]);
  const { data, failure, shown, show } = useReadings(settings);

  useEffect(() => {
    if (!settled) return;
    let here = true;
    const read = async () => {
      const all = await port.sheets();
      const front = await port.activeSheet();
      if (!here) return undefined;
      setSheets(all);
      return readChosen(reader, all, wanted, front, () => here);
    };
    show(read(), () => here);
    return () => {
      here = false;
    };
  }, [port, reader, wanted, settled, turn, show]);

  useEffect(() => {
    let here = true;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const readAgain = async (sheet: string) => {
      const all = await port.sheets();
      if (here) setSheets(all);
      return here ? reader.readChanges(sheet) : undefined;
    };
    const rested = async () => {
      const now = shown.current;
      if (!now || (wanted === undefined && !(await hasTrials(now)))) refresh();
      else show(readAgain(now.sheet), () => here);
    };
    const stop = port.onChange((change) => {
      if (shown.current && change.sheet !== shown.current.sheet) return;
      reader.note(change);
      clearTimeout(timer);
      timer = setTimeout(() => void rested(), READ_AFTER);
    });
    return () => {
      here = false;
      clearTimeout(timer);
      stop();
    };
  }, [port, reader, wanted, refresh, shown, show]);

  return { sheets, data, failure, refresh };
}

/** What readings of the sheet gave, the latest that was asked for. */
function useReadings(settings: PanelSettings | undefined) {
  const asked = useRef(NO_SETTINGS);
  asked.current = settings ?? NO_SETTINGS;
  const [data, setData] = useState<SheetData>();
  const [failure, setFailure] = useState<string>();
  const shown = useRef<SheetData>();
  /** Readings so far, and the last that was shown: an earlier one that comes later is old. */
  const readings = useRef({ asked: 0, shown: 0 });
  /** Shows what a reading gave, unless the panel has gone on meanwhile. */
  const show = useCallback((reading: Promise<SheetData | undefined>, here: () => boolean) => {
    const turn = ++readings.current.asked;
    const take = async (next: SheetData | undefined) => {
      if (next && here()) await inTurns(viewInSteps(next, asked.current));
      if (!here() || !next || turn < readings.current.shown) return;
      readings.current.shown = turn;
      shown.current = next;
      setData(next);
      setFailure(undefined);
    };
    reading.then(take).catch((problem: unknown) => here() && setFailure(messageOf(problem)));
  }, []);
  return { data, failure, shown, show };
}

/** The sheet of the set-up is a table of numbers, too, and never a log. */
async function hasTrials(data: SheetData): Promise<boolean> {
  if (readSetup(data)) return false;
  await inTurns(viewInSteps(data, NO_SETTINGS));
  const { analysis, reachAsked } = panelView(data, NO_SETTINGS);
  return analysis !== undefined || reachAsked !== undefined;
}

/**
 * Reads the sheet that was chosen. Where none was, the one in front, or another that shows when only that has trials.
 */
async function readChosen(
  reader: SheetReader,
  all: readonly SheetSummary[],
  wanted: string | undefined,
  front: string,
  here: () => boolean,
): Promise<SheetData | undefined> {
  const sheet = wanted !== undefined && all.some(({ name }) => name === wanted) ? wanted : front;
  const first = await reader.read(sheet);
  if (!first || wanted !== undefined || (await hasTrials(first))) return first;
  for (const { name, hidden } of all) {
    if (hidden || name === sheet) continue;
    if (!here()) return undefined;
    const other = await reader.read(name);
    if (!other || (await hasTrials(other))) return other;
  }
  return first;
}
