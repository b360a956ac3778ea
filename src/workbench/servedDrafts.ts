/** Drafts kept by the server that gave the page, on this machine: they are found again from any port. */
import type { DraftNote, DraftStore, LeftDraft } from "./drafts";

/** The browser sends so many bytes on even when the page dies; more it does not take that way. */
const OUTLIVES = 60_000;
const OURS = { "x-bendbook": "1" };

/** The store; undefined where the server keeps no drafts, such as one that only has files. */
export async function servedDrafts(): Promise<DraftStore | undefined> {
  const there = await fetch("drafts").then(
    (answer) => answer.ok && /json/.test(answer.headers.get("content-type") ?? ""),
    () => false,
  );
  if (!there) return undefined;
  const lives = new Map<string, WebSocket>();
  return {
    live(id) {
      // Its end tells the server that the page is gone.
      const address = new URL(`drafts/${id}/live`, document.baseURI);
      address.protocol = address.protocol.replace("http", "ws");
      lives.set(id, new WebSocket(address));
    },
    keep: (id, { name, form, changed, copied }: DraftNote, bytes, upTo) =>
      send(
        `drafts/${id}/book?${new URLSearchParams({ name, form, changed: String(changed), copied: String(copied), upTo: String(upTo) })}`,
        "PUT",
        // Bytes as they are would be copied amid the page's work.
        new Blob([bytes as BlobPart]),
      ),
    edit: (id, _number, line) => send(`drafts/${id}/edits`, "POST", line),
    async remove(id) {
      lives.get(id)?.close();
      lives.delete(id);
      await send(`drafts/${id}`, "DELETE");
    },
    left: async () => (await ask("drafts")).json() as Promise<{ drafts: LeftDraft[]; damaged: number }>,
    async read(id) {
      const [book, edits] = await Promise.all([ask(`drafts/${id}/book`), ask(`drafts/${id}/edits`)]);
      return {
        bytes: new Uint8Array(await book.arrayBuffer()),
        lines: (await edits.text()).split("\n").filter((line) => line !== ""),
      };
    },
  };
}

async function ask(address: string): Promise<Response> {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(await answer.text());
  return answer;
}

async function send(address: string, method: string, body?: string | Blob): Promise<void> {
  const keepalive = typeof body === "string" && body.length < OUTLIVES;
  const answer = await fetch(address, { method, headers: OURS, keepalive, ...(body !== undefined && { body }) }).catch(
    () => {
      throw new Error("Bendbook's server does not answer; start it again.");
    },
  );
  if (!answer.ok) throw new Error(await answer.text());
}
