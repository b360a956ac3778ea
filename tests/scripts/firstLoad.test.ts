/** How much Excel fetches before the pane stands: what taskpane.html names, Microsoft's own script apart. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { beforeAll, expect, it } from "vitest";
import { ensurePages } from "../../scripts/build.mjs";
import { root } from "../../scripts/install.mjs";

/** Bytes, packed by gzip. */
const MOST = 400_000;

beforeAll(() => ensurePages(), 600_000);

const packed = (name: string) => gzipSync(readFileSync(join(root, "dist", name)), { level: 9 }).length;

it("is at most 400 kB, with PDF, drawings, workers and closed views in files of their own", () => {
  const page = readFileSync(join(root, "dist", "taskpane.html"), "utf8");
  const named = [...page.matchAll(/(?:src|href)="([^":]+\.(?:js|css))"/g)].map(([, name]) => name!);
  expect(named).toContain("functions.js");
  expect(named.length).toBeGreaterThanOrEqual(3);
  const sizes = ["taskpane.html", ...named].map((name) => [name, packed(name)] as const);
  expect(
    sizes.reduce((sum, [, size]) => sum + size, 0),
    JSON.stringify(sizes),
  ).toBeLessThanOrEqual(MOST);
  const script = named.map((name) => readFileSync(join(root, "dist", name), "utf8")).join("");
  expect(script).not.toContain("%PDF-");
});
