/** The keys: what each does, and where. The help and docs/views.md list them from here. */
import type { Port } from "../../workbook/port";
import type { ViewName } from "./settings";

interface Key {
  readonly keys: string;
  readonly does: string;
  /** Only beside the embedded grid. */
  readonly besideGrid?: true;
  /** Only in these views. */
  readonly views?: readonly ViewName[];
}

export const KEYS: readonly Key[] = [
  { keys: "F6, Shift+F6", does: "to the next part of the page and back: bar, sheet, panel", besideGrid: true },
  { keys: "Tab, Shift+Tab", does: "to the next field or button; in the sheet, to the next cell" },
  { keys: "Enter", does: "presses a button; in the entry row, writes the shot; in the sheet, ends a cell" },
  { keys: "Arrows, Home, End", does: "go along tabs, a plot's points, a slider" },
  { keys: "Escape", does: "closes what opened last: a list, the help, the preferences, the full page" },
  { keys: "Arrows on the panel's edge", does: "make the panel wider or narrower", besideGrid: true },
  { keys: "Enter on a point", does: "selects its row in the sheet", views: ["analysis"] },
];

/** Those that hold in a view. */
export const keysOf = (host: Port["host"], view: ViewName): readonly Key[] =>
  KEYS.filter(({ besideGrid, views }) => (!besideGrid || host === "embedded") && (!views || views.includes(view)));
