/**
 * The panel's state: reads the sheet once per change of its cells, keeps what was chosen, saves it with the workbook.
 */
import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { Port, SheetData, SheetSummary } from "../../workbook/port";
import { NO_SETTINGS, parseSettings, settingsText, type PanelSettings, type ViewName } from "./settings";
import { panelView, type PanelView } from "./view";
import { messageOf } from "./messageOf";

export interface PanelState {
  /** Whether the settings kept with the workbook have been read. */
  readonly settled: boolean;
  readonly sheets: readonly SheetSummary[];
  readonly settings: PanelSettings;
  readonly data: SheetData | undefined;
  readonly view: PanelView | undefined;
  /** A failure of the workbook itself, such as a sheet that was deleted. */
  readonly failure: string | undefined;
  change(change: Partial<PanelSettings>): void;
  refresh(): void;
  /** Goes back to settings as they were kept, the view in front aside; they are not kept anew. */
  restore(text: string): void;
}

/** How long typing must rest before the sheet is read again, in ms. */
const REST = 200;
/** Settings are written once they have rested this long, in ms. */
const SAVE_REST = { excel: 500, embedded: 100, file: 100 } as const;

/** @param first view to show, whatever was kept */
export function usePanel(port: Port, first?: ViewName): PanelState {
  const [settings, setSettings] = useState<PanelSettings>();
  const [sheets, setSheets] = useState<readonly SheetSummary[]>([]);
  const [data, setData] = useState<SheetData>();
  const [readFailure, setReadFailure] = useState<string>();
  const [saveFailure, setSaveFailure] = useState<string>();
  const [turn, setTurn] = useState(0);
  const refresh = useCallback(() => setTurn((before) => before + 1), []);
  const wanted = settings?.sheet;
  const settled = settings !== undefined;
  const watched = useRef<string>();
  const own = useRef(false);

  useEffect(() => {
    let here = true;
    port.loadSettings().then(
      (text) => here && setSettings({ ...parseSettings(text), ...(first && { view: first }) }),
      () => here && setSettings({ ...NO_SETTINGS, ...(first && { view: first }) }),
    );
    return () => {
      here = false;
    };
  }, [port, first]);

  useEffect(() => {
    if (!settled) return;
    let here = true;
    const read = async () => {
      const all = await port.sheets();
      const visible = all.filter(({ hidden }) => !hidden).map(({ name }) => name);
      const front = await port.activeSheet();
      const sheet = wanted !== undefined && all.some(({ name }) => name === wanted) ? wanted : front;
      let next = await port.read(sheet);
      // Nothing chosen yet and no trials on the sheet in front: look on the others.
      if (wanted === undefined && panelView(next, NO_SETTINGS).analysis === undefined) {
        for (const name of visible) {
          if (name === sheet) continue;
          const other = await port.read(name);
          if (panelView(other, NO_SETTINGS).analysis !== undefined) {
            next = other;
            break;
          }
        }
      }
      if (!here) return;
      watched.current = next.sheet;
      setSheets(all);
      setData(next);
      setReadFailure(undefined);
    };
    read().catch((problem: unknown) => here && setReadFailure(messageOf(problem)));
    return () => {
      here = false;
    };
  }, [port, wanted, settled, turn]);

  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const stop = port.onChange((sheet) => {
      if (watched.current !== undefined && sheet !== watched.current) return;
      clearTimeout(timer);
      timer = setTimeout(refresh, REST);
    });
    return () => {
      clearTimeout(timer);
      stop();
    };
  }, [port, refresh]);

  useEffect(() => {
    if (!settings || !own.current) return;
    let due = true;
    const save = () => {
      if (due)
        port.saveSettings(settingsText(settings)).then(
          () => setSaveFailure(undefined),
          (problem: unknown) => setSaveFailure(messageOf(problem)),
        );
      due = false;
    };
    const timer = setTimeout(save, SAVE_REST[port.host]);
    // What a click saves, or what closes or replaces the workbook, must have what was typed before. Not sooner: between a
    // press and its click nothing may move.
    const leaving = ["click", "drop", "beforeunload"] as const;
    for (const name of leaving) addEventListener(name, save, true);
    return () => {
      clearTimeout(timer);
      for (const name of leaving) removeEventListener(name, save, true);
    };
  }, [port, settings]);

  const change = useCallback((part: Partial<PanelSettings>) => {
    own.current = true;
    setSettings((before) => ({ ...(before ?? NO_SETTINGS), ...part }));
  }, []);

  const restore = useCallback((text: string) => {
    own.current = false;
    setSettings((before) => ({ ...parseSettings(text), ...(before?.view && { view: before.view }) }));
  }, []);

  // The analysis does not depend on the other views, which change with every touch of a slider.
  const asked = useRef<PanelSettings>();
  if (settings && !(asked.current && sameQuestion(asked.current, settings))) asked.current = settings;
  const question = asked.current;
  const view = useMemo(() => (data && question ? panelView(data, question) : undefined), [data, question]);
  return {
    settled,
    sheets,
    settings: settings ?? NO_SETTINGS,
    data,
    view,
    failure: readFailure ?? saveFailure,
    change,
    refresh,
    restore,
  };
}

/** Settings that the analysis depends on. */
const ASKED: readonly (keyof PanelSettings)[] = [
  "sheet",
  "table",
  "headingRow",
  "units",
  "takeIn",
  "plainFirst",
  "ask",
  "choice",
  "made",
  "comparison",
  "reach",
];

/** Whether two settings ask the same of the same rows. */
function sameQuestion(before: PanelSettings, after: PanelSettings): boolean {
  return ASKED.every((name) => before[name] === after[name]);
}
