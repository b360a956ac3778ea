/** What the panel says of the rows, made anew when the rows or the question change. */
import { useMemo, useRef } from "react";
import type { SheetData } from "../../workbook/port";
import type { PanelSettings } from "./settings";
import { panelView, type PanelView } from "./view";

export function useQuestion(data: SheetData | undefined, settings: PanelSettings | undefined): PanelView | undefined {
  // The analysis does not depend on the other views, which change with every touch of a slider.
  const asked = useRef<PanelSettings>();
  if (settings && !(asked.current && sameQuestion(asked.current, settings))) asked.current = settings;
  const question = asked.current;
  return useMemo(() => (data && question ? panelView(data, question) : undefined), [data, question]);
}

/** Settings that the analysis depends on. */
const ASKED: readonly (keyof PanelSettings)[] = [
  "sheet",
  "table",
  "headingRow",
  "units",
  "confidence",
  "takeIn",
  "plainFirst",
  "ask",
  "choice",
  "order",
  "made",
  "comparison",
  "reach",
];

/** Whether two settings ask the same of the same rows. */
function sameQuestion(before: PanelSettings, after: PanelSettings): boolean {
  return ASKED.every((name) => before[name] === after[name]);
}
