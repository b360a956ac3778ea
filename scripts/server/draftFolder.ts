/**
 * Drafts of pages as files in a folder of the user's own: work that is in no copy yet. They belong to the user and not
 * to an address, so a page on another port finds them.
 *
 * A draft is three files: ID.json says whose it is, ID.book is the workbook as last kept whole, ID.edits holds what was
 * changed since, a line each, in order. ID.alive holds the number of the process that serves the page while it lives.
 */
import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";
import { COPIED_FOR, type DraftNote, type LeftDraft } from "../../src/workbench/drafts";
import { isRunning } from "../../src/workbook/file/package/processes";

/** What stands beside a draft's workbook. */
interface KeptNote extends DraftNote {
  /** When it was last kept, in ms since 1970. */
  readonly at: number;
}

/** An edit is a number, counted from 1 by the page, and text that only the page understands. */
interface Line {
  readonly edit: number;
}

const ID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
/** Owner's eyes only. */
const PRIVATE = { mode: 0o600 } as const;

/** Where programs of this user keep what should outlive them. BENDBOOK_DRAFTS names another folder. */
export function usualDraftFolder(): string {
  const { BENDBOOK_DRAFTS, LOCALAPPDATA, XDG_STATE_HOME } = process.env;
  if (BENDBOOK_DRAFTS) return BENDBOOK_DRAFTS;
  if (process.platform === "win32")
    return join(LOCALAPPDATA ?? join(homedir(), "AppData", "Local"), "Bendbook", "drafts");
  if (process.platform === "darwin") return join(homedir(), "Library", "Application Support", "Bendbook", "drafts");
  return join(XDG_STATE_HOME ?? join(homedir(), ".local", "state"), "bendbook", "drafts");
}

export class DraftFolder {
  constructor(private readonly folder: string) {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
  }

  static isId(text: string): boolean {
    return ID.test(text);
  }

  /** Keeps the workbook whole; edits up to the number are part of it. */
  keep(id: string, note: DraftNote, bytes: Uint8Array, upTo: number): void {
    this.put(id, "book", bytes);
    const rest = this.lines(id).filter((line) => (JSON.parse(line) as Line).edit > upTo);
    this.put(id, "edits", rest.map((line) => `${line}\n`).join(""));
    this.put(id, "json", JSON.stringify({ ...note, at: Date.now() } satisfies KeptNote));
  }

  /** Adds an edit after the others. @returns false when it is none */
  edit(id: string, line: string): boolean {
    if (line.includes("\n") || !isLine(line)) return false;
    appendFileSync(this.path(id, "edits"), `${line}\n`, PRIVATE);
    return true;
  }

  remove(id: string): void {
    for (const kind of ["json", "book", "edits", "alive"]) rmSync(this.path(id, kind), { force: true });
  }

  book(id: string): Uint8Array | undefined {
    return existsSync(this.path(id, "book")) ? readFileSync(this.path(id, "book")) : undefined;
  }

  /** The edits since the workbook was kept. A last line that was cut off is none. */
  lines(id: string): string[] {
    if (!existsSync(this.path(id, "edits"))) return [];
    return readFileSync(this.path(id, "edits"), "utf8").split("\n").filter(isLine);
  }

  /** The page lives as long as this is not taken back. */
  live(id: string): () => void {
    writeFileSync(this.path(id, "alive"), String(process.pid), PRIVATE);
    return () => rmSync(this.path(id, "alive"), { force: true });
  }

  /**
   * What pages that are gone left, the latest first; drafts that hold nothing, or whose copy is old, are cleared away.
   */
  left(): { readonly drafts: readonly LeftDraft[]; readonly damaged: number } {
    const drafts: LeftDraft[] = [];
    let damaged = 0;
    for (const file of readdirSync(this.folder)) {
      const id = file.replace(/\.json$/, "");
      if (!file.endsWith(".json") || !DraftFolder.isId(id) || this.isAlive(id)) continue;
      const note = this.note(id);
      if (!note || !this.book(id)) damaged++;
      else if (!note.changed && this.lines(id).length === 0) this.remove(id);
      else if (note.copied && this.lines(id).length === 0 && Date.now() - note.at > COPIED_FOR) this.remove(id);
      else drafts.push({ id, ...note, copied: note.copied && this.lines(id).length === 0 });
    }
    return { drafts: drafts.sort((a, b) => b.at - a.at), damaged };
  }

  private note(id: string): KeptNote | undefined {
    try {
      const note = JSON.parse(readFileSync(this.path(id, "json"), "utf8")) as Partial<KeptNote> | null;
      const { name, form, at, changed, copied } = note ?? {};
      if (typeof name !== "string" || (form !== "xlsx" && form !== "csv") || typeof at !== "number") return undefined;
      return { name, form, at, changed: changed === true, copied: copied === true };
    } catch {
      return undefined;
    }
  }

  private isAlive(id: string): boolean {
    try {
      const process = Number(readFileSync(this.path(id, "alive"), "utf8"));
      return process > 0 && isRunning(process);
    } catch {
      return false;
    }
  }

  private path(id: string, kind: string): string {
    if (!DraftFolder.isId(id)) throw new Error(`"${id}" names no draft.`);
    return join(this.folder, `${id}.${kind}`);
  }

  /** Writes whole or not at all. */
  private put(id: string, kind: string, content: string | Uint8Array): void {
    const beside = `${this.path(id, kind)}.part`;
    writeFileSync(beside, content, PRIVATE);
    renameSync(beside, this.path(id, kind));
  }
}

function isLine(text: string): boolean {
  try {
    return typeof (JSON.parse(text) as Line).edit === "number";
  } catch {
    return false;
  }
}
