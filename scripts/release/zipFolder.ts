/** A folder as a .zip; equal files give equal bytes. */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { unzipSync, zipSync, type Zippable } from "fflate";
import { EARLIEST } from "../../src/workbook/file/package/zip";

/** @param name of the folder inside the .zip */
export function zipFolder(folder: string, name: string, target: string): void {
  const files: Zippable = {};
  const paths = readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
  for (const path of paths)
    files[`${name}/${relative(folder, path).split(sep).join("/")}`] = [readFileSync(path), { mtime: EARLIEST }];
  writeFileSync(target, zipSync(files));
}

export function unzipInto(archive: string, folder: string): void {
  for (const [name, bytes] of Object.entries(unzipSync(readFileSync(archive)))) {
    const path = join(folder, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, bytes);
  }
}
