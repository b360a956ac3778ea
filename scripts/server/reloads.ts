/** Tells pages under work to load themselves anew, over a connection that stays open. */
import type { ServerResponse } from "node:http";

export interface Reloads {
  /** Keeps the answer open until there is something to tell. */
  listen(response: ServerResponse): void;
  reload(): void;
}

export function reloads(): Reloads {
  const open = new Set<ServerResponse>();
  return {
    listen(response) {
      response.writeHead(200, { "content-type": "text/event-stream", "cache-control": "no-store" });
      response.write("\n");
      open.add(response);
      response.on("close", () => open.delete(response));
    },
    reload() {
      for (const response of open) response.write("data: reload\n\n");
    },
  };
}
