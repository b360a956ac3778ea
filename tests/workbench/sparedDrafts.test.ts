/** Drafts while the server comes and goes: whatever was kept is there again, in order and once. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { COPIED_FOR, BookDraft, type DraftStore } from "../../src/workbench/drafts";
import { sparedDrafts } from "../../src/workbench/sparedDrafts";

/** A store in memory that can be away. */
function memory() {
  const drafts = new Map<string, { note: object; bytes: Uint8Array; edits: Map<number, string> }>();
  const place = { away: false };
  const here = async () => {
    if (place.away) throw new Error("away");
  };
  const store: DraftStore = {
    live: () => undefined,
    async keep(id, note, bytes, upTo) {
      await here();
      const edits = [...(drafts.get(id)?.edits ?? [])].filter(([number]) => number > upTo);
      drafts.set(id, { note, bytes, edits: new Map(edits) });
    },
    async edit(id, number, line) {
      await here();
      const draft = drafts.get(id);
      if (!draft) throw new Error("there is no such draft");
      draft.edits.set(number, line);
    },
    async remove(id) {
      await here();
      drafts.delete(id);
    },
    async left() {
      await here();
      const left = [...drafts].map(([id]) => ({
        id,
        at: COPIED_FOR,
        name: "log.xlsx",
        form: "xlsx" as const,
        changed: true,
        copied: false,
      }));
      return { drafts: left, damaged: 0 };
    },
    async read(id) {
      await here();
      const draft = drafts.get(id)!;
      const edits = [...draft.edits].sort(([one], [other]) => one - other);
      return { bytes: draft.bytes, lines: edits.map(([, line]) => line) };
    },
  };
  return { store, place, drafts };
}

describe("drafts with a second place", () => {
  it("have every edit that was made since the last whole copy, however often the first place was away", async () => {
    const act = fc.constantFrom("edit" as const, "keep" as const, "away" as const, "back" as const);
    await fc.assert(
      fc.asyncProperty(fc.array(act, { maxLength: 30 }), async (acts) => {
        const [first, second] = [memory(), memory()];
        const spared = sparedDrafts(first.store, second.store, () => undefined);
        const failures: unknown[] = [];
        const draft = new BookDraft(
          spared,
          (problem) => failures.push(problem),
          "log.xlsx",
          "xlsx",
          Uint8Array.of(0),
          false,
        );
        await draft.keep(Uint8Array.of(0), 0);
        let kept = 0;
        for (const one of acts) {
          if (one === "edit") draft.edit({ said: draft.edits + 1 });
          else if (one === "keep") {
            kept = draft.edits;
            await draft.keep(Uint8Array.of(kept), kept);
          } else first.place.away = one === "away";
          await new Promise((resolve) => setTimeout(resolve));
        }
        first.place.away = false;
        const { drafts } = await spared.left();
        expect(drafts.map(({ id }) => id)).toEqual([draft.id]);
        const { bytes, lines } = await spared.read(draft.id);
        expect(bytes[0]).toBe(kept);
        const numbers = lines.map((line) => (JSON.parse(line) as { said: number }).said);
        expect(numbers).toEqual(Array.from({ length: draft.edits - kept }, (_, i) => kept + 1 + i));
        expect(failures).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it("say once that the first place is away, once that it is back, and then leave the second", async () => {
    const [first, second] = [memory(), memory()];
    const told: boolean[] = [];
    const spared = sparedDrafts(first.store, second.store, (away) => told.push(away));
    const note = { name: "log.xlsx", form: "xlsx" as const, changed: true, copied: false };
    await spared.keep("a", note, Uint8Array.of(1), 0);
    expect(second.drafts.size).toBe(0);
    first.place.away = true;
    await spared.edit("a", 1, "{}");
    await spared.edit("a", 2, "{}");
    expect([told, second.drafts.get("a")?.edits.size]).toEqual([[true], 2]);
    first.place.away = false;
    await spared.keep("a", note, Uint8Array.of(2), 2);
    expect([told, second.drafts.size, first.drafts.get("a")?.bytes[0]]).toEqual([[true, false], 0, 2]);
  });

  it("fail where neither place takes them", async () => {
    const [first, second] = [memory(), memory()];
    const spared = sparedDrafts(first.store, second.store, () => undefined);
    const note = { name: "log.xlsx", form: "xlsx" as const, changed: true, copied: false };
    await spared.keep("a", note, Uint8Array.of(1), 0);
    first.place.away = second.place.away = true;
    await expect(spared.edit("a", 1, "{}")).rejects.toThrow("away");
    second.place.away = false;
    await spared.edit("a", 2, "{}");
    expect(second.drafts.get("a")?.edits.size).toBe(2);
  });
});
