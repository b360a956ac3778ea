/**
 * Makes a release from the files that stand here: `npm run release` calls it in a clean clone. Arguments: the folder to
 * write, and the origin that the folder for administrators is for.
 */
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { VERSION } from "../src/version";
import { ensurePages } from "./build.mjs";
import { writeSite } from "./hosting/writeSite";
import { root } from "./install.mjs";
import { packCommandLine } from "./release/commandLinePackage";
import { tryCommandLine, tryExcelFolder, trySite } from "./release/smoke";
import { zipFolder } from "./release/zipFolder";

const [out, origin] = process.argv.slice(2);
if (out === undefined || origin === undefined) throw new Error("releaseHere needs a folder and an origin.");
const say = (text: string) => process.stderr.write(`${text}\n`);
const aside = mkdtempSync(join(tmpdir(), "bendbook-release-"));
try {
  say("The command line …");
  const tarball = await packCommandLine(join(aside, "package"), out);
  ensurePages();
  say("The static site and the folder for administrators …");
  const [site, excel] = [`bendbook-site-${VERSION}`, `bendbook-excel-${VERSION}`];
  const written = join(aside, "site");
  writeSite({ origin, folder: written, version: VERSION });
  cpSync(join(root, "docs", "administrators.md"), join(written, "administrators.md"));
  zipFolder(written, excel, join(out, `${excel}.zip`));
  // Without Excel nobody needs what only Excel reads.
  for (const name of ["manifest.xml", "administrators.md", "bendbook-files.txt"]) rmSync(join(written, name));
  zipFolder(written, site, join(out, `${site}.zip`));
  cpSync(join(root, "CHANGELOG.md"), join(out, "CHANGELOG.md"));
  writeFileSync(
    join(out, "notices.txt"),
    [join(written, "notices.txt"), join(aside, "package", "notices.txt")]
      .map((file) => readFileSync(file, "utf8"))
      .join("\n\n"),
  );
  say("Trying each from an empty folder …");
  await tryCommandLine(tarball);
  say("  the command line by npx: works");
  await tryExcelFolder(join(out, `${excel}.zip`), origin);
  say("  the folder for administrators: every address of the manifest is there");
  await trySite(join(out, `${site}.zip`));
  say("  the static site in a browser: opens, computes and answers");
  const sums = readdirSync(out)
    .sort()
    .map(
      (name) =>
        `${createHash("sha256")
          .update(readFileSync(join(out, name)))
          .digest("hex")}  ${name}`,
    );
  writeFileSync(join(out, "SHA256SUMS"), `${sums.join("\n")}\n`);
} finally {
  rmSync(aside, { recursive: true, force: true });
}
