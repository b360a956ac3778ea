/**
 * The command line as one npm package without dependencies: `npx ./bendbook-1.0.0.tgz evaluate …` needs no network. The
 * grid's engine is bundled into it and starts only where a formula needs it.
 */
import { spawnSync } from "node:child_process";
import { chmodSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { build, type Plugin } from "esbuild";
import { COMMAND_LINE } from "../build.mjs";
import { root } from "../install.mjs";
import { noticesText, packageOf } from "../notices.mjs";

/** Where the engine loads the grid's packages by name, which a bundle cannot follow. */
const LOADS = "const load = createRequire(import.meta.url);";

/** Turns that into loading from the bundle, each package when it is asked for. */
const engineInside: Plugin = {
  name: "the grid's engine inside",
  setup({ onLoad }) {
    onLoad({ filter: /workbook[\\/]embedded[\\/]engine\.ts$/ }, ({ path }) => {
      const source = readFileSync(path, "utf8");
      const names = [...source.matchAll(/\bload\("([^"]+)"\)/g)].map(([, name]) => name);
      if (!source.includes(LOADS) || names.length === 0)
        throw new Error(`${path} loads the grid's packages in another way than the release knows.`);
      const cases = names.map((name) => `"${name}": () => require("${name}")`).join(", ");
      const contents = source.replace(LOADS, `const load = (name: string): any => ({ ${cases} })[name]!();`);
      return { contents, loader: "ts" };
    });
  },
};

/** Writes the package's files into a folder and packs them. @returns path of the .tgz */
export async function packCommandLine(folder: string, out: string): Promise<string> {
  mkdirSync(folder, { recursive: true });
  const { version, description, license, engines } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
  const { metafile } = await build({
    ...COMMAND_LINE,
    outdir: join(folder, "lib"),
    outExtension: { ".js": ".mjs" },
    // The engine is a file of its own, which is read only where it starts.
    splitting: true,
    metafile: true,
    plugins: [engineInside],
  });
  const write = (name: string, text: string) => writeFileSync(join(folder, name), text);
  write("bendbook.mjs", '#!/usr/bin/env node\nimport { runProcess } from "./lib/start.mjs";\nawait runProcess();\n');
  chmodSync(join(folder, "bendbook.mjs"), 0o755);
  write(
    "package.json",
    `${JSON.stringify({ name: "bendbook", version, description, license, type: "module", engines, bin: { bendbook: "bendbook.mjs" } }, null, 2)}\n`,
  );
  write("README.md", readFileSync(join(root, "docs", "commands.md"), "utf8"));
  write("LICENSE", readFileSync(join(root, "LICENSE"), "utf8"));
  write("CHANGELOG.md", readFileSync(join(root, "CHANGELOG.md"), "utf8"));
  const folders = new Set(Object.keys(metafile.inputs).flatMap((path) => packageOf(resolve(root, path)) ?? []));
  write("notices.txt", noticesText("The command line carries", folders));
  const { status, stdout } = spawnSync("npm", ["pack", "--silent", "--pack-destination", out], {
    cwd: folder,
    encoding: "utf8",
    stdio: ["ignore", "pipe", "inherit"],
    shell: process.platform === "win32",
  });
  if (status !== 0) throw new Error("The command line could not be packed; the lines above say why.");
  return join(out, stdout.trim());
}
