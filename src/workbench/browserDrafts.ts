/**
 * Drafts kept in the browser's own database, for a page whose server keeps none. A record is written whole or not at
 * all, which IndexedDB sees to.
 */
import { createStore, delMany, entries, get, getMany, keys, set, type UseStore } from "idb-keyval";
import { COPIED_FOR, type DraftNote, type DraftStore, type LeftDraft } from "./drafts";

interface Kept extends LeftDraft {
  readonly bytes: Uint8Array;
}

const LOCK = "bendbook page ";

/** The store; undefined where the browser has no database for pages, as in some private windows. */
export async function browserDrafts(): Promise<DraftStore | undefined> {
  if (typeof indexedDB === "undefined") return undefined;
  let books: UseStore;
  let edits: UseStore;
  try {
    books = createStore("bendbook", "drafts");
    edits = createStore("bendbook edits", "edits");
    await entries(books);
  } catch {
    return undefined;
  }
  const own = new Set<string>();
  /** Keys of a draft's edits sort by their numbers. */
  const keyOf = (id: string, number: number) => `${id} ${String(number).padStart(9, "0")}`;
  const editsOf = async (id: string) => (await keys<string>(edits)).filter((key) => key.startsWith(`${id} `)).sort();
  const dropEdits = async (id: string, upTo: number) =>
    delMany(
      (await editsOf(id)).filter((key) => key <= keyOf(id, upTo)),
      edits,
    );
  const remove = async (id: string) => {
    await delMany([id], books);
    await dropEdits(id, 999_999_999);
  };
  return {
    live(id) {
      own.add(id);
      // Held as long as the page lives: whose lock is free is gone.
      void navigator.locks?.request(LOCK + id, () => new Promise(() => {}));
    },
    async keep(id, note: DraftNote, bytes, upTo) {
      await set(id, { id, at: Date.now(), ...note, bytes } satisfies Kept, books);
      await dropEdits(id, upTo);
    },
    edit: (id, number, line) => set(keyOf(id, number), line, edits),
    remove,
    async left() {
      const held = (await navigator.locks?.query())?.held ?? [];
      const alive = new Set(held.map(({ name }) => name));
      const drafts: LeftDraft[] = [];
      let damaged = 0;
      for (const [key, record] of await entries<string, unknown>(books)) {
        if (typeof key === "string" && (own.has(key) || alive.has(LOCK + key))) continue;
        const draft = readRecord(record);
        const since = draft ? (await editsOf(draft.id)).length : 0;
        if (!draft) damaged++;
        else if (since === 0 && (!draft.changed || (draft.copied && Date.now() - draft.at > COPIED_FOR)))
          await remove(draft.id);
        else drafts.push({ ...draft, copied: draft.copied && since === 0 });
      }
      return { drafts: drafts.sort((a, b) => b.at - a.at), damaged };
    },
    async read(id) {
      const draft = readRecord(await get<unknown>(id, books));
      if (!draft) throw new Error("the draft is gone");
      return { bytes: draft.bytes, lines: await getMany<string>(await editsOf(id), edits) };
    },
  };
}

/** A record of ours; those of earlier versions say neither form nor what became of them. */
function readRecord(record: unknown): Kept | undefined {
  const { id, name, at, bytes, form, changed, copied } = (
    typeof record === "object" && record !== null ? record : {}
  ) as Partial<Kept>;
  if (typeof id !== "string" || typeof name !== "string" || typeof at !== "number" || !(bytes instanceof Uint8Array))
    return undefined;
  return {
    id,
    name,
    at,
    bytes,
    form: form === "csv" ? "csv" : "xlsx",
    changed: changed !== false,
    copied: copied === true,
  };
}
