/**
 * Work that is in no copy yet, kept by the browser so that a page that dies loses nothing. One draft for each open page; a
 * draft is written whole or not at all, which IndexedDB sees to. May import: idb-keyval.
 */
import { createStore, del, entries, set, type UseStore } from "idb-keyval";

export interface Draft {
  readonly id: string;
  /** Name of the workbook. */
  readonly name: string;
  /** When it was kept, in ms since 1970. */
  readonly at: number;
  /** The workbook as .xlsx. */
  readonly bytes: Uint8Array;
}

export interface Drafts {
  /** Keeps this page's draft in place of the one before. */
  keep(name: string, bytes: Uint8Array): Promise<void>;
  /** This page's work is in a copy, or nobody wants it. */
  forget(): Promise<void>;
  /** Drafts of pages that are gone, the latest first. */
  left(): Promise<readonly Draft[]>;
  remove(id: string): Promise<void>;
}

const LOCK = "bendbook page ";

/** @param id of this page, different from every other's */
export function openDrafts(id: string): Drafts {
  const store: UseStore = createStore("bendbook", "drafts");
  // Held as long as the page lives: whose lock is free is gone.
  void navigator.locks.request(LOCK + id, () => new Promise(() => {}));
  return {
    keep: (name, bytes) => set(id, { id, name, at: Date.now(), bytes } satisfies Draft, store),
    forget: () => del(id, store),
    async left() {
      const { held = [] } = await navigator.locks.query();
      const alive = new Set(held.map(({ name }) => name));
      return (await entries<string, Draft>(store)).map(([, draft]) => draft).filter((draft) => !alive.has(LOCK + draft.id)).sort((a, b) => b.at - a.at);
    },
    remove: (other) => del(other, store),
  };
}
