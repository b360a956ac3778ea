/** The house as a whole: no file imports itself by way of others, and the table of rooms holds no circle. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve, sep } from "node:path";
import { describe, expect, it } from "vitest";
import { ROOMS, roomsTable } from "../scripts/lint/rooms.mjs";

const src = resolve(import.meta.dirname, "../src");
const files = readdirSync(src, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
  .map((entry) => join(entry.parentPath, entry.name));

/** Our own files that a file imports, types among them. */
function importsOf(file: string): string[] {
  const found = readFileSync(file, "utf8").matchAll(/(?:from|import)\s*\(?\s*"(\.[^"]*)"/g);
  return [...found].flatMap(([, path]) => {
    const target = resolve(dirname(file), path);
    return files.filter((other) => other === target || other === `${target}.ts` || other === `${target}.tsx`);
  });
}

/** The first circle that a walk from each place meets; undefined when there is none. */
function circle<Place>(places: readonly Place[], next: (from: Place) => readonly Place[]): Place[] | undefined {
  const done = new Set<Place>();
  const walk = (place: Place, path: readonly Place[]): Place[] | undefined => {
    if (path.includes(place)) return [...path.slice(path.indexOf(place)), place];
    if (done.has(place)) return undefined;
    for (const other of next(place)) {
      const found = walk(other, [...path, place]);
      if (found) return found;
    }
    done.add(place);
    return undefined;
  };
  for (const place of places) {
    const found = walk(place, []);
    if (found) return found;
  }
  return undefined;
}

describe("imports", () => {
  it("run in no circle", () => {
    expect(files.length).toBeGreaterThan(300);
    const named = (path: string) => relative(src, path).split(sep).join("/");
    expect(circle(files, importsOf)?.map(named)).toBeUndefined();
  });

  it("are let run in no circle by the table of rooms", () => {
    const rooms = Object.keys(ROOMS);
    const targets = (room: string) =>
      ROOMS[room].flatMap((name) =>
        name.endsWith("/*") ? rooms.filter((one) => one.startsWith(name.slice(0, -1))) : [name],
      );
    expect(circle(rooms, targets)).toBeUndefined();
  });
});

describe("names", () => {
  it("mean one thing: no two files of src export the same", () => {
    const exported = new Map<string, string[]>();
    for (const file of files)
      for (const [, name = ""] of readFileSync(file, "utf8").matchAll(
        /^export (?:default )?(?:declare )?(?:abstract )?(?:async )?(?:interface|type|class|function\*?|const|let|enum) (\w+)/gm,
      ))
        exported.set(name, [...(exported.get(name) ?? []), relative(src, file).split(sep).join("/")]);
    expect(exported.size).toBeGreaterThan(1000);
    expect([...exported].filter(([, places]) => new Set(places).size > 1)).toEqual([]);
  });
});

describe("DEVELOPERS.md", () => {
  const page = readFileSync(resolve(import.meta.dirname, "../DEVELOPERS.md"), "utf8");
  const [, printed] = /<!-- rooms -->\n([^]*?)\n<!-- \/rooms -->/.exec(page) ?? [];

  it("prints the table of rooms that lint holds", () => expect(printed).toBe(roomsTable()));

  it("is short", () => expect(page.length - printed.length).toBeLessThan(6000));

  it("names scripts that there are, and all of them", () => {
    const { scripts } = JSON.parse(readFileSync(resolve(import.meta.dirname, "../package.json"), "utf8"));
    const named = [...page.matchAll(/^npm (?:run )?([a-z]+) /gm)].map(([, name]) => name);
    expect(named.sort()).toEqual(Object.keys(scripts).sort());
  });

  it("names files and folders that there are", () => {
    const paths = [...page.matchAll(/(?<![\w/])((?:src|scripts|tests)\/[\w./]*[\w/])/g)].map(([, path]) => path);
    const missing = paths.filter((path) => !/NAME/.test(path) && !existsSync(resolve(import.meta.dirname, "..", path)));
    expect(missing).toEqual([]);
  });
});
