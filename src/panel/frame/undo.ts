/** What the panel wrote and what was chosen in it, and taking it back, the latest first. */
import { there } from "../../there";
import { portOver } from "../../workbook/portOver";
import type { NewRow, NewSheet, Port, RowCells } from "../../workbook/port";
import { cellsEntry, changedEntry, rowEntry, rowsNow, sheetEntry, type ChangedRows, type Entry } from "./undoEntries";

export interface Undo {
  /** The port to write through. */
  readonly port: Port;
  /** What would be taken back next; undefined when there is nothing. */
  readonly next: string | undefined;
  /**
   * Takes the latest back.
   * @returns what was taken back
   * @throws Error saying why it was not; it is then not offered again
   */
  back(): Promise<string>;
}

const NOTHING = "{}";
const CHOICE = "the last choice in the panel";
/** Choices closer together than this are one, in ms: the letters of a word are. */
const TOGETHER = 1000;

/** Entries kept; older ones cannot be taken back. */
const MOST = 50;

/**
 * @param isChoice whether a change of the settings is one that somebody would take back
 * @param onChange called when `next` changes
 * @param onSettings called with the settings that were taken back to
 */
export function undoOver(
  port: Port,
  isChoice: (before: string | null, after: string) => boolean,
  onChange: () => void,
  onSettings: (text: string) => void,
): Undo {
  const entries: Entry[] = [];
  const keep = (entry: Entry) => {
    entries.push(entry);
    if (entries.length > MOST) entries.shift();
    onChange();
  };
  return {
    port: portOver(port, {
      ...rememberedWrites(port, keep),
      ...rememberedChoices(port, isChoice, keep, () => entries.at(-1)?.what === CHOICE, onSettings),
    }),
    get next() {
      return entries.at(-1)?.what;
    },
    async back() {
      const entry = entries.pop();
      onChange();
      if (!entry) throw new Error("There is nothing to take back.");
      await entry.back();
      return entry.what;
    },
  };
}

type Keep = (entry: Entry) => void;

/** The port's writing, each remembered as what takes it back. */
function rememberedWrites(port: Port, keep: Keep) {
  /** What was written stands, whether or not it can be remembered for taking back. */
  const remember = async (entry: Promise<Entry>) => {
    const known = await entry.catch(() => undefined);
    if (known) keep(known);
  };
  return {
    async addSheet(content: NewSheet) {
      const name = await port.addSheet(content);
      await remember(sheetEntry(port, name));
      return name;
    },
    async addRow(content: NewRow) {
      const added = await port.addRow(content);
      await remember(added.made ? sheetEntry(port, added.sheet) : rowEntry(port, added, content.cells.length));
      return added;
    },
    async changeRows(sheet: string, rows: ChangedRows) {
      const before = await rowsNow(port, sheet, rows);
      await port.changeRows(sheet, rows);
      await remember(changedEntry(port, sheet, rows, before));
    },
    async fillRow(content: RowCells) {
      const filled = await port.fillRow(content);
      if ("written" in filled && filled.written.length > 0) await remember(cellsEntry(port, content, filled.written));
      return filled;
    },
    async addPicture(picture: Parameters<NonNullable<Port["addPicture"]>>[0]) {
      const name = await there(port.addPicture?.(picture), "a way to put pictures");
      await remember(sheetEntry(port, name));
      return name;
    },
  };
}

/**
 * The port's settings: a choice is remembered as the settings before it; one that follows soon after another is part of
 * it.
 * @param isLast whether the latest that is remembered is a choice
 */
function rememberedChoices(
  port: Port,
  isChoice: (before: string | null, after: string) => boolean,
  keep: Keep,
  isLast: () => boolean,
  onSettings: (text: string) => void,
) {
  let settings: string | null | undefined;
  let chosen = -Infinity;
  return {
    async loadSettings() {
      settings = await port.loadSettings();
      return settings;
    },
    async saveSettings(text: string) {
      const before = settings ?? null;
      await port.saveSettings(text);
      settings = text;
      if (!isChoice(before, text)) return;
      const soon = performance.now() - chosen < TOGETHER && isLast();
      chosen = performance.now();
      if (soon) return;
      keep({
        what: CHOICE,
        async back() {
          // Settings cannot be taken out of a workbook; empty ones say as much as none.
          settings = before ?? NOTHING;
          await port.saveSettings(settings);
          onSettings(settings);
        },
      });
    },
  };
}
