/** Tries what a release is made of, each from an empty folder, as those who get it will. */
import { spawnSync } from "node:child_process";
import { createServer } from "node:http";
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, extname, join, normalize } from "node:path";
import type { AddressInfo } from "node:net";
import { root } from "../install.mjs";
import { startBrowser } from "../../tests/browser/browser";
import { unzipInto } from "./zipFolder";

/** Lets `try_` work in a folder of its own, which is taken away afterwards. */
async function inEmptyFolder(try_: (folder: string) => Promise<void> | void): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "bendbook-smoke-"));
  try {
    await try_(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The command line by `npx` from its tarball: without the network, and with a cache of its own. */
export function tryCommandLine(tarball: string): Promise<void> {
  return inEmptyFolder((folder) => {
    const npx = (...args: string[]) => {
      const { status, stdout, stderr } = spawnSync(
        "npx",
        ["--yes", "--offline", `--package=${tarball}`, "bendbook", ...args],
        {
          cwd: folder,
          encoding: "utf8",
          env: { ...process.env, npm_config_cache: join(folder, ".npm") },
          shell: process.platform === "win32",
        },
      );
      if (status !== 0) throw new Error(`bendbook ${args.join(" ")} ended with ${status}: ${stderr || stdout}`);
      return stdout;
    };
    const [plain, engine] = JSON.parse(npx("evaluate", "BANK.BEND(1/8)", "SUM(BANK.BEND({1,0.5}))", "--json"));
    if (plain?.value !== 1 || engine?.value !== 0.75) throw new Error("evaluate gives other values than it should");
    cpSync(join(root, "sample-workbooks", "demonstration.xlsx"), join(folder, "log.xlsx"));
    const found = JSON.parse(
      npx("regress", "log.xlsx", "--response", "Bend (in)", "--driver", "Humidity (%)", "--json"),
    );
    if (found.rowsUsed !== 239) throw new Error(`regress used ${found.rowsUsed} rows of the demonstration, not 239`);
  });
}

const KINDS: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css",
  ".json": "application/json",
  ".png": "image/png",
  ".svg": "image/svg+xml",
};

/** The static site, given out by nothing but a server of files, opened in a browser up to the panel's answer. */
export function trySite(archive: string): Promise<void> {
  return inEmptyFolder(async (folder) => {
    unzipInto(archive, folder);
    const site = join(folder, basename(archive, ".zip"));
    const server = createServer((request, response) => {
      const asked = decodeURIComponent(new URL(request.url ?? "/", "http://site").pathname);
      const path = join(site, normalize(asked === "/" ? "/index.html" : asked));
      if (!path.startsWith(site) || !existsSync(path) || !statSync(path).isFile()) return response.writeHead(404).end();
      return response
        .writeHead(200, { "content-type": KINDS[extname(path)] ?? "application/octet-stream" })
        .end(readFileSync(path));
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    const browser = await startBrowser();
    try {
      const page = await browser.newPage();
      await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
      await page.waitForSelector("[data-part=sentences]", { timeout: 180_000 });
    } finally {
      await browser.close();
      server.closeAllConnections();
      server.close();
    }
  });
}

/** The folder for administrators: every address of the manifest leads to a file of the folder. */
export function tryExcelFolder(archive: string, origin: string): Promise<void> {
  return inEmptyFolder((folder) => {
    unzipInto(archive, folder);
    const site = join(folder, basename(archive, ".zip"));
    const manifest = readFileSync(join(site, "manifest.xml"), "utf8");
    const addresses = [...manifest.matchAll(/"(https:\/\/[^"]+)"/g)].flatMap(([, address = ""]) =>
      address.startsWith(`${origin}/`) ? [address.slice(origin.length + 1).replace(/[?#].*$/, "")] : [],
    );
    const missing = addresses.filter((name) => name !== "" && !existsSync(join(site, name)));
    if (addresses.length === 0) throw new Error(`no address in manifest.xml is below ${origin}`);
    if (missing.length > 0) throw new Error(`manifest.xml names files that are not there: ${missing.join(", ")}`);
  });
}
