/** The server reaches the built pages and the one workbook, from this machine alone, and nothing else. */
import { once } from "node:events";
import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { request, type IncomingHttpHeaders, type Server } from "node:http";
import { request as secureRequest } from "node:https";
import { networkInterfaces, tmpdir } from "node:os";
import { join } from "node:path";
import { brotliDecompressSync, gunzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { WebSocket } from "ws";
import { ensurePages } from "../../scripts/build.mjs";
import { certificates } from "../../scripts/certificates";
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
function get(
  path: string,
  { host = address.host, method = "GET" } = {},
): Promise<{ status: number; text: string; headers: IncomingHttpHeaders }> {
  return new Promise((resolve, reject) => {
    const call = request(
      { hostname: address.hostname, port: address.port, path, method, headers: { host } },
      (answer) => {
        let text = "";
        answer.on("data", (chunk) => (text += chunk));
        answer.on("end", () => resolve({ status: answer.statusCode ?? 0, text, headers: answer.headers }));
      },
    );
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
  it.each([
    "/../package.json",
    "/%2e%2e/package.json",
    "/..%2fpackage.json",
    "/workbook/../secret.csv",
    "/secret.csv",
    "/.pages",
    "/cli.mjs",
    "/%00",
    "/%zz",
    "//etc/passwd",
    "/node_modules/jstat/package.json",
  ])("refuses %s", async (path) => {
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

describe("every answer", () => {
  it.each(["/", "/workbook", "/workbook-name", "/nothing", "/%zz", "/functions.json", "/drafts"])(
    "to %s says what the page may do",
    async (path) => {
      const { headers } = await get(path);
      expect(headers["x-content-type-options"]).toBe("nosniff");
      expect(headers["cross-origin-resource-policy"]).toBe("same-origin");
      expect(headers["content-security-policy"]).toContain("frame-ancestors 'none'");
      expect(headers["content-security-policy"]).toContain("script-src 'self';");
      expect(headers["content-security-policy"]).not.toContain("unsafe-eval");
    },
  );
});

describe("the add-in's server", () => {
  let secure: Awaited<ReturnType<typeof serve>>;
  beforeAll(async () => {
    const { cert, key } = await certificates();
    secure = await serve({ port: 0, certificate: { cert, key } });
  });
  afterAll(() => {
    secure.server.closeAllConnections();
    secure.server.close();
  });

  const ask = (
    path: string,
    {
      method = "GET",
      hostname = "127.0.0.1",
      ...headers
    }: Record<string, string> & { method?: string; hostname?: string } = {},
  ) =>
    new Promise<{ status: number; body: Buffer; headers: IncomingHttpHeaders }>((resolve, reject) =>
      secureRequest(
        {
          hostname,
          port: new URL(secure.address).port,
          path,
          method,
          headers: { host: "localhost", ...headers },
          rejectUnauthorized: false,
        },
        (answer) => {
          const parts: Buffer[] = [];
          answer.on("data", (part) => parts.push(part));
          answer.on("end", () =>
            resolve({ status: answer.statusCode ?? 0, body: Buffer.concat(parts), headers: answer.headers }),
          );
        },
      )
        .on("error", reject)
        .end(),
    );

  it("lets Excel frame it, and nobody else", async () => {
    const { headers } = await ask("/nothing");
    expect(headers["content-security-policy"]).toMatch(/frame-ancestors 'self' https:\/\/\*\.officeapps\.live\.com/);
    expect(headers["content-security-policy"]).not.toContain("unsafe-eval");
    expect(headers["cross-origin-resource-policy"]).toBe("cross-origin");
    expect(headers["x-content-type-options"]).toBe("nosniff");
  });

  it.each(["https://excel.officeapps.live.com", "https://hall.sharepoint.com", "https://excel.cloud.microsoft"])(
    "lets pages of %s read the list of functions, and says so before they ask",
    async (origin) => {
      const { status, headers, body } = await ask("/functions.json", { origin });
      expect([status, headers["access-control-allow-origin"], headers["vary"]]).toEqual([
        200,
        origin,
        "origin, accept-encoding",
      ]);
      expect(JSON.parse(body.toString()).functions.length).toBeGreaterThan(30);
      const before = await ask("/functions.json", {
        method: "OPTIONS",
        origin,
        "access-control-request-method": "GET",
        "access-control-request-headers": "x-requested-with",
        "access-control-request-private-network": "true",
      });
      expect(before.status).toBe(204);
      expect(before.headers).toMatchObject({
        "access-control-allow-origin": origin,
        "access-control-allow-methods": "GET, HEAD, OPTIONS",
        "access-control-allow-headers": "x-requested-with",
        "access-control-allow-private-network": "true",
      });
    },
  );

  it.each([
    "https://elsewhere.example",
    "https://officeapps.live.com.elsewhere.example",
    "https://notoffice.com",
    "http://excel.officeapps.live.com",
    "null",
  ])("gives pages of %s no leave", async (origin) => {
    for (const method of ["GET", "OPTIONS"]) {
      const { headers } = await ask("/functions.json", {
        method,
        origin,
        "access-control-request-private-network": "true",
      });
      expect(Object.keys(headers).filter((name) => name.startsWith("access-control"))).toEqual([]);
    }
  });

  // Some machines have no IPv6 at all.
  const loopback = Object.values(networkInterfaces())
    .flat()
    .flatMap((one) => (one?.internal && (one.address === "127.0.0.1" || one.address === "::1") ? [one.address] : []));
  it.each(loopback)("answers at %s", async (hostname) => {
    expect((await ask("/taskpane.html", { hostname, host: hostname === "::1" ? "[::1]" : hostname })).status).toBe(200);
  });

  it("gives every kind of file its type, packed as the browser takes it, and not again where nothing changed", async () => {
    const types = {
      "/taskpane.html": "text/html",
      "/functions.js": "text/javascript",
      "/functions.json": "application/json",
    };
    for (const [path, type] of Object.entries(types)) {
      const plain = await ask(path);
      expect([plain.headers["content-type"], plain.headers["content-encoding"]]).toEqual([
        `${type}; charset=utf-8`,
        undefined,
      ]);
      for (const [packing, unpack] of [
        ["gzip", gunzipSync],
        ["br", brotliDecompressSync],
      ] as const) {
        const packed = await ask(path, { "accept-encoding": packing });
        expect(packed.headers["content-encoding"]).toBe(packing);
        expect(unpack(packed.body).equals(plain.body)).toBe(true);
        expect(packed.headers["etag"]).not.toBe(plain.headers["etag"]);
        const again = await ask(path, { "accept-encoding": packing, "if-none-match": String(packed.headers["etag"]) });
        expect([again.status, again.body.length]).toEqual([304, 0]);
      }
      expect((await ask(path, { "accept-encoding": "br;q=0, gzip;q=0" })).headers["content-encoding"]).toBeUndefined();
      expect((await ask(path, { "if-none-match": '"another"' })).status).toBe(200);
    }
    const icon = await ask("/icon-32.png", { "accept-encoding": "br" });
    expect([icon.headers["content-type"], icon.headers["content-encoding"]]).toEqual(["image/png", undefined]);
  });
});

describe("the server outlives its workbook", () => {
  it("that turned into a folder, went, or cannot be read", async () => {
    const path = join(folder, "fleeting.csv");
    writeFileSync(path, "a,b\n");
    const other = await serve({ port: 0, workbook: path });
    const ask = async () => {
      const answer = await fetch(`${other.address}workbook`);
      return [answer.status, await answer.text()];
    };
    expect((await ask())[0]).toBe(200);
    rmSync(path);
    expect(await ask()).toEqual([404, `There is no file ${path}. Check the path and the spelling of the name.`]);
    mkdirSync(path);
    expect(await ask()).toEqual([404, `${path} is a folder, not a file. Give the path of a file in it.`]);
    expect((await fetch(other.address)).status).toBe(200);
    other.server.closeAllConnections();
    other.server.close();
  });
});

describe("files that the pane hands over", () => {
  const own = { "x-bendbook": "1" };
  const hand = (name: string, body = "<h1>Report</h1>", headers: Record<string, string> = own) =>
    fetch(new URL(`files/${name}`, address), { method: "POST", body, headers });

  it("are held for the browser under a name that nobody guesses, as what they are", async () => {
    const answer = await hand("my report.html");
    expect(answer.status).toBe(201);
    const place = await answer.text();
    expect(place).toMatch(/^files\/[0-9a-f]{32}\/my%20report\.html$/);
    const held = await fetch(new URL(place, address));
    expect([held.status, await held.text()]).toEqual([200, "<h1>Report</h1>"]);
    expect(held.headers.get("content-type")).toBe("text/html; charset=utf-8");
    expect(held.headers.get("content-security-policy")).toMatch(/^default-src 'none'/);
    expect(held.headers.get("content-disposition")).toBe("inline; filename*=UTF-8''my%20report.html");
    expect((await fetch(new URL(place.replace("my%20report", "other"), address))).status).toBe(404);
    expect((await fetch(new URL("files/0123/my%20report.html", address))).status).toBe(404);
  });

  it("come from the pane alone, of the kinds that it makes, and the oldest go", async () => {
    expect((await hand("report.html", "x", {})).status).toBe(403);
    expect((await hand("report.html", "x", { ...own, origin: "https://excel.officeapps.live.com" })).status).toBe(403);
    expect((await hand("report.exe")).status).toBe(400);
    const first = await (await hand("a.svg")).text();
    for (let i = 0; i < 8; i++) await hand("b.svg");
    expect((await fetch(new URL(first, address))).status).toBe(404);
  });
});

describe("drafts", () => {
  const id = "12345678-1234-4234-8234-123456789abc";
  let drafts: string;
  let kept: Awaited<ReturnType<typeof serve>>;
  beforeAll(async () => {
    drafts = join(folder, "drafts");
    kept = await serve({ port: 0, drafts });
  });
  afterAll(() => {
    kept.server.closeAllConnections();
    kept.server.close();
  });
  const here = () => new URL(kept.address).origin;
  const call = (path: string, method = "GET", body?: string, headers: Record<string, string> = { "x-bendbook": "1" }) =>
    fetch(`${kept.address}${path}`, { method, body, headers });

  it("are kept whole with the edits since, and offered once their page is gone", async () => {
    const page = new WebSocket(`${kept.address.replace("http", "ws")}drafts/${id}/live`, { origin: here() });
    await once(page, "open");
    await call(`drafts/${id}/book?name=log.csv&form=csv&changed=false`, "PUT", "a,b\n");
    await call(`drafts/${id}/edits`, "POST", JSON.stringify({ edit: 1 }));
    await call(`drafts/${id}/edits`, "POST", JSON.stringify({ edit: 2 }));
    expect(await (await call("drafts")).json()).toEqual({ drafts: [], damaged: 0 });
    page.terminate();
    await expect.poll(async () => (await (await call("drafts")).json()).drafts.length).toBe(1);
    expect((await (await call("drafts")).json()).drafts[0]).toMatchObject({
      id,
      name: "log.csv",
      form: "csv",
      copied: false,
    });
    expect(await (await call(`drafts/${id}/edits`)).text()).toBe('{"edit":1}\n{"edit":2}');
    await call(`drafts/${id}/book?name=log.csv&form=xlsx&changed=true&upTo=1`, "PUT", "whole");
    expect(await (await call(`drafts/${id}/book`)).text()).toBe("whole");
    expect(await (await call(`drafts/${id}/edits`)).text()).toBe('{"edit":2}');
    expect((await call(`drafts/${id}`, "DELETE")).status).toBe(204);
    expect(readdirSync(drafts)).toEqual([]);
  });

  it.each([
    ["another origin's", id, "https://elsewhere.example", undefined],
    ["a page's that came through another name", id, "http://elsewhere.example", "elsewhere.example"],
    ["none's", "..", undefined, undefined],
  ])("count as open by their own page alone, not by %s", async (_, name, origin, host) => {
    const page = new WebSocket(`${kept.address.replace("http", "ws")}drafts/${name}/live`, {
      origin: origin ?? here(),
      ...(host ? { headers: { host } } : {}),
    });
    await expect(once(page, "open")).rejects.toThrow();
    expect(readdirSync(drafts)).toEqual([]);
  });

  it("are written by the page alone, and nowhere but in their folder", async () => {
    expect((await call(`drafts/${id}/book`, "PUT", "x", {})).status).toBe(403);
    expect((await call(`drafts/${id}`, "DELETE", undefined, {})).status).toBe(403);
    for (const name of ["..%2f..%2fsecret", "secret", `${id}%2f..%2f..%2fsecret`])
      expect((await call(`drafts/${name}/book`, "PUT", "x")).status).toBe(404);
    expect((await call(`drafts/${id}/edits`, "POST", "no JSON")).status).toBe(400);
    expect(readdirSync(drafts)).toEqual([]);
    // A page of another origin has to ask first, and gets no leave.
    const asked = await fetch(`${kept.address}drafts/${id}/book`, {
      method: "OPTIONS",
      headers: {
        origin: "https://elsewhere.example",
        "access-control-request-method": "PUT",
        "access-control-request-headers": "x-bendbook",
      },
    });
    expect(asked.headers.get("access-control-allow-origin")).toBeNull();
  });
});

describe("the notices", () => {
  it("name every package that the pages carry, with the text of its licence, and stand beside the pages", async () => {
    const { status, text, headers } = await get("/notices.txt");
    expect(status).toBe(200);
    expect(headers["content-type"]).toBe("text/plain; charset=utf-8");
    for (const name of [
      "react 18.3.1",
      "@univerjs/core 0.25.1",
      "jstat 1.9.6",
      "jspdf ",
      "@fluentui/react-components ",
    ])
      expect(text).toContain(`\n${name}`);
    expect(text).toContain("Permission is hereby granted, free of charge");
    expect(text).toContain("Apache License");
    // The scripts carry no licence comments of their own, which would repeat these.
    expect((await get("/functions.js")).text).not.toMatch(/@license|@preserve/);
  });
});
