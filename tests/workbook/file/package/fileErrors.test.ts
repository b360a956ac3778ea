/** What the file system says, in words; and files that must not outlive what makes them. */
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { explainFileError, isFileError } from "../../../../src/workbook/file/package/fileErrors";
import { FileProblem } from "../../../../src/workbook/file/package/fileProblem";
import { partName, sweepParts, unfinished } from "../../../../src/workbook/file/package/unfinished";

const error = (code: string) => Object.assign(new Error("syscall"), { code });
const said = (code: string, path = "halls/log.xlsx", doing: "read" | "written" = "read") =>
  (explainFileError(error(code), path, doing) as FileProblem).message;

it("names the file and what to do about it", () => {
  expect(said("ENOENT")).toBe("There is no file halls/log.xlsx. Check the path and the spelling of the name.");
  expect(said("ENOENT", "halls/log.xlsx", "written")).toContain("There is no folder for halls/log.xlsx.");
  expect(said("EACCES", "log.xlsx", "written")).toContain("log.xlsx may not be written by you.");
  expect(said("EIO", "log.xlsx")).toContain("The disk failed while log.xlsx was being read.");
  expect(said("EWHAT", "log.xlsx")).toBe("log.xlsx could not be read (EWHAT). Try again, or choose another place.");
});

it("shortens a path that is itself the trouble, to its beginning and its end", () => {
  const of = (length: number) => "0123456789".repeat(10).slice(0, length);
  expect(said("ENAMETOOLONG", of(60))).toContain(`The name of ${of(60)} is too long`);
  expect(said("ENAMETOOLONG", of(61))).toContain(`The name of ${of(28)} … ${of(61).slice(33)} is too long`);
});

it("leaves other errors as they are", () => {
  for (const other of [new Error("x"), error("ERR_INVALID_ARG_TYPE"), error("ENOENT2"), { code: "ENOENT" }, "ENOENT"]) {
    expect(isFileError(other)).toBe(false);
    expect(explainFileError(other, "log.xlsx", "read")).toBe(other);
  }
});

it("watches for the end of the process once, however many files are unfinished", () => {
  const count = () => [process.listenerCount("exit"), process.listenerCount("SIGTERM")];
  const finished = unfinished("nowhere/one.part");
  const before = count();
  unfinished("nowhere/two.part")();
  expect(count()).toEqual(before);
  finished();
});

it("takes away parts of processes that are gone, not its own, and nothing else", () => {
  const folder = mkdtempSync(join(tmpdir(), "bendbook-parts-"));
  try {
    const own = partName(folder);
    expect(partName(folder)).not.toBe(own);
    // No process has this number: it is beyond what systems give.
    const gone = ".bendbook-999999999-1.part";
    const others = ["log.part", ".bendbook-1x-1.part", ".bendbook-999999999-1.part.xlsx"];
    writeFileSync(own, "");
    for (const name of [gone, ...others]) writeFileSync(join(folder, name), "");
    sweepParts(folder);
    expect(existsSync(own)).toBe(true);
    expect(
      readdirSync(folder)
        .filter((name) => join(folder, name) !== own)
        .sort(),
    ).toEqual([...others].sort());
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
