/** The server reaches the built pages and the one workbook, from this machine alone, and nothing else. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { request, type Server } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ensurePages } from "../../scripts/build.mjs";
import { serve } from "../../scripts/server/serve";

let folder: string;
let server: Server;
let address: URL;
beforeAll(async () => {
  ensurePages();
  folder = mkdtempSync(join(tmpdir(), "bendbook-serve-"));
  writeFileSync(join(folder, "my log.csv"), "a,b\n1,2\n");
  writeFileSync(join(folder, "secret.csv"), "x");
  const served = await serve({ port: 0, workbook: join(folder, "my log.csv") });
  server = served.server;
  address = new URL(served.address);
}, 240_000);
afterAll(() => {
  server.closeAllConnections();
  server.close();
  rmSync(folder, { recursive: true, force: true });
});

/** A request whose path is sent as it is. */
function get(path: string, { host = address.host, method = "GET" } = {}): Promise<{ status: number; text: string }> {
  return new Promise((resolve, reject) => {
    const call = request({ hostname: address.hostname, port: address.port, path, method, headers: { host } }, (answer) => {
      let text = "";
      answer.on("data", (chunk) => (text += chunk));
      answer.on("end", () => resolve({ status: answer.statusCode ?? 0, text }));
    });
    call.on("error", reject);
    call.end();
  });
}

describe("the server", () => {
  it("listens on this machine alone", () => expect(address.hostname).toBe("127.0.0.1"));
  it("gives the page and the workbook that was named", async () => {
    expect((await get("/")).text).toContain("<title>Bendbook</title>");
    expect((await get("/workbook-name")).text).toBe("my log.csv");
    expect((await get("/workbook")).text).toBe("a,b\n1,2\n");
  });
  it.each(["/../package.json", "/%2e%2e/package.json", "/..%2fpackage.json", "/workbook/../secret.csv", "/secret.csv", "/.pages", "/cli.mjs", "/%00", "/%zz", "//etc/passwd", "/node_modules/jstat/package.json"])("refuses %s", async (path) => {
    expect([400, 404]).toContain((await get(path)).status);
  });
  it("refuses other names for this machine and anything but reading", async () => {
    expect((await get("/", { host: "elsewhere.example" })).status).toBe(403);
    expect((await get("/workbook", { method: "PUT" })).status).toBe(405);
  });
  it("takes a free port when the wanted one is in use", async () => {
    const other = await serve({ port: Number(address.port) });
    expect(new URL(other.address).port).not.toBe(address.port);
    other.server.close();
    await expect(serve({ port: Number(address.port), exactPort: true })).rejects.toThrow("EADDRINUSE");
  });
});
