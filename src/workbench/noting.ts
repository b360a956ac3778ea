/** The port, with a note of what is written through it that no cell shows. */
import type { Port } from "../workbook/port";

/** @param note something was written @param onSettings settings are about to be written */
export function noting(port: Port, note: () => void, onSettings: (text: string) => void): Port {
  const { addPicture } = port;
  return {
    ...(addPicture && { addPicture: (picture) => addPicture.call(port, picture).finally(note) }),
    host: port.host,
    sheets: () => port.sheets(),
    activeSheet: () => port.activeSheet(),
    read: (sheet) => port.read(sheet),
    select: (sheet, area, keyboard) => port.select(sheet, area, keyboard),
    addSheet: (content) => port.addSheet(content).finally(note),
    addRow: (content) => port.addRow(content).finally(note),
    removeSheet: (sheet) => port.removeSheet(sheet).finally(note),
    clearCells: (sheet, area) => port.clearCells(sheet, area).finally(note),
    loadSettings: () => port.loadSettings(),
    saveSettings(text) {
      onSettings(text);
      return port.saveSettings(text).finally(note);
    },
    onChange: (listener) => port.onChange(listener),
  };
}
