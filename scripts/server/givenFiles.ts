/**
 * Files that the pane made and Excel does not save: the pane hands one over and sends the user's browser to where it is
 * held, in memory and for a while.
 *
 *     POST /files/NAME      answers 201 and where it is held
 *     GET  /files/ID/NAME
 */
import { randomBytes } from "node:crypto";
import type { IncomingMessage, ServerResponse } from "node:http";
import { extname } from "node:path";
import { bodyOf } from "./body";

/** The largest file that is held, in bytes, how many, and how long, in ms. */
const LARGEST = 64 * 1024 * 1024;
const MOST = 8;
const HELD_FOR = 600_000;

/** What the pane makes. A document of the pane's needs nothing but its own styles and pictures. */
const TYPES: Readonly<Record<string, string>> = {
  ".pdf": "application/pdf",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".html": "text/html; charset=utf-8",
};
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'";

interface Held {
  readonly name: string;
  readonly content: Buffer;
  readonly since: number;
}

export class GivenFiles {
  private readonly held = new Map<string, Held>();

  /** Answers a request below /files. */
  async answer(
    request: IncomingMessage,
    response: ServerResponse,
    path: string,
    refuse: (status: number, text: string) => void,
  ): Promise<void> {
    this.forget();
    const [, , first = "", second] = path.split("/");
    if (request.method === "POST") {
      if (!isOwn(request)) return refuse(403, "Only Bendbook's own pane may hand over files.");
      if (second !== undefined || TYPES[extname(first)] === undefined)
        return refuse(400, "That is no file of the pane's.");
      const id = randomBytes(16).toString("hex");
      this.held.set(id, { name: first, content: await bodyOf(request, LARGEST), since: Date.now() });
      return void response
        .writeHead(201, { "content-type": "text/plain; charset=utf-8", "cache-control": "no-store" })
        .end(`files/${id}/${encodeURIComponent(first)}`);
    }
    if (request.method !== "GET" && request.method !== "HEAD") return refuse(405, "Only reading is possible here.");
    const file = this.held.get(first);
    if (!file || file.name !== second) return refuse(404, "This file is held no more: save it from the pane again.");
    const type = TYPES[extname(file.name)] ?? "";
    // A browser's viewer of PDF is a plug-in, which any policy here would keep out.
    if (type === "application/pdf") response.removeHeader("content-security-policy");
    else response.setHeader("content-security-policy", POLICY);
    response
      .writeHead(200, {
        "content-type": type,
        "content-length": file.content.length,
        "cache-control": "no-store",
        "content-disposition": `inline; filename*=UTF-8''${encodeURIComponent(file.name)}`,
      })
      .end(request.method === "HEAD" ? undefined : file.content);
  }

  private forget(): void {
    const ids = [...this.held.keys()];
    for (const [i, id] of ids.entries()) {
      const { since = 0 } = this.held.get(id) ?? {};
      if (i < ids.length - MOST + 1 || Date.now() - since > HELD_FOR) this.held.delete(id);
    }
  }
}

/** A page of another origin, Excel's among them, cannot send the header without asking, and says where it is from. */
function isOwn({ headers }: IncomingMessage): boolean {
  if (headers["x-bendbook"] === undefined) return false;
  const { origin } = headers;
  return origin === undefined || (URL.canParse(origin) && new URL(origin).host === headers.host);
}
