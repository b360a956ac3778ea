/**
 * Files on disk, for the command line and scripts; Node only.
 */
import { constants, realpathSync } from "node:fs";
import { access, open, readdir, readFile, rename, rm, stat, type FileHandle } from "node:fs/promises";
import { dirname, join, relative, resolve, sep } from "node:path";
import { explainFileError } from "./fileErrors";
import { FileProblem } from "./fileProblem";
import { partName, sweepParts, unfinished } from "./unfinished";
import { LARGEST } from "./zip";

/** The bytes of a file. Throws FileProblem when it is missing, may not be read, is a folder or is far too large. */
export async function readFileBytes(path: string): Promise<Uint8Array> {
  try {
    const { size } = await stat(path);
    if (size > LARGEST)
      throw new FileProblem(
        "tooLarge",
        `${path} has ${Math.round(size / 1e6)} MB; that is beyond what a trial log needs.`,
        "Save only the sheet you need as a new file.",
      );
    const { buffer, byteOffset, length } = await readFile(path);
    return new Uint8Array(buffer, byteOffset, length);
  } catch (problem) {
    throw explainFileError(problem, path, "read");
  }
}

/** Writes the file whole or not at all. */
export async function writeFileBytes(path: string, bytes: Uint8Array): Promise<void> {
  await writeBeside(path, (file) => file.writeFile(bytes));
}

/**
 * Lets `write` fill a file beside the one wanted, which takes its name once all is on the disk; on failure nothing is
 * left.
 */
export async function writeBeside(path: string, write: (file: FileHandle) => Promise<void>): Promise<void> {
  const beside = partName(dirname(path));
  const finished = unfinished(beside);
  try {
    sweepParts(dirname(path));
    const file = await open(beside, "wx");
    try {
      await write(file);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(beside, path);
  } catch (problem) {
    await rm(beside, { force: true }).catch(() => {});
    throw explainFileError(problem, path, "written");
  } finally {
    finished();
  }
}

/** Throws FileProblem when no file can be written to the path: its folder is missing or may not be written to. */
export async function canBeWritten(path: string): Promise<void> {
  try {
    await access(dirname(path), constants.W_OK);
  } catch (problem) {
    throw explainFileError(problem, path, "written");
  }
}

export async function fileExists(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}

/** Whether two paths lead to one file, links followed where they exist. */
export function samePath(a: string, b: string): boolean {
  const real = (path: string) => {
    try {
      return realpathSync(path);
    } catch {
      return resolve(path);
    }
  };
  return real(a) === real(b);
}

/**
 * Paths of the files below a folder with one of the endings, in order, with "/" between names; hidden and lock files
 * are passed over.
 */
export async function filesBelow(folder: string, endings: RegExp): Promise<string[]> {
  try {
    const entries = await readdir(folder, { withFileTypes: true, recursive: true });
    return entries
      .filter((entry) => entry.isFile() && endings.test(entry.name) && !/^(\.|~\$)/.test(entry.name))
      .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"))
      .filter((path) => !path.split("/").some((name) => name.startsWith(".")))
      .sort((a, b) => (a < b ? -1 : 1));
  } catch (problem) {
    if ((problem as NodeJS.ErrnoException).code === "ENOTDIR")
      throw new FileProblem(
        "missing",
        `${folder} is a file, not a folder.`,
        "Give the folder that holds the workbooks.",
      );
    if ((problem as NodeJS.ErrnoException).code === "ENOENT")
      throw new FileProblem("missing", `There is no folder ${folder}.`, "Check the path and the spelling of the name.");
    throw explainFileError(problem, folder, "read");
  }
}
