/**
 * The page that puts the embedded grid beside the panel: opens a workbook, shows it, saves a copy. Nothing leaves this
 * machine.
 */
import { download } from "../panel/frame/download";
import { messageOf } from "../panel/frame/messageOf";
import type { MountedPanel } from "../panel/mount";
import type { KeptPreferences } from "../panel/frame/preferences";
import type { ViewName } from "../panel/frame/settings";
import { cellAddress } from "../workbook/address";
import type { Book } from "../workbook/book";
import type { Port } from "../workbook/port";
import { dayText } from "../workbook/embedded/dayPopup";
import type { BookEdit } from "../workbook/embedded/edits";
import type { Grid } from "../workbook/embedded/grid";
import { inTurns } from "../workbook/turns";
import { FileProblem } from "../workbook/file/package/fileProblem";
import { BookDraft, type DraftStore } from "./drafts";
import { readFile, writeCopy, type FileWait } from "./fileWork";
import { nameControls } from "./gridNames";
import { keeper } from "./keeper";
import { noting } from "./noting";
import type { Page } from "./page";
import { pageParts } from "./pageParts";
import { isDark } from "./pageTheme";
import { startCell } from "./startCell";
import { orStopped, stepsUntil } from "./stopping";

interface Opened {
  readonly name: string;
  /** The file as it came, for saving a copy that keeps what the grid does not know; null for .csv. */
  readonly original: Uint8Array | null;
  readonly grid: Grid;
  readonly panel: MountedPanel;
  readonly draft: BookDraft | undefined;
  readonly stop: () => void;
}

/** A workbook to be opened. */
export interface BookSource {
  /** Name of its file. */
  readonly name: string;
  read(stopped?: AbortSignal): Promise<Uint8Array>;
  /** How the bytes are written, where the name does not say. */
  readonly form?: "xlsx" | "csv";
  /** View of the panel to show first. */
  readonly view?: ViewName;
  /** Work that was kept: edits to be made again. */
  readonly edits?: readonly KeptEdit[];
}

type KeptEdit = BookEdit | { readonly settings: string };

export class Workbench {
  private opened: Opened | undefined;
  private changed = false;

  /** @param store of drafts; undefined where nothing keeps them */
  constructor(
    private readonly page: Page,
    private readonly store: DraftStore | undefined,
    private readonly preferences: KeptPreferences,
  ) {
    if (!store)
      this.page.offer("This browser keeps no work for pages that die: save a copy often.", [
        ["Close", async () => true],
      ]);
  }

  /** Name of the workbook that is open. */
  get name(): string | undefined {
    return this.opened?.name;
  }

  /** True while the workbook holds changes that are in no copy. */
  get unsaved(): boolean {
    return this.changed;
  }

  /**
   * Opens a workbook in place of the one that is open, which stays when this one cannot be read or shown.
   * @returns whether it is open
   */
  async open(wanted: BookSource): Promise<boolean> {
    const { name, form = /\.csv$/i.test(name) ? "csv" : "xlsx" } = wanted;
    const stop = new AbortController();
    const say = (text: string, share?: number) => {
      if (!stop.signal.aborted) this.page.loading(text, share, () => stop.abort(new Cancelled()));
    };
    const stopped = stop.signal;
    say(`Reading ${name} …`);
    try {
      const bytes = await orStopped(wanted.read(stopped), stopped);
      await this.page.painted();
      // Kept work is .xlsx whatever the file's name says.
      const book = await readFile(bytes, form === "xlsx" ? name.replace(/\.csv$/i, ".xlsx") : name, {
        stopped,
        progress: (share) => say(`Reading ${name}: ${Math.round(100 * share)} %`, share),
      });
      say("Computing the workbook …");
      await this.page.painted();
      stopped.throwIfAborted();
      await this.show(wanted, form, bytes, book, {
        stopped,
        progress: (share) => say("Computing the workbook …", share),
      });
      return true;
    } catch (problem) {
      if (problem instanceof Cancelled) {
        this.page.say(`${name} was not opened, as you wished.`);
        return false;
      }
      this.page.trouble(
        problem instanceof FileProblem ? problem.message : `${name} could not be opened: ${messageOf(problem)}`,
      );
      return false;
    } finally {
      this.page.loaded();
    }
  }

  /**
   * Offers the workbook as a file to the browser's downloads.
   * @returns false when it could not be made, or the person did not want to wait for it
   */
  async save(): Promise<boolean> {
    if (!this.opened) return false;
    const { name, draft } = this.opened;
    const waiting = this.longSave(name);
    try {
      const { bytes, notes, edits } = await copyOf(this.opened, waiting);
      const copy = `${name.replace(/\.(xlsx|csv)$/i, "")} copy.xlsx`;
      download(
        new Blob([bytes as BlobPart], { type: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet" }),
        copy,
      );
      this.changed = false;
      // Kept for a while all the same: whether the browser stored the file, or the user said no, it does not tell.
      await draft?.keep(bytes, edits, true);
      this.page.say([`"${copy}" went to the browser's downloads; ${name} itself is as it was.`, ...notes].join(" "));
      return true;
    } catch (problem) {
      if (problem instanceof Cancelled) this.page.say(`No copy of ${name} was made, as you wished.`);
      else this.page.trouble(`The copy was not made: ${messageOf(problem)}`);
      return false;
    } finally {
      waiting.end();
    }
  }

  /** Says how far a copy is, and lets it be given up, once it takes a while. */
  private longSave(name: string): FileWait & { end(): void } {
    const stop = new AbortController();
    let share: number | undefined;
    let shown = false;
    const say = () => {
      shown = true;
      this.page.loading(`Saving a copy of ${name} …`, share, () => stop.abort(new Cancelled()));
    };
    const soon = setTimeout(say, SAID_AFTER);
    return {
      stopped: stop.signal,
      progress(sent) {
        // The last part is on its way: how long writing takes then, nobody knows.
        share = sent < 1 ? sent : undefined;
        if (shown && !stop.signal.aborted) say();
      },
      end: () => {
        clearTimeout(soon);
        if (shown) this.page.loaded();
      },
    };
  }

  /**
   * Offers what pages that are gone left behind.
   * @param leave asks what becomes of this page's own work; true when it may go
   */
  async offerLeft(leave: () => Promise<boolean>): Promise<void> {
    const store = this.store;
    const left = await store?.left().catch(() => undefined);
    if (!store || !left) return;
    for (const { id, name, at, form, copied } of left.drafts) {
      const when = new Date(at).toLocaleString();
      const told = copied
        ? `A copy of ${name} went to the browser's downloads on ${when}. Should it not have arrived, the work is still here.`
        : `Work on ${name} of ${when} is in no copy yet: the page was closed before one was saved.`;
      this.page.offer(told, [
        ["Go on with it", async () => (await leave()) && this.goOn(store, id, name, form)],
        ["Throw it away", () => store.remove(id).then(() => true)],
      ]);
    }
    if (left.damaged > 0)
      this.page.trouble(
        `${left.damaged === 1 ? "One piece" : `${left.damaged} pieces`} of kept work cannot be read and will not be offered.`,
      );
  }

  focusGrid(): boolean {
    this.opened?.grid.focus();
    return this.opened !== undefined;
  }

  setDark(dark: boolean): void {
    this.opened?.grid.setDark(dark);
  }

  private async goOn(store: DraftStore, id: string, name: string, form: "xlsx" | "csv"): Promise<boolean> {
    const { bytes, lines } = await store.read(id);
    const edits = lines.map((line) => JSON.parse(line) as KeptEdit);
    if (!(await this.open({ name, form, read: async () => bytes, edits }))) return false;
    // Kept as this page's own before the other is let go.
    await this.keep();
    await store.remove(id);
    return true;
  }

  /** Keeps the open workbook whole. */
  private async keep(): Promise<void> {
    if (!this.opened?.draft) return;
    const { bytes, edits } = await copyOf(this.opened);
    await this.opened.draft.keep(bytes, edits);
  }

  private async show(
    wanted: BookSource,
    form: "xlsx" | "csv",
    bytes: Uint8Array,
    book: Book,
    { stopped, progress }: Required<FileWait>,
  ): Promise<void> {
    const { name, view, edits = [] } = wanted;
    const settings = edits.flatMap((edit) => ("settings" in edit ? [edit.settings] : [])).at(-1) ?? book.settings;
    const { openGrid, mountPanel } = await orStopped(pageParts(), stopped);
    const place = this.page.freshGrid();
    const making = openGrid(place.element, settings === undefined ? book : { ...book, settings }, {
      dark: isDark(this.preferences),
      edits: edits.flatMap((edit) => ("settings" in edit ? [] : [edit])),
      stopped,
      onProgress: progress,
      onError: (error) => stopped.aborted || this.page.trouble(error.message),
      onDay: ({ row, column, text }, mend) =>
        this.page.offer(`${cellAddress(row, column)}: ${dayText(text)}`, [
          [`Make it ${text}`, async () => (mend(), true)],
          ["Keep the day", async () => true],
        ]),
    });
    let grid: Grid;
    try {
      grid = await orStopped(making, stopped);
    } catch (problem) {
      // Given up, it goes as soon as it can, and nobody waits for that.
      void making
        .then((late) => late.dispose())
        .catch(() => {})
        .finally(place.drop);
      throw problem;
    }
    // The new one stands: only now does the old one go, and what was kept of it.
    const before = this.opened;
    before?.stop();
    void before?.draft?.remove();
    place.show();
    this.changed = edits.length > 0;
    const draft = this.draftOf(name, form, bytes);
    const named = nameControls(place.element);
    const mount = (port: Port) => mountPanel(this.page.freshPanel(), port, this.preferences, view);
    this.opened = this.connected(name, form === "csv" ? null : bytes, grid, draft, mount, named);
    await grid.shown;
    // A first shot is asked for in the panel, which then takes the keyboard. Whoever sees the page ready may type, and
    // is not to be moved elsewhere amid that.
    await this.selectStart(grid, view !== "start");
    this.page.ready(name);
  }

  private draftOf(name: string, form: "xlsx" | "csv", bytes: Uint8Array): BookDraft | undefined {
    const onFailure = (problem: unknown) =>
      this.page.trouble(
        `Work that is in no copy yet is not kept now, so a page that dies would lose it: save a copy often. (${messageOf(problem)})`,
      );
    return this.store && new BookDraft(this.store, onFailure, name, form, bytes, false);
  }

  private connected(
    name: string,
    original: Uint8Array | null,
    grid: Grid,
    draft: BookDraft | undefined,
    mount: (port: Port) => MountedPanel,
    named: () => void,
  ): Opened {
    const whole = keeper(
      async () => {
        if (this.changed) await this.keep();
      },
      (problem) => this.page.trouble(`The workbook could not be kept whole: ${messageOf(problem)}. Save a copy.`),
    );
    const note = () => {
      this.changed = true;
      whole.note();
    };
    const port = noting(grid.port, note, (settings) => draft?.edit({ settings }));
    const panel = mount(port);
    const stops = [
      grid.onEdit((edit) => {
        draft?.edit(edit);
        note();
      }),
      grid.port.onChange(note),
      grid.onSelect((sheet, { row, column }) => {
        const address = cellAddress(row, column);
        const message = grid.messageAt(sheet, row, column);
        this.page.cellMessage(message === undefined ? undefined : `${address}: ${message}`);
        void heard(grid.port, sheet, row, column).then((text) => this.page.hear(`${address}: ${text}`));
      }),
    ];
    const stop = () => {
      whole.stop();
      named();
      for (const one of stops) one();
      panel.unmount();
      grid.dispose();
    };
    return { name, original, grid, panel, draft, stop };
  }

  /** Puts the keyboard where the next reading goes. */
  private async selectStart({ port }: Grid, keyboard: boolean): Promise<void> {
    const sheet = await port.activeSheet();
    await port.select(sheet, await startCell(port, sheet), keyboard);
  }
}

/** A copy that takes longer, in ms, says how far it is. */
const SAID_AFTER = 300;

/** The person did not want to wait for a workbook. */
class Cancelled extends Error {}

/** What a cell holds, for those who hear the page. */
async function heard(port: Port, sheet: string, row: number, column: number): Promise<string> {
  const part = await port.readArea(sheet, { row, column, rows: 1, columns: 1 }).catch(() => undefined);
  return String(part?.values[0]?.[0] ?? "blank");
}

/** The workbook as a file, and how many edits it holds. */
async function copyOf(
  { original, grid, draft }: Pick<Opened, "original" | "grid" | "draft">,
  waiting: FileWait = {},
): Promise<{ bytes: Uint8Array; notes: readonly string[]; edits: number }> {
  const { book, edits } = await bookOf(grid, () => draft?.edits ?? 0, waiting.stopped);
  return { ...(await writeCopy(original, book, waiting)), edits };
}

/** How often a workbook that is changed while it is copied is begun again before the page stands still for it. */
const TRIES = 3;

/** The workbook as it is at one moment, gathered in turns. @param edits how many there were */
async function bookOf(
  grid: Grid,
  edits: () => number,
  stopped: AbortSignal | undefined,
): Promise<{ readonly book: Book; readonly edits: number }> {
  for (let attempt = 0; attempt < TRIES; attempt++) {
    const before = edits();
    let changed = false;
    const stop = grid.onEdit(() => (changed = true));
    try {
      const book = await inTurns(stepsUntil(grid.bookInSteps(), stopped));
      if (!changed) return { book, edits: before };
    } finally {
      stop();
    }
  }
  return { book: grid.book(), edits: edits() };
}
