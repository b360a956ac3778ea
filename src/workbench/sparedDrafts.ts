/**
 * Drafts kept in one place, and in another while that one does not answer: the server may be stopped, or a phone leave
 * the room, and the page goes on. What the first place has not got stands in the second, from the last whole copy on.
 */
import type { DraftNote, DraftStore, LeftDraft } from "./drafts";

/** What the second place needs to begin: the last whole copy, and the edits since. */
interface Held {
  readonly note: DraftNote;
  readonly bytes: Uint8Array;
  readonly upTo: number;
  readonly edits: (readonly [number: number, line: string])[];
  /** The first place failed since the last whole copy that it took. */
  away: boolean;
}

/** @param onAway hears when the first place fails and the second takes over, and when it is back */
export function sparedDrafts(first: DraftStore, second: DraftStore, onAway: (away: boolean) => void): DraftStore {
  return {
    live(id) {
      first.live(id);
      second.live(id);
    },
    ...keeping(first, second, onAway),
    ...found(first, second),
  };
}

/** Keeps in the first place, and in the second while that one fails. */
function keeping(
  first: DraftStore,
  second: DraftStore,
  onAway: (away: boolean) => void,
): Pick<DraftStore, "keep" | "edit" | "remove"> {
  const held = new Map<string, Held>();
  /** Keeps the workbook and its edits in the second place. @throws what the second place throws */
  const takeOver = async (id: string, draft: Held) => {
    const begins = !draft.away;
    draft.away = true;
    try {
      await second.keep(id, draft.note, draft.bytes, draft.upTo);
      for (const [number, line] of draft.edits) await second.edit(id, number, line);
    } catch (problem) {
      draft.away = false;
      throw problem;
    }
    if (begins) onAway(true);
  };
  /** The first place took a whole copy and is to have the edits since. */
  const giveBack = async (id: string, draft: Held) => {
    draft.away = false;
    // Its server was away and forgot that the page lives.
    first.live(id);
    for (const [number, line] of draft.edits) await first.edit(id, number, line);
    await second.remove(id);
    onAway(false);
  };
  return {
    async keep(id, note, bytes, upTo) {
      const before = held.get(id);
      const edits = (before?.edits ?? []).filter(([number]) => number > upTo);
      const draft: Held = { note, bytes, upTo, edits, away: before?.away ?? false };
      held.set(id, draft);
      const wasAway = draft.away;
      try {
        await first.keep(id, note, bytes, upTo);
      } catch {
        return takeOver(id, draft);
      }
      if (wasAway) await giveBack(id, draft);
    },
    async edit(id, number, line) {
      const draft = held.get(id);
      draft?.edits.push([number, line]);
      if (draft?.away) return second.edit(id, number, line);
      try {
        await first.edit(id, number, line);
      } catch (problem) {
        if (!draft) throw problem;
        await takeOver(id, draft);
      }
    },
    async remove(id) {
      held.delete(id);
      await Promise.allSettled([first.remove(id), second.remove(id)]);
    },
  };
}

/** What was left in either place. */
function found(first: DraftStore, second: DraftStore): Pick<DraftStore, "left" | "read"> {
  return {
    async left() {
      const [one, other] = await Promise.all([first.left(), second.left()]);
      // A draft in both places is newest where it was kept last; the second place is never behind the first.
      const later = new Map<string, LeftDraft>();
      for (const draft of [...one.drafts, ...other.drafts]) later.set(draft.id, draft);
      return {
        drafts: [...later.values()].sort((a, b) => b.at - a.at),
        damaged: one.damaged + other.damaged,
      };
    },
    async read(id) {
      const inSecond = await second.left().catch(() => undefined);
      return inSecond?.drafts.some((draft) => draft.id === id) ? second.read(id) : first.read(id);
    },
  };
}
