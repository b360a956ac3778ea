/**
 * The page that puts the embedded grid beside the panel: opens a workbook, shows it, saves a copy. Nothing is sent anywhere.
 * May import: workbook/, panel/, this folder.
 */
import { download } from "../panel/download";
import { messageOf } from "../panel/messageOf";
import { mountPanel, type MountedPanel } from "../panel/mount";
import { cellAddress } from "../workbook/address";
import type { Book } from "../workbook/book";
import { openGrid, type Grid } from "../workbook/embedded/grid";
import { FileProblem } from "../workbook/file/fileProblem";
import { openBook } from "../workbook/file/openBook";
import { saveCopy } from "../workbook/file/saveCopy";
import type { Port } from "../workbook/port";
import { openDrafts, type Drafts } from "./drafts";
import { keeper } from "./keeper";
import type { Page } from "./page";

interface Opened {
  readonly name: string;
  /** The file as it came, for saving a copy that keeps what the grid does not know; null for .csv. */
  readonly original: Uint8Array | null;
  readonly grid: Grid;
  readonly panel: MountedPanel;
  readonly stop: () => void;
}

export class Workbench {
  private opened: Opened | undefined;
  private changed = false;

  private readonly drafts: Drafts;

  constructor(private readonly page: Page) {
    this.drafts = openDrafts(crypto.randomUUID());
  }

  /** True while the workbook holds changes that are in no copy. */
  get unsaved(): boolean {
    return this.changed;
  }

  /** Opens a workbook in place of the one that is open; when it cannot be read, the open one stays. */
  async open(name: string, read: () => Promise<Uint8Array>): Promise<void> {
    this.page.loading(`Reading ${name} …`);
    try {
      const bytes = await read();
      await this.page.painted();
      const book = await openBook(bytes, name, (share) => this.page.loading(`Reading ${name} …`, share));
      this.page.loading("Computing the workbook …");
      await this.page.painted();
      await this.show(name, /\.csv$/i.test(name) ? null : bytes, book);
    } catch (problem) {
      this.page.trouble(problem instanceof FileProblem ? problem.message : `${name} could not be opened: ${messageOf(problem)}`);
    } finally {
      this.page.loaded();
    }
  }

  /** Offers the workbook as a file to the browser's downloads. @returns false when it could not be made */
  async save(): Promise<boolean> {
    if (!this.opened) return false;
    const { name, original, grid } = this.opened;
    try {
      const { bytes, notes } = await saveCopy(original, grid.book());
      const copy = `${name.replace(/\.(xlsx|csv)$/i, "")} copy.xlsx`;
      download(new Blob([bytes as BlobPart], { type: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet" }), copy);
      this.changed = false;
      await this.drafts.forget().catch(() => {});
      this.page.say([`"${copy}" went to the browser's downloads; ${name} itself is as it was.`, ...notes].join(" "));
      return true;
    } catch (problem) {
      this.page.trouble(`The copy was not made: ${messageOf(problem)}`);
      return false;
    }
  }

  /** Offers what pages that are gone left behind. @param leave asks what becomes of this page's own work; true when it may go */
  async offerLeft(leave: () => Promise<boolean>): Promise<void> {
    const left = await this.drafts.left().catch(() => []);
    for (const { id, name, at, bytes } of left) {
      const when = new Date(at).toLocaleString();
      this.page.offer(`Work on ${name} of ${when} is in no copy yet: the page was closed before one was saved.`, [
        ["Go on with it", async () => {
          if (!(await leave())) return false;
          await this.open(name, async () => bytes);
          this.changed = true;
          // Kept as this page's own before the other is let go.
          await this.drafts.keep(name, bytes);
          await this.drafts.remove(id);
          return true;
        }],
        ["Throw it away", async () => {
          await this.drafts.remove(id);
          return true;
        }],
      ]);
    }
  }

  setDark(dark: boolean): void {
    this.opened?.grid.setDark(dark);
  }

  private async show(name: string, original: Uint8Array | null, book: Book): Promise<void> {
    const before = this.opened;
    this.opened = undefined;
    before?.stop();
    await this.drafts.forget().catch(() => {});
    const grid = await openGrid(this.page.freshGrid(), book, { dark: this.page.dark(), onError: (error) => this.page.trouble(error.message) });
    const draft = keeper(
      async () => {
        if (this.changed) await this.drafts.keep(name, (await saveCopy(original, grid.book())).bytes);
      },
      (problem) => this.page.trouble(`This browser does not keep work that is in no copy yet, so a page that dies would lose it: save a copy often. (${messageOf(problem)})`),
    );
    const note = () => {
      this.changed = true;
      draft.note();
    };
    const panel = mountPanel(this.page.freshPanel(), noting(grid.port, note));
    const stopChange = grid.port.onChange(note);
    const stopSelect = grid.onSelect((sheet, { row, column }) => {
      const message = grid.messageAt(sheet, row, column);
      this.page.cellMessage(message === undefined ? undefined : `${cellAddress(row, column)}: ${message}`);
    });
    const stop = () => {
      draft.stop();
      stopChange();
      stopSelect();
      panel.unmount();
      grid.dispose();
    };
    this.opened = { name, original, grid, panel, stop };
    this.changed = false;
    this.page.ready(name);
  }
}

/** The port, with a note of everything that it writes: new sheets, rows and settings are changes too. */
function noting(port: Port, note: () => void): Port {
  const { addPicture } = port;
  return {
    ...(addPicture && { addPicture: (picture) => addPicture.call(port, picture).finally(note) }),
    host: port.host,
    sheets: () => port.sheets(),
    activeSheet: () => port.activeSheet(),
    read: (sheet) => port.read(sheet),
    select: (sheet, area) => port.select(sheet, area),
    addSheet: (content) => port.addSheet(content).finally(note),
    addRow: (content) => port.addRow(content).finally(note),
    removeSheet: (sheet) => port.removeSheet(sheet).finally(note),
    clearCells: (sheet, area) => port.clearCells(sheet, area).finally(note),
    loadSettings: () => port.loadSettings(),
    saveSettings: (text) => port.saveSettings(text).finally(note),
    onChange: (listener) => port.onChange(listener),
  };
}
