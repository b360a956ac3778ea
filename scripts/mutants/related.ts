/** Which tests reach a source, the nearest first: by the imports that stand in the files. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve, sep } from "node:path";

/** Paths below the root of the sources in a folder, "/" between names, in order. */
export function sourcesIn(root: string, folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name) && !entry.name.endsWith(".d.ts"))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)).split(sep).join("/"))
    .sort();
}

/** Tests that run in Node. */
function isQuickTest(file: string): boolean {
  return file.endsWith(".test.ts") && !/^tests\/(browser|panel|scripts)\//.test(file);
}

/** Calls the bundle, where the tests import nothing: a test that imports the one file comes to the other. */
const COMMAND = { caller: "tests/cli/commandLine.ts", start: "src/cli/start.ts" };

/** A quick test, what it comes to by imports, and how many lie between. */
export interface Test {
  readonly file: string;
  readonly callsBundle: boolean;
  readonly sources: ReadonlyMap<string, number>;
}

export function quickTests(root: string): Test[] {
  const files = ["src", "tests", "scripts"].flatMap((folder) => sourcesIn(root, folder));
  const known = new Set(files);
  const imports = new Map(files.map((file) => [file, importsOf(root, file, known)]));
  imports.get(COMMAND.caller)?.push(COMMAND.start);
  return files.filter(isQuickTest).map((file) => {
    const sources = distancesFrom(file, imports);
    return { file, callsBundle: sources.has(COMMAND.caller), sources };
  });
}

function importsOf(root: string, file: string, known: ReadonlySet<string>): string[] {
  const text = readFileSync(join(root, file), "utf8");
  // What is imported as a type alone is not there when the test runs.
  const paths = [...text.matchAll(/^(?:import|export) (?!type )[^;]*?from "(\.[^"]*)"|import\("(\.[^"]*)"\)/gm)];
  return paths.flatMap(([, named, later]) => {
    const target = relative(root, resolve(root, dirname(file), named ?? later ?? ""))
      .split(sep)
      .join("/");
    return [target, `${target}.ts`, `${target}.tsx`].filter((one) => known.has(one) && existsSync(join(root, one)));
  });
}

function distancesFrom(test: string, imports: ReadonlyMap<string, readonly string[]>): Map<string, number> {
  const distances = new Map([[test, 0]]);
  for (const [file, distance] of distances)
    for (const next of imports.get(file) ?? []) if (!distances.has(next)) distances.set(next, distance + 1);
  return distances;
}
