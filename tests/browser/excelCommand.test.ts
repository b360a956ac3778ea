/** npm run excel as a person runs it; beside the browser tests because it too needs the built pages. */
import { spawn, type ChildProcess } from "node:child_process";
import { readFileSync } from "node:fs";
import { get } from "node:https";
import { createServer, type AddressInfo } from "node:net";
import { join } from "node:path";
import { afterEach, beforeAll, describe, expect, it } from "vitest";
import { ensurePages } from "../../scripts/build.mjs";
import { root } from "../../scripts/install.mjs";
import { manifestPort } from "../../scripts/manifest";

interface Run {
  readonly child: ChildProcess;
  readonly said: () => string;
  /** Resolves with the exit code. */
  readonly ended: Promise<number | null>;
}
const running: Run[] = [];

function excel(...options: string[]): Run {
  const child = spawn(process.execPath, [join(root, "scripts", "run.mjs"), "excel", ...options], { cwd: root });
  let text = "";
  child.stdout.on("data", (part) => (text += part));
  child.stderr.on("data", (part) => (text += part));
  const run: Run = { child, said: () => text, ended: new Promise((done) => child.on("exit", done)) };
  running.push(run);
  return run;
}

/** A port that nothing uses at this moment. */
const freePort = () =>
  new Promise<number>((done) => {
    const server = createServer().listen(0, "127.0.0.1", () => {
      const { port } = server.address() as AddressInfo;
      server.close(() => done(port));
    });
  });

const fetchSecure = (url: string, ca: Buffer) =>
  new Promise<{ status?: number; type?: string; text: string }>((done, fail) => {
    get(url, { ca }, (response) => {
      let text = "";
      response.setEncoding("utf8").on("data", (part: string) => (text += part));
      response.on("end", () => done({ status: response.statusCode, type: response.headers["content-type"], text }));
    }).on("error", fail);
  });

beforeAll(() => ensurePages());
afterEach(async () => {
  for (const { child, ended } of running.splice(0)) {
    child.kill("SIGKILL");
    await ended;
  }
});

describe("npm run excel", () => {
  it("serves over https with the certificate it names, at a port that is asked for, and ends at Ctrl-C", async () => {
    const port = await freePort();
    const run = excel("--port", String(port));
    await expect.poll(run.said, { timeout: 60_000 }).toContain("Ctrl-C ends it.");
    const authority = /certificate: +(.*)/.exec(run.said())![1];
    const manifest = /manifest: +(.*)/.exec(run.said())![1];
    expect(manifest).toBe(join(root, "dist", "manifest.xml"));
    expect(manifestPort(readFileSync(manifest, "utf8"))).toBe(port);
    const ca = readFileSync(authority);
    expect(await fetchSecure(`https://localhost:${port}/taskpane.html`, ca)).toMatchObject({
      status: 200,
      type: "text/html; charset=utf-8",
    });
    const list = await fetchSecure(`https://127.0.0.1:${port}/functions.json`, ca);
    expect(list).toMatchObject({ status: 200, type: "application/json; charset=utf-8" });
    // The help is at the port, too.
    expect(list.text).toContain(`"https://localhost:${port}/functions.html#BANK.BEND"`);
    expect(list.text).not.toContain(":3443");
    expect((await fetchSecure(`https://localhost:${port}/..%2f.cache/certificates/localhost.key`, ca)).status).toBe(
      404,
    );

    const second = excel("--port", String(port));
    expect(await second.ended).toBe(1);
    expect(second.said()).toContain(
      `Port ${port} is in use. End what uses it, or choose another: npm run excel -- --port ${port + 1}`,
    );

    run.child.kill("SIGINT");
    // Windows knows no signals: the process simply ends there.
    if (process.platform !== "win32") {
      expect(await run.ended).toBe(0);
      expect(run.said()).toContain("Bendbook for Excel has stopped.");
    }
  });

  it.each([["--port", "34x"], ["--port", "0"], ["--port", "70000"], ["--port=3.5"], ["--port"]])(
    "refuses %s %s with the mend",
    async (...options) => {
      const run = excel(...options);
      expect(await run.ended).toBe(1);
      expect(run.said()).toMatch(
        /^Error: --port is ".*": give a whole number from 1 to 65535, such as --port 3444\.\s*$/,
      );
    },
  );
});
