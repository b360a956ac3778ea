/** What both ways to gather are told: a folder of workbooks, and a name for what is made of them. */
import { join } from "node:path";
import { canBeWritten, fileExists, filesBelow, samePath } from "../workbook/file/package/disk";
import { CommandError, UsageError } from "./usage";

/** @throws UsageError where none or several are typed */
export function oneFolder(typed: readonly string[]): string {
  const [folder, ...others] = typed;
  if (folder === undefined) throw new UsageError("gather needs the folder that holds the workbooks.");
  if (others.length > 0) throw new UsageError(`gather takes one folder; these were given: ${typed.join(", ")}.`);
  return folder;
}

/** @throws CommandError where the file is there and may not be replaced, or cannot be written */
export async function mayBeWritten(out: string, force: boolean | undefined): Promise<void> {
  if (force !== true && (await fileExists(out)))
    throw new CommandError(`${out} is there already: give another name, or --force to replace it.`);
  await canBeWritten(out);
}

/** The workbooks below a folder, but for what is made of them. @throws CommandError where there are none */
export async function filesToGather({
  folder,
  out,
}: {
  readonly folder: string;
  readonly out: string;
}): Promise<readonly string[]> {
  const files = (await filesBelow(folder, /\.(xlsx|xlsm|csv)$/i)).filter((path) => !samePath(join(folder, path), out));
  if (files.length === 0) throw new CommandError(`${folder} holds no .xlsx or .csv files.`);
  return files;
}
