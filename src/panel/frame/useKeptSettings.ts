/** The settings: read from the workbook once, changed by what is chosen, kept in the workbook once they have rested. */
import { useCallback, useEffect, useRef, useState } from "react";
import type { Port } from "../../workbook/port";
import { messageOf } from "./messageOf";
import { NO_SETTINGS, parseSettings, settingsText, type PanelSettings, type ViewName } from "./settings";

interface KeptSettings {
  /** Undefined until they have been read. */
  readonly settings: PanelSettings | undefined;
  /** Why they could not be kept. */
  readonly failure: string | undefined;
  change(change: Partial<PanelSettings>): void;
  /** Goes back to settings as they were kept, the view in front aside; they are not kept anew. */
  restore(text: string): void;
}

/** Settings are written once they have rested this long, in ms. */
const SAVE_REST = { excel: 500, embedded: 100, file: 100 } as const;

/** @param first view to show, whatever was kept */
export function useKeptSettings(port: Port, first?: ViewName): KeptSettings {
  const [settings, setSettings] = useState<PanelSettings>();
  /** Whether they were changed here, so that they have to be kept. */
  const own = useRef(false);

  useEffect(() => {
    let here = true;
    const begin = (kept: PanelSettings) => here && setSettings({ ...kept, ...(first && { view: first }) });
    port.loadSettings().then(
      (text) => begin(parseSettings(text)),
      () => begin(NO_SETTINGS),
    );
    return () => {
      here = false;
    };
  }, [port, first]);

  const change = useCallback((part: Partial<PanelSettings>) => {
    own.current = true;
    setSettings((before) => ({ ...(before ?? NO_SETTINGS), ...part }));
  }, []);

  const restore = useCallback((text: string) => {
    own.current = false;
    setSettings((before) => ({ ...parseSettings(text), ...(before?.view && { view: before.view }) }));
  }, []);

  const failure = useSaving(port, own.current ? settings : undefined);
  return { settings, failure, change, restore };
}

/** Keeps the settings with the workbook. @returns why they could not be kept */
function useSaving(port: Port, settings: PanelSettings | undefined): string | undefined {
  const [failure, setFailure] = useState<string>();
  useEffect(() => {
    if (!settings) return;
    let due = true;
    const save = () => {
      if (due)
        port.saveSettings(settingsText(settings)).then(
          () => setFailure(undefined),
          (problem: unknown) => setFailure(messageOf(problem)),
        );
      due = false;
    };
    const timer = setTimeout(save, SAVE_REST[port.host]);
    // What a click saves, or what closes or replaces the workbook, must have what was typed before. Not sooner: between
    // a press and its click nothing may move.
    const leaving = ["click", "drop", "beforeunload", "pagehide"] as const;
    for (const name of leaving) addEventListener(name, save, true);
    return () => {
      clearTimeout(timer);
      for (const name of leaving) removeEventListener(name, save, true);
    };
  }, [port, settings]);
  return failure;
}
