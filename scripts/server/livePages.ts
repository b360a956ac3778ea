/**
 * Who is there: /drafts/ID/live as a connection that lasts as long as the page of that draft. When the page dies, it
 * ends, and the draft counts as left. It is a WebSocket, for a browser opens six plain connections to a server at most,
 * over all its tabs, and with six workbooks open nothing else would get through.
 */
import type { Server } from "node:http";
import { WebSocketServer } from "ws";
import { DraftFolder } from "./draftFolder";
import { ownHost } from "./ownHost";

const KEEP_OPEN_MS = 20_000;

/** Notes in the folder which pages live. Pages of another origin are not heard. */
export function watchPages(server: Server, folder: DraftFolder): void {
  const pages = new WebSocketServer({ noServer: true, maxPayload: 0 });
  server.on("upgrade", (request, socket, head) => {
    const id = /^\/drafts\/([^/?]+)\/live$/.exec(request.url ?? "")?.[1];
    const { host, origin } = request.headers;
    if (!ownHost(host) || origin !== `http://${host}` || id === undefined || !DraftFolder.isId(id))
      return void socket.destroy();
    pages.handleUpgrade(request, socket, head, (page) => {
      const end = folder.live(id);
      const beat = setInterval(() => page.ping(), KEEP_OPEN_MS);
      page.on("error", () => page.terminate());
      page.on("close", () => {
        clearInterval(beat);
        end();
      });
    });
  });
  // The server's own way to end connections leaves out those that became something else.
  const closeOthers = server.closeAllConnections.bind(server);
  server.closeAllConnections = () => {
    closeOthers();
    for (const page of pages.clients) page.terminate();
  };
}
