/**
 * npm run excel [-- --port N]: builds, serves the add-in over https on this machine, and says how to load it into
 * Excel. npm run excel -- --origin https://hall.example/bendbook --out DIR writes the same for a web server, and serves
 * nothing.
 */
import { writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { logErrorMessage } from "office-addin-cli";
import { VERSION } from "../src/version";
import { ensurePages } from "./build.mjs";
import { certificates } from "./certificates";
import { excelSteps } from "./hosting/excelSteps";
import { excelWish } from "./hosting/excelOptions";
import { writeSite } from "./hosting/writeSite";
import { root } from "./install.mjs";
import { MANIFEST, manifestPort, readManifest, withPort, withVersion } from "./manifest";
import { serve, stopOnSignal } from "./server/serve";

async function begin(): Promise<void> {
  const wish = excelWish(process.argv.slice(2));
  ensurePages();
  if (wish.kind === "serve") return serveHere(wish.port);
  const folder = resolve(process.env["INIT_CWD"] ?? process.cwd(), wish.out);
  const files = writeSite({ origin: wish.origin, folder, version: VERSION });
  process.stdout.write(`${files.length} files are in ${folder}, to stand at ${wish.origin}/
Nothing is served from here. docs/administrators.md says which headers the web server needs and how to give
${join(folder, "manifest.xml")} to the people who use Excel.
`);
  process.exit(0);
}

async function serveHere(asked: number | undefined): Promise<void> {
  const xml = readManifest();
  const usual = manifestPort(xml);
  const port = asked ?? usual;
  let manifest = MANIFEST;
  const wanted = withVersion(withPort(xml, port), VERSION);
  if (wanted !== xml) {
    manifest = join(root, "dist", "manifest.xml");
    writeFileSync(manifest, wanted);
  }
  const { authority, cert, key } = await certificates();
  const { server, address } = await serve({
    port,
    exactPort: true,
    certificate: { cert, key },
    // The addresses of the functions' help.
    changes: { "functions.json": (text) => withPort(text, port) },
  }).catch((problem: NodeJS.ErrnoException) => {
    if (problem.code === "EADDRINUSE")
      throw new Error(
        `Port ${port} is in use. End what uses it, or choose another: npm run excel -- --port ${port < 65535 ? port + 1 : usual}`,
      );
    if (problem.code === "EACCES")
      throw new Error(
        `Port ${port} needs rights that you do not have. Choose one above 1023: npm run excel -- --port ${usual}`,
      );
    throw problem;
  });
  process.stdout.write(
    `Bendbook for Excel is served at ${address}\n${excelSteps({ manifest, authority, page: `${address}taskpane.html` })}`,
  );
  stopOnSignal(server, "Bendbook for Excel");
}

/** The server goes on after this file has run. */
export const stays = true;

begin().catch((problem: unknown) => {
  logErrorMessage(problem);
  process.exit(1);
});
