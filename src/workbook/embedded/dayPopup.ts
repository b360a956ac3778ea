/** Says at the cell that a typed fraction became a day, and mends it. Browser only. */
import { createElement } from "react";
import type { TakenForDay } from "./mended/cellEditing";
import type { LiveBook } from "./liveBook";

const BOX = {
  padding: "8px 10px",
  maxWidth: 260,
  font: "13px/1.4 'Segoe UI', Helvetica, Arial, sans-serif",
  color: "#242424",
  background: "#fff",
  border: "1px solid #8a5a00",
  borderRadius: 4,
} as const;
const BUTTON = {
  font: "inherit",
  minHeight: 28,
  marginRight: 8,
  padding: "2px 10px",
  color: "#242424",
  background: "#f3f3f3",
  border: "1px solid #616161",
  borderRadius: 4,
  cursor: "pointer",
} as const;

/** Shows the offer beside the cell. @returns how to take it away; undefined where the cell is not in sight */
export function dayPopup(
  live: LiveBook,
  { sheet, row, column, text }: TakenForDay,
  mend: () => void,
  close: () => void,
): { dispose(): void } | undefined {
  const button = (label: string, act: () => void) =>
    createElement("button", { key: label, type: "button", style: BUTTON, onClick: act }, label);
  const Box = () =>
    createElement("div", { role: "status", "data-part": "day", style: BOX }, [
      createElement("p", { key: "text", style: { margin: "0 0 6px" } }, dayText(text)),
      button(`Make it ${text}`, mend),
      button("Keep the day", close),
    ]);
  const range = live.api.getActiveWorkbook()?.getSheetByName(sheet)?.getRange(row, column);
  return range?.attachPopup({ componentKey: Box, direction: "bottom", offset: [0, 4] }) ?? undefined;
}

/** What is said of a fraction that became a day. */
export function dayText(text: string): string {
  return `${text} became a day of the year, as in every spreadsheet. A reading of a ruler is typed 0 ${text} or =${text}.`;
}
