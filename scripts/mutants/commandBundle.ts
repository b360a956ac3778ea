/** The command line's bundle with other texts in place of some sources', for tests that call it. */
import { join } from "node:path";
import { build } from "esbuild";
import { COMMAND_LINE } from "../build.mjs";
import { root } from "../install.mjs";

/** @returns where it lies: inside the project, whose packages it loads */
export async function bundleCommand(textOf: (path: string) => string | undefined): Promise<string> {
  const outfile = join(root, ".cache", "mutants", "command.mjs");
  await build({
    ...COMMAND_LINE,
    minify: false,
    outfile,
    external: ["@univerjs/*"],
    inject: [join(import.meta.dirname, "reached.mjs")],
    plugins: [
      {
        name: "texts",
        setup: ({ onLoad }) =>
          onLoad({ filter: /[\\/]src[\\/].*\.tsx?$/ }, ({ path }) => {
            const contents = textOf(path);
            return contents === undefined ? undefined : { contents, loader: "ts" };
          }),
      },
    ],
  });
  return outfile;
}
