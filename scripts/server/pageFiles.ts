/** The files of the built pages, as a browser asks for them: type, age, tag, and packed for the way over a network. */
import { createHash } from "node:crypto";
import { readFileSync, statSync } from "node:fs";
import type { IncomingHttpHeaders } from "node:http";
import { basename, extname, join, normalize, sep } from "node:path";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".txt": "text/plain; charset=utf-8",
  ".xml": "application/xml; charset=utf-8",
  ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
};
/** What is packed already. */
const PACKED: ReadonlySet<string> = new Set([".png", ".xlsx"]);
/** A name that its content made: it never changes. */
const HASHED = /\.[0-9a-f]{8}\.(js|css)$/;

export interface FileAnswer {
  readonly status: 200 | 304;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: Buffer | undefined;
}

type Packing = "br" | "gzip" | "identity";

interface Kept {
  readonly changed: number;
  readonly tag: string;
  readonly forms: Map<Packing, Buffer>;
}

/** The files below one folder. They are packed where `packs` says so, once for each change of a file. */
export class PageFiles {
  private readonly kept = new Map<string, Kept>();

  constructor(
    private readonly folder: string,
    private readonly packs: boolean,
    /** Changes what a file of that name says before it is given. */
    private readonly changes: Readonly<Record<string, (text: string) => string>> = {},
  ) {}

  /** @param path of the address, decoded @returns undefined where there is no such file, or it is not for giving */
  answer(path: string, asked: IncomingHttpHeaders): FileAnswer | undefined {
    const file = normalize(join(this.folder, path));
    const extension = extname(file);
    const type = TYPES[extension];
    const inside = file.startsWith(this.folder + sep) && !basename(file).startsWith(".");
    const stat = inside && type !== undefined ? statSync(file, { throwIfNoEntry: false }) : undefined;
    if (type === undefined || !stat?.isFile()) return undefined;
    const kept = this.read(file, stat.mtimeMs);
    const packing = this.packs && !PACKED.has(extension) ? packingFor(asked["accept-encoding"]) : "identity";
    // A packed form is another form: its tag says so.
    const etag = `"${kept.tag}${packing === "identity" ? "" : `-${packing}`}"`;
    const headers = {
      "content-type": type,
      "cache-control": HASHED.test(file) ? "public, max-age=31536000, immutable" : "no-cache",
      etag,
      ...(this.packs && !PACKED.has(extension) ? { vary: "accept-encoding" } : {}),
    };
    if (namesTag(asked["if-none-match"], etag)) return { status: 304, headers, body: undefined };
    const body = packed(kept, packing);
    return {
      status: 200,
      headers: {
        ...headers,
        "content-length": String(body.length),
        ...(packing === "identity" ? {} : { "content-encoding": packing }),
      },
      body,
    };
  }

  private read(file: string, changed: number): Kept {
    const known = this.kept.get(file);
    if (known?.changed === changed) return known;
    const change = this.changes[basename(file)];
    const content = change ? Buffer.from(change(readFileSync(file, "utf8"))) : readFileSync(file);
    const tag = createHash("sha256").update(content).digest("base64url").slice(0, 22);
    const made = { changed, tag, forms: new Map<Packing, Buffer>([["identity", content]]) };
    this.kept.set(file, made);
    return made;
  }
}

/** The best packing that the other side takes; one with a weight of 0 it does not. */
function packingFor(accepts: string | string[] | undefined): Packing {
  const taken = new Set(
    String(accepts ?? "")
      .split(",")
      .map((part) => part.trim().toLowerCase())
      .filter((part) => part !== "" && !/;\s*q=0(\.0*)?$/.test(part))
      .map((part) => part.replace(/;.*/, "").trim()),
  );
  return taken.has("br") ? "br" : taken.has("gzip") ? "gzip" : "identity";
}

function namesTag(asked: string | undefined, etag: string): boolean {
  if (asked === undefined) return false;
  const tags = asked.split(",").map((tag) => tag.trim().replace(/^W\//, ""));
  return tags.includes("*") || tags.includes(etag);
}

function packed({ forms }: Kept, packing: Packing): Buffer {
  const known = forms.get(packing);
  if (known) return known;
  const plain = forms.get("identity") ?? Buffer.alloc(0);
  const made =
    packing === "br" ? brotliCompressSync(plain, { params: { [constants.BROTLI_PARAM_QUALITY]: 5 } }) : gzipSync(plain);
  forms.set(packing, made);
  return made;
}
