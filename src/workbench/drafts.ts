/**
 * Work that is in no copy yet, kept so that a page that dies loses nothing: the workbook whole, from time to time, and
 * each edit since, at once. Where it is kept is a store's business.
 */

/** A draft of which a copy was made is kept this long, in ms: nobody can know whether the copy arrived. */
export const COPIED_FOR = 24 * 60 * 60 * 1000;

export interface DraftNote {
  /** Name of the workbook's file. */
  readonly name: string;
  /** How the kept workbook is written. */
  readonly form: "xlsx" | "csv";
  /** Whether anything was changed since it was opened. */
  readonly changed: boolean;
  /** Whether this very state went to the browser's downloads; whether it arrived, nobody can know. */
  readonly copied: boolean;
}

export interface LeftDraft extends DraftNote {
  readonly id: string;
  /** When it was kept, in ms since 1970. */
  readonly at: number;
}

/** An edit with its number, as a line of JSON. Numbers count from 1. */
type Line = string;

export interface DraftStore {
  /** Marks the draft as that of a living page, as long as this page lives. */
  live(id: string): void;
  /** Keeps the workbook whole; edits up to the number are part of it. */
  keep(id: string, note: DraftNote, bytes: Uint8Array, upTo: number): Promise<void>;
  edit(id: string, number: number, line: Line): Promise<void>;
  remove(id: string): Promise<void>;
  /** Drafts of pages that are gone, the latest first, and how many cannot be read. */
  left(): Promise<{ readonly drafts: readonly LeftDraft[]; readonly damaged: number }>;
  read(id: string): Promise<{ readonly bytes: Uint8Array; readonly lines: readonly Line[] }>;
}

/** The draft of one opened workbook. */
export class BookDraft {
  readonly id = crypto.randomUUID();
  private count = 0;
  private kept: Promise<void>;

  /** @param onFailure hears the first of a row of failures @param bytes of the workbook as it was opened */
  constructor(
    private readonly store: DraftStore,
    private readonly onFailure: (problem: unknown) => void,
    private readonly name: string,
    form: DraftNote["form"],
    bytes: Uint8Array,
    changed: boolean,
  ) {
    store.live(this.id);
    this.kept = this.tried(store.keep(this.id, { name, form, changed, copied: false }, bytes, 0));
  }

  /** How many edits there were; a copy of the workbook made at this moment holds them all. */
  get edits(): number {
    return this.count;
  }

  edit(edit: object): void {
    const number = ++this.count;
    void this.tried(this.store.edit(this.id, number, JSON.stringify({ edit: number, ...edit })));
  }

  /** Keeps a copy that holds the edits up to the number. */
  async keep(copy: Uint8Array, upTo: number, copied = false): Promise<void> {
    await this.kept;
    await (this.kept = this.tried(
      this.store.keep(this.id, { name: this.name, form: "xlsx", changed: true, copied }, copy, upTo),
    ));
  }

  async remove(): Promise<void> {
    await this.kept;
    await this.store.remove(this.id).catch(() => {});
  }

  private failed = false;
  private async tried(work: Promise<void>): Promise<void> {
    try {
      await work;
      this.failed = false;
    } catch (problem) {
      if (!this.failed) this.onFailure(problem);
      this.failed = true;
    }
  }
}
