import { mkdtemp, readdir, rm, symlink } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { fileExists, readFileBytes, samePath, writeFileBytes } from "../../../../src/workbook/file/package/disk";
import { FileProblem } from "../../../../src/workbook/file/package/fileProblem";

let folder = "";
beforeAll(async () => void (folder = await mkdtemp(join(tmpdir(), "bendbook-disk-"))));
afterAll(() => rm(folder, { recursive: true }));

it("writes whole files and reads them back, leaving nothing beside them", async () => {
  const path = join(folder, "copy.xlsx");
  expect(await fileExists(path)).toBe(false);
  await writeFileBytes(path, Uint8Array.from([1, 2, 3]));
  await writeFileBytes(path, Uint8Array.from([4]));
  expect(await readFileBytes(path)).toEqual(Uint8Array.from([4]));
  expect(await fileExists(path)).toBe(true);
  expect(await readdir(folder)).toEqual(["copy.xlsx"]);
});

it("explains missing files and folders", async () => {
  await expect(readFileBytes(join(folder, "none.xlsx"))).rejects.toThrow(
    /There is no file .*none\.xlsx.*Check the path/,
  );
  await expect(readFileBytes(folder)).rejects.toThrow(/is a folder/);
  await expect(writeFileBytes(join(folder, "no", "copy.xlsx"), new Uint8Array())).rejects.toBeInstanceOf(FileProblem);
});

it("knows one file by two paths", async () => {
  const path = join(folder, "one.csv");
  await writeFileBytes(path, Uint8Array.from([49]));
  await symlink(path, join(folder, "link.csv"));
  expect(samePath(path, join(folder, ".", "one.csv"))).toBe(true);
  expect(samePath(path, join(folder, "link.csv"))).toBe(true);
  expect(samePath(path, join(folder, "other.csv"))).toBe(false);
});
