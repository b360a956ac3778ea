/** Serves the built pages and one workbook on this machine alone. Nothing outside dist/ and that workbook is reached. */
import { createReadStream, existsSync, readFileSync, statSync } from "node:fs";
import { createServer, type IncomingMessage, type RequestListener, type Server, type ServerResponse } from "node:http";
import { createServer as createSecureServer } from "node:https";
import type { AddressInfo } from "node:net";
import { basename, extname, join, normalize, sep } from "node:path";
import { root } from "./install.mjs";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".xml": "application/xml; charset=utf-8",
  ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
};
const DIST = join(root, "dist");

export interface ServeOptions {
  /** Path of a workbook to offer to the page; the demonstration when missing. */
  readonly workbook?: string;
  /** Wanted port; a free one is taken when it is in use. */
  readonly port: number;
  /** True: fail when the wanted port is in use. */
  readonly exactPort?: boolean;
  /** For https. */
  readonly certificate?: { readonly key: string | Buffer; readonly cert: string | Buffer };
}

/** Starts the server. @returns it and its address */
export async function serve({ workbook, port, exactPort, certificate }: ServeOptions): Promise<{ server: Server; address: string }> {
  const listener: RequestListener = (request, response) => answer(request, response, workbook);
  const server = certificate ? createSecureServer({ key: certificate.key, cert: certificate.cert }, listener) : createServer(listener);
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

function answer(request: IncomingMessage, response: ServerResponse, workbook: string | undefined): void {
  const refuse = (status: number, text: string) => response.writeHead(status, { "content-type": "text/plain; charset=utf-8" }).end(text);
  // A page elsewhere must not reach the workbook through a name that it points at this machine.
  if (!/^(127\.0\.0\.1|localhost)(:\d+)?$/.test(request.headers.host ?? "")) return void refuse(403, "This server answers to 127.0.0.1 and localhost only.");
  if (request.method !== "GET" && request.method !== "HEAD") return void refuse(405, "Only reading is possible here.");
  let path: string;
  try {
    path = decodeURIComponent(new URL(request.url ?? "/", "http://localhost").pathname);
  } catch {
    return void refuse(400, "The address cannot be read.");
  }
  if (path === "/workbook-name") return void (workbook === undefined ? response.writeHead(204).end() : response.writeHead(200, { "content-type": "text/plain; charset=utf-8" }).end(basename(workbook)));
  if (path === "/workbook") {
    if (workbook === undefined || !existsSync(workbook)) return void refuse(404, "The workbook is not there.");
    return void response.writeHead(200, { "content-type": "application/octet-stream", "cache-control": "no-store" }).end(readFileSync(workbook));
  }
  const file = normalize(join(DIST, path === "/" ? "workbench.html" : path));
  const inside = file.startsWith(DIST + sep) && !basename(file).startsWith(".") && extname(file) in TYPES;
  if (!inside || !existsSync(file) || !statSync(file).isFile()) return void refuse(404, "There is nothing here.");
  response.writeHead(200, {
    "content-type": TYPES[extname(file)],
    "cache-control": /\.[0-9a-f]{8}\.(js|css)$/.test(file) ? "public, max-age=31536000, immutable" : "no-cache",
    "x-content-type-options": "nosniff",
  });
  if (request.method === "HEAD") response.end();
  else createReadStream(file).pipe(response);
}
