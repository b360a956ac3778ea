/**
 * The cushion's impact in one piece, as it ships: its loop calls over files some thousand times for a shot, and the way
 * in which the test runner imports would make each call several times as slow.
 */
import { readFileSync } from "node:fs";
import { build } from "esbuild";

/** The file that stands for all of them, and their folder. */
const IMPACT = /[\\/]src[\\/]bank[\\/]impact[\\/]noseImpulse\.ts$/;
const PARTS = /[\\/]src[\\/]bank[\\/]impact[\\/]\w+\.ts$/;

/** What `textOf` gives stands in for a file's text; undefined where the file's own counts. */
export function impactInOnePiece(textOf = () => undefined) {
  return {
    name: "impact-in-one-piece",
    enforce: "pre",
    async load(id) {
      if (!IMPACT.test(id)) return null;
      const { outputFiles } = await build({
        entryPoints: [id],
        bundle: true,
        write: false,
        format: "esm",
        target: "node20",
        plugins: [
          {
            name: "texts",
            setup: ({ onLoad }) =>
              onLoad({ filter: PARTS }, ({ path }) => ({
                contents: textOf(path) ?? readFileSync(path, "utf8"),
                loader: "ts",
              })),
          },
        ],
      });
      return outputFiles[0]?.text;
    },
  };
}
