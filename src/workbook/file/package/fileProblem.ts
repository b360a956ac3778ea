/**
 * What can be wrong with a file a user hands us, in the user's words.
 */

export type FileProblemKind =
  | "empty"
  | "notAWorkbook"
  | "corrupt"
  | "protected"
  | "oldFormat"
  | "otherFormat"
  | "tooLarge"
  | "notText"
  | "missing";

/** A file that cannot be read. `message` says what is wrong and how to mend it. */
export class FileProblem extends Error {
  override readonly name = "FileProblem";
  constructor(
    readonly kind: FileProblemKind,
    readonly problem: string,
    readonly mend: string,
  ) {
    super(`${problem} ${mend}`);
  }

  /** The same problem with the file's name in the message. */
  about(fileName: string): FileProblem {
    return this.problem.includes(fileName)
      ? this
      : new FileProblem(this.kind, `${fileName}: ${this.problem}`, this.mend);
  }
}

/** The problem of a file whose inside is damaged; `where` says what was found broken. */
export function corrupt(where: string): FileProblem {
  return new FileProblem(
    "corrupt",
    `The file is damaged or was cut off: ${where}.`,
    "Get it again from where it came, or open it in your spreadsheet program, let it repair the file, and save it anew.",
  );
}
