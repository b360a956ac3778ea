/**
 * What a page of this server may ask of its drafts:
 *
 *     GET    /drafts             what pages that are gone left: {"drafts": [{"id", "name", …}], "damaged": how many}
 *     GET    /drafts/ID/book     the workbook as last kept whole
 *     GET    /drafts/ID/edits    what was changed since, a line of JSON each
 *     PUT    /drafts/ID/book     keeps the workbook whole; ?upTo=N drops the edits up to N
 *     POST   /drafts/ID/edits    adds an edit
 *     DELETE /drafts/ID
 *
 * Writing needs the header x-bendbook, which a page of another origin cannot send without asking first, and nobody
 * answers that.
 */
import type { IncomingMessage, ServerResponse } from "node:http";
import { bodyOf } from "./body";
import { DraftFolder } from "./draftFolder";

/** The largest workbook that is kept, in bytes. */
const LARGEST = 512 * 1024 * 1024;

export type Refuse = (status: number, text: string) => void;

/** Answers a request below /drafts. @throws what the disk throws */
export async function answerDrafts(
  folder: DraftFolder,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
  refuse: Refuse,
): Promise<void> {
  const [, , id, what] = url.pathname.split("/");
  const method = request.method === "HEAD" ? "GET" : (request.method ?? "");
  if (method !== "GET" && request.headers["x-bendbook"] === undefined)
    return refuse(403, "Only Bendbook's own page may keep drafts here.");
  const done = () => response.writeHead(204).end();
  const give = (type: string, content: string | Uint8Array) =>
    void response.writeHead(200, { "content-type": type, "cache-control": "no-store" }).end(content);
  if (id === undefined || id === "")
    return method === "GET"
      ? give("application/json; charset=utf-8", JSON.stringify(folder.left()))
      : refuse(405, "Drafts are kept one by one.");
  if (!DraftFolder.isId(id)) return refuse(404, "There is no such draft.");
  switch (`${method} ${what ?? ""}`) {
    case "GET book": {
      const book = folder.book(id);
      return book ? give("application/octet-stream", book) : refuse(404, "There is no such draft.");
    }
    case "GET edits":
      return give("text/plain; charset=utf-8", folder.lines(id).join("\n"));
    case "PUT book": {
      const { searchParams: asked } = url;
      const note = {
        name: asked.get("name") ?? "workbook",
        form: asked.get("form") === "csv" ? ("csv" as const) : ("xlsx" as const),
        changed: asked.get("changed") === "true",
        copied: asked.get("copied") === "true",
      };
      folder.keep(id, note, await bodyOf(request, LARGEST), Number(asked.get("upTo") ?? 0));
      return void done();
    }
    case "POST edits":
      return folder.edit(id, (await bodyOf(request, LARGEST)).toString("utf8"))
        ? void done()
        : refuse(400, "That is no edit.");
    case "DELETE ":
      folder.remove(id);
      return void done();
    default:
      return refuse(405, "That cannot be done with a draft.");
  }
}
