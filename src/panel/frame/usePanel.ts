/**
 * The panel's state: what was chosen, kept with the workbook; the sheet; and what the question asks of it.
 */
import { useMemo } from "react";
import type { Port, SheetData, SheetSummary } from "../../workbook/port";
import { withConfidence } from "./personSettings";
import { usePreferences } from "./preferences";
import { NO_SETTINGS, type PanelSettings, type ViewName } from "./settings";
import { useKeptSettings } from "./useKeptSettings";
import { useLogSheet } from "./useLogSheet";
import { useQuestion } from "./useQuestion";
import type { PanelView } from "./view";

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

/** @param first view to show, whatever was kept */
export function usePanel(port: Port, first?: ViewName): PanelState {
  const { settings: kept, failure: notKept, change, restore } = useKeptSettings(port, first);
  const [{ confidence }] = usePreferences();
  const settings = useMemo(() => kept && withConfidence(kept, confidence), [kept, confidence]);
  const { sheets, data, failure: notRead, refresh } = useLogSheet(port, settings);
  const view = useQuestion(data, settings);
  return {
    settled: settings !== undefined,
    sheets,
    settings: settings ?? NO_SETTINGS,
    data,
    view,
    failure: notRead ?? notKept,
    change,
    refresh,
    restore,
  };
}
