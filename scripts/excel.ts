/**
 * npm run excel [-- --port N]: builds, serves the add-in over https on this machine, and says how to load it into
 * Excel.
 */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { logErrorMessage, parseNumber } from "office-addin-cli";
import { VERSION } from "../src/version";
import { ensurePages } from "./build.mjs";
import { certificates } from "./certificates";
import { excelSteps } from "./excelSteps";
import { root } from "./install.mjs";
import { MANIFEST, manifestPort, readManifest, withPort, withVersion } from "./manifest";
import { serve, stopOnSignal } from "./server/serve";

/** The port that was asked for; undefined for the manifest's own. */
function wantedPort(argv: readonly string[]): number | undefined {
  const joined = argv.find((argument) => argument.startsWith("--port="));
  const at = argv.indexOf("--port");
  const given = joined?.slice("--port=".length) ?? (at < 0 ? undefined : (argv[at + 1] ?? ""));
  const mend = `--port is "${given}": give a whole number from 1 to 65535, such as --port 3444.`;
  const port = parseNumber(given, mend);
  if (port !== undefined && (String(port) !== given || !Number.isInteger(port) || port < 1 || port > 65535))
    throw new Error(mend);
  return port;
}

async function begin(): Promise<void> {
  const xml = readManifest();
  const usual = manifestPort(xml);
  const port = wantedPort(process.argv.slice(2)) ?? usual;
  ensurePages();
  let manifest = MANIFEST;
  const wanted = withVersion(withPort(xml, port), VERSION);
  if (wanted !== xml) {
    manifest = join(root, "dist", "manifest.xml");
    writeFileSync(manifest, wanted);
  }
  const { authority, cert, key } = await certificates();
  const { server, address } = await serve({ port, exactPort: true, certificate: { cert, key } }).catch(
    (problem: NodeJS.ErrnoException) => {
      if (problem.code === "EADDRINUSE")
        throw new Error(
          `Port ${port} is in use. End what uses it, or choose another: npm run excel -- --port ${port < 65535 ? port + 1 : usual}`,
        );
      if (problem.code === "EACCES")
        throw new Error(
          `Port ${port} needs rights that you do not have. Choose one above 1023: npm run excel -- --port ${usual}`,
        );
      throw problem;
    },
  );
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
