/**
 * Serves the built pages, one workbook and the page's drafts on this machine alone. Nothing else of the disk is
 * reached.
 */
import { readFileSync, statSync } from "node:fs";
import { createServer, type IncomingMessage, type RequestListener, type Server, type ServerResponse } from "node:http";
import { createServer as createSecureServer } from "node:https";
import type { AddressInfo } from "node:net";
import { basename, extname, join, normalize, sep } from "node:path";
import { explainFileError } from "../../src/workbook/file/package/fileErrors";
import { FileProblem } from "../../src/workbook/file/package/fileProblem";
import { root } from "../install.mjs";
import { DraftFolder } from "./draftFolder";
import { answerDrafts } from "./draftRequests";
import { securityHeaders } from "./headers";
import type { Reloads } from "./reloads";

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
const DIST = join(root, "dist");

export interface ServeOptions {
  /** Path of a workbook to offer to the page; the demonstration when missing. */
  readonly workbook?: string;
  /** Folder of the built pages; dist/ when missing. */
  readonly pages?: string;
  /** Pages that load themselves anew while one works on them. */
  readonly page?: Reloads;
  /** Folder of the page's drafts; without one the browser keeps them. */
  readonly drafts?: string;
  /** Wanted port; a free one is taken when it is in use. */
  readonly port: number;
  /** True: fail when the wanted port is in use. */
  readonly exactPort?: boolean;
  /** For https, which Excel asks for. */
  readonly certificate?: { readonly key: string | Buffer; readonly cert: string | Buffer };
}

/** Starts the server. @returns it and its address */
export async function serve(options: ServeOptions): Promise<{ server: Server; address: string }> {
  const { port, exactPort, certificate } = options;
  const listener = answering(options);
  const server = certificate
    ? createSecureServer({ key: certificate.key, cert: certificate.cert }, listener)
    : createServer(listener);
  const listen = (wanted: number) =>
    new Promise<void>((resolve, reject) => {
      server.once("error", reject);
      server.listen(wanted, "127.0.0.1", () => {
        server.off("error", reject);
        resolve();
      });
    });
  try {
    await listen(port);
  } catch (problem) {
    if ((problem as NodeJS.ErrnoException).code !== "EADDRINUSE" || exactPort) throw problem;
    await listen(0);
  }
  const name = certificate ? "localhost" : "127.0.0.1";
  return { server, address: `${certificate ? "https" : "http"}://${name}:${(server.address() as AddressInfo).port}/` };
}

/** Ends the server and the process cleanly on Ctrl-C. @param name what the last line says has stopped */
export function stopOnSignal(server: Server, name: string): void {
  const stop = () => {
    process.stdout.write(`\n${name} has stopped.\n`);
    server.close();
    server.closeAllConnections();
    process.exit(0);
  };
  process.on("SIGINT", stop);
  process.on("SIGTERM", stop);
}

/** What answers each request. Whatever goes wrong is an answer too: the server outlives it. */
function answering({ workbook, pages = DIST, page, drafts, certificate }: ServeOptions): RequestListener {
  const served: Served = { workbook, pages, page, drafts: drafts === undefined ? undefined : new DraftFolder(drafts) };
  return (request, response) => {
    const forExcel = certificate !== undefined || request.url?.startsWith("/taskpane.html") === true;
    for (const [name, value] of Object.entries(securityHeaders(forExcel))) response.setHeader(name, value);
    const refuse = (status: number, text: string) =>
      void response.writeHead(status, { "content-type": "text/plain; charset=utf-8" }).end(text);
    answer(request, response, refuse, served).catch((problem: unknown) => {
      const about = explainFileError(problem, workbook ?? "a file", "read");
      if (response.headersSent) response.destroy();
      else
        refuse(
          about instanceof FileProblem ? 404 : 500,
          about instanceof FileProblem ? about.message : "The request could not be answered.",
        );
    });
  };
}

interface Served {
  readonly workbook: string | undefined;
  readonly pages: string;
  readonly page: Reloads | undefined;
  readonly drafts: DraftFolder | undefined;
}

async function answer(
  request: IncomingMessage,
  response: ServerResponse,
  refuse: (status: number, text: string) => void,
  { workbook, pages, page, drafts }: Served,
): Promise<void> {
  // A page elsewhere must not reach the workbook through a name that it points at this machine.
  if (!/^(127\.0\.0\.1|localhost)(:\d+)?$/.test(request.headers.host ?? ""))
    return refuse(403, "This server answers to 127.0.0.1 and localhost only.");
  const url = addressOf(request);
  if (!url) return refuse(400, "The address cannot be read.");
  if (drafts && /^\/drafts(\/|$)/.test(url.pathname)) return answerDrafts(drafts, request, response, url, refuse);
  if (request.method !== "GET" && request.method !== "HEAD") return refuse(405, "Only reading is possible here.");
  const path = decodeURIComponent(url.pathname);
  const give = (content: string | Buffer, type: string, cache: string) =>
    void response
      .writeHead(200, { "content-type": type, "cache-control": cache, "content-length": Buffer.byteLength(content) })
      .end(request.method === "HEAD" ? undefined : content);
  if (page && path === "/reload") return page.listen(response);
  if (path === "/workbook-name")
    return workbook === undefined
      ? void response.writeHead(204).end()
      : give(basename(workbook), "text/plain; charset=utf-8", "no-store");
  if (path === "/workbook")
    return workbook === undefined
      ? refuse(404, "No workbook was named.")
      : give(readFileSync(workbook), "application/octet-stream", "no-store");
  const file = normalize(join(pages, path === "/" ? "workbench.html" : path));
  const inside = file.startsWith(pages + sep) && !basename(file).startsWith(".") && extname(file) in TYPES;
  if (!inside || !statSync(file, { throwIfNoEntry: false })?.isFile()) return refuse(404, "There is nothing here.");
  give(
    readFileSync(file),
    TYPES[extname(file)],
    /\.[0-9a-f]{8}\.(js|css)$/.test(file) ? "public, max-age=31536000, immutable" : "no-cache",
  );
}

/** The address that is asked for; undefined when it makes no sense. */
function addressOf(request: IncomingMessage): URL | undefined {
  try {
    const url = new URL(request.url ?? "/", "http://localhost");
    if (decodeURIComponent(url.pathname).includes("\0")) return undefined;
    return url;
  } catch {
    return undefined;
  }
}
