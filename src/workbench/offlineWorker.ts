/**
 * The service worker of a page that stands on a web server of files (npm run excel -- --origin … --out …): it keeps the
 * files of one version in the browser, so that the page opens and computes without a connection. The command writes the
 * list of files and their digests into it.
 *
 * A version is kept whole or not at all: a file that is missing, or is not the one of the list, as while a new version
 * is being copied to the server, leaves the old version as it is. A new one waits until the page asks for it, because
 * pages that are open go on with their own.
 */

/** Names, relative to the worker, and digests as a browser's `integrity` takes them; put in when the folder is made. */
declare const FILES: Readonly<Record<string, string>>;
/** Names this version: the same files, the same name. */
declare const VERSION: string;

interface Lasting {
  waitUntil(work: Promise<unknown>): void;
}
interface Asked {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
/** What is used of a service worker's surroundings; the types of a page lack them. */
interface WorkerScope {
  readonly registration: ServiceWorkerRegistration;
  readonly clients: { claim(): Promise<void> };
  skipWaiting(): Promise<void>;
  addEventListener(kind: "install" | "activate", listener: (event: Lasting) => void): void;
  addEventListener(kind: "fetch", listener: (event: Asked) => void): void;
  addEventListener(kind: "message", listener: (event: MessageEvent) => void): void;
}

const worker = self as unknown as WorkerScope;
const { scope } = worker.registration;
/** Another folder of the same server may hold another Bendbook. */
const OURS = `bendbook ${scope} `;
const NAME = OURS + VERSION;
/** A name that its content made. */
const HASHED = /\.[0-9a-f]{8}\.(js|css)$/;

/** The file that an address asks for; undefined where it is none of this version's. */
function fileAt(address: string): string | undefined {
  const url = address.replace(/[?#].*$/, "");
  if (!url.startsWith(scope)) return undefined;
  const name = decodeURIComponent(url.slice(scope.length)) || "index.html";
  return Object.hasOwn(FILES, name) ? name : undefined;
}

async function keepAll(): Promise<void> {
  const cache = await caches.open(NAME);
  await Promise.all(
    Object.entries(FILES).map(async ([name, integrity]) => {
      const address = new URL(name, scope).href;
      const known = HASHED.test(name) ? await caches.match(address) : undefined;
      const file = known ?? (await fetch(address, { integrity, cache: "no-cache" }));
      if (!file.ok) throw new Error(`${name}: ${file.status}`);
      // A browser opens no page from an answer that was redirected, as from index.html to the folder.
      await cache.put(address, file.redirected ? new Response(await file.blob(), { headers: file.headers }) : file);
    }),
  );
}

/** Pages of the version before may still be open and ask for a view: its files stay until the next version. */
async function dropOld(): Promise<void> {
  const ours = (await caches.keys()).filter((name) => name.startsWith(OURS) && name !== NAME);
  for (const name of ours.slice(0, -1)) await caches.delete(name);
}

/** Ends what still comes from the server, however long that takes: before, this version could not go. */
let letGo = new AbortController();
const fromServer = (request: Request) => fetch(request, { signal: letGo.signal });

async function kept(request: Request, name: string): Promise<Response> {
  const address = new URL(name, scope).href;
  const found = (await (await caches.open(NAME)).match(address)) ?? (await caches.match(address));
  return found ?? fromServer(request);
}

worker.addEventListener("install", (event) =>
  event.waitUntil(
    keepAll().catch(async (problem: unknown) => {
      await caches.delete(NAME);
      throw problem;
    }),
  ),
);
worker.addEventListener("activate", (event) => event.waitUntil(dropOld().then(() => worker.clients.claim())));
worker.addEventListener("message", ({ data }) => {
  if (data === "take over") void worker.skipWaiting();
  if (data === "let go") {
    letGo.abort();
    letGo = new AbortController();
  }
});
worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const name = request.method === "GET" ? fileAt(request.url) : undefined;
  // A file of the version before, for a page that still runs it, has a name of its own.
  if (name !== undefined) event.respondWith(kept(request, name));
  else if (HASHED.test(request.url) && request.url.startsWith(scope))
    event.respondWith(caches.match(request.url).then((found) => found ?? fromServer(request)));
});
