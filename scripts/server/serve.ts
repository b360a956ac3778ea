/**
 * Serves the built pages, one workbook and the page's drafts on this machine alone. Nothing else of the disk is
 * reached.
 */
import { readFileSync } from "node:fs";
import { createServer, type IncomingMessage, type RequestListener, type Server, type ServerResponse } from "node:http";
import { createServer as createSecureServer } from "node:https";
import type { AddressInfo } from "node:net";
import { basename, join } from "node:path";
import { explainFileError } from "../../src/workbook/file/package/fileErrors";
import { FileProblem } from "../../src/workbook/file/package/fileProblem";
import { root } from "../install.mjs";
import { DraftFolder } from "./draftFolder";
import { answerDrafts } from "./draftRequests";
import { GivenFiles } from "./givenFiles";
import { crossOriginHeaders, securityHeaders } from "./headers";
import { watchPages } from "./livePages";
import { ownHost } from "./ownHost";
import { PageFiles } from "./pageFiles";
import type { Reloads } from "./reloads";

const DIST = join(root, "dist");

export interface ServeOptions {
  /** Path of a workbook to offer to the page; the demonstration when missing. */
  readonly workbook?: string;
  /** Folder of the built pages; dist/ when missing. */
  readonly pages?: string;
  /** Changes what a page's file of that name says before it is given, such as a port in it. */
  readonly changes?: Readonly<Record<string, (text: string) => string>>;
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
  const folder = options.drafts === undefined ? undefined : new DraftFolder(options.drafts);
  const listener = answering(options, folder);
  const made = () =>
    certificate
      ? createSecureServer({ key: certificate.key, cert: certificate.cert }, listener)
      : createServer(listener);
  const server = made();
  if (folder) watchPages(server, folder);
  try {
    await listen(server, port, "127.0.0.1");
  } catch (problem) {
    if ((problem as NodeJS.ErrnoException).code !== "EADDRINUSE" || exactPort) throw problem;
    await listen(server, 0, "127.0.0.1");
  }
  if (certificate) await alsoOnSix(server, made());
  const name = certificate ? "localhost" : "127.0.0.1";
  return { server, address: `${certificate ? "https" : "http"}://${name}:${(server.address() as AddressInfo).port}/` };
}

function listen(server: Server, port: number, host: string): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, host, () => {
      server.off("error", reject);
      resolve();
    });
  });
}

/**
 * "localhost" is ::1 for some browsers and 127.0.0.1 for others: the same port answers at both, where this machine has
 * both. The second ends with the first.
 */
async function alsoOnSix(server: Server, six: Server): Promise<void> {
  try {
    await listen(six, (server.address() as AddressInfo).port, "::1");
  } catch (problem) {
    const { code } = problem as NodeJS.ErrnoException;
    if (code === "EADDRNOTAVAIL" || code === "EAFNOSUPPORT") return;
    server.close();
    throw problem;
  }
  server.on("close", () => {
    six.close();
    six.closeAllConnections();
  });
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
function answering(
  { workbook, pages = DIST, changes, page, certificate }: ServeOptions,
  drafts: DraftFolder | undefined,
): RequestListener {
  const served: Served = {
    workbook,
    // On this machine packing takes longer than it saves; Excel on the web may come from farther.
    files: new PageFiles(pages, certificate !== undefined, changes),
    page,
    drafts,
    given: new GivenFiles(),
    forExcel: certificate !== undefined,
  };
  return (request, response) => {
    const forExcel = certificate !== undefined || request.url?.startsWith("/taskpane.html") === true;
    const said = { ...securityHeaders(forExcel), ...(served.forExcel ? crossOriginHeaders(request) : {}) };
    for (const [name, value] of Object.entries(said)) response.setHeader(name, value);
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
  readonly files: PageFiles;
  readonly page: Reloads | undefined;
  readonly drafts: DraftFolder | undefined;
  readonly given: GivenFiles;
  /** Whether Excel, another origin, may ask. */
  readonly forExcel: boolean;
}

async function answer(
  request: IncomingMessage,
  response: ServerResponse,
  refuse: (status: number, text: string) => void,
  { workbook, files, page, drafts, given, forExcel }: Served,
): Promise<void> {
  if (!ownHost(request.headers.host)) return refuse(403, "This server answers to 127.0.0.1 and localhost only.");
  const url = addressOf(request);
  if (!url) return refuse(400, "The address cannot be read.");
  if (drafts && /^\/drafts(\/|$)/.test(url.pathname)) return answerDrafts(drafts, request, response, url, refuse);
  // A browser asks first whether a page from elsewhere may read here: the headers have said so.
  if (forExcel && request.method === "OPTIONS") return void response.writeHead(204).end();
  const path = decodeURIComponent(url.pathname);
  if (path.startsWith("/files/")) return given.answer(request, response, path, refuse);
  if (request.method !== "GET" && request.method !== "HEAD") return refuse(405, "Only reading is possible here.");
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
  const found = files.answer(path === "/" ? "/workbench.html" : path, request.headers);
  if (!found) return refuse(404, "There is nothing here.");
  const { vary = [] } = response.getHeaders();
  const varies = [vary, found.headers["vary"] ?? []].flat().join(", ");
  response
    .writeHead(found.status, { ...found.headers, ...(varies === "" ? {} : { vary: varies }) })
    .end(request.method === "HEAD" ? undefined : found.body);
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
