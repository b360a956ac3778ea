/** The port, with a note of everything that is written through it. */
import { there } from "../there";
import type { Port } from "../workbook/port";
import { portOver } from "../workbook/portOver";

/** @param note something was written @param onSettings settings are about to be written */
export function noting(port: Port, note: () => void, onSettings: (text: string) => void): Port {
  return portOver(port, {
    // Where the port takes no pictures, nobody comes here.
    addPicture: (picture) => there(port.addPicture?.(picture), "a way to put pictures").finally(note),
    addSheet: (content) => port.addSheet(content).finally(note),
    addRow: (content) => port.addRow(content).finally(note),
    fillRow: (content) => port.fillRow(content).finally(note),
    changeRows: (sheet, rows) => port.changeRows(sheet, rows).finally(note),
    removeSheet: (sheet) => port.removeSheet(sheet).finally(note),
    clearCells: (sheet, area) => port.clearCells(sheet, area).finally(note),
    saveSettings(text) {
      onSettings(text);
      return port.saveSettings(text).finally(note);
    },
  });
}
