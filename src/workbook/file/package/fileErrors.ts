/**
 * The one place where an error of the file system becomes a sentence. Node's own messages name system calls, and a
 * stack helps nobody whose disk is full.
 */
import { FileProblem } from "./fileProblem";

/** What was being done to the file. */
export type Doing = "read" | "written";

type Words = (path: string, doing: Doing) => readonly [problem: string, mend: string];

const WORDS: Readonly<Record<string, Words>> = {
  ENOENT: (path, doing) => [
    `There is no ${doing === "read" ? "file" : "folder for"} ${path}.`,
    "Check the path and the spelling of the name.",
  ],
  ENOTDIR: (path) => [`The path ${path} leads through a file as if it were a folder.`, "Check the path."],
  EISDIR: (path) => [`${path} is a folder, not a file.`, "Give the path of a file in it."],
  EACCES: (path, doing) => [`${path} may not be ${doing} by you.`, "Change its permissions, or choose another place."],
  EPERM: (path, doing) => [`${path} may not be ${doing} by you.`, "Change its permissions, or choose another place."],
  EEXIST: (path) => [`${path} is there already.`, "Give another name."],
  ENOTEMPTY: (path) => [`${path} is a folder that holds files.`, "Give another name."],
  ENOSPC: (path) => [`The disk is full: ${path} was not written.`, "Make room, or choose another place."],
  EDQUOT: (path) => [
    `Your share of the disk is used up: ${path} was not written.`,
    "Make room, or choose another place.",
  ],
  EFBIG: (path) => [
    `${path} is larger than this disk, or this program, takes.`,
    "Choose another place, or a smaller file.",
  ],
  EROFS: (path) => [`${path} is on a disk that can only be read.`, "Choose another place."],
  ELOOP: (path) => [`${path} is a link that leads in a circle.`, "Give the file's own path."],
  ENAMETOOLONG: (path) => [`The name of ${shortened(path)} is too long for this disk.`, "Give a shorter one."],
  EMFILE: (path) => [`Too many files are open to get at ${path}.`, "Close other programs and try again."],
  ENFILE: (path) => [`Too many files are open to get at ${path}.`, "Close other programs and try again."],
  EBUSY: (path) => [`${path} is in use by another program.`, "Close it there and try again."],
  ETXTBSY: (path) => [`${path} is in use by another program.`, "Close it there and try again."],
  EIO: (path, doing) => [
    `The disk failed while ${path} was being ${doing}.`,
    "Try another place, and look after the disk.",
  ],
  EINVAL: (path) => [`${path} is no name that this disk takes.`, "Give another name."],
  ENXIO: (path) => [`${path} is no ordinary file.`, "Give the path of a file."],
};

/**
 * The error in words, when it comes from the file system; itself otherwise.
 * @param path of the file, as the user gave it
 */
export function explainFileError(problem: unknown, path: string, doing: Doing): unknown {
  if (!isFileError(problem)) return problem;
  const words =
    WORDS[problem.code] ??
    (() => [`${path} could not be ${doing} (${problem.code}).`, "Try again, or choose another place."]);
  const [what, mend] = words(path, doing);
  return new FileProblem("missing", what, mend);
}

/** Whether the error is one of the file system's: those of other parts of Node have codes of another form. */
export function isFileError(problem: unknown): problem is NodeJS.ErrnoException & { readonly code: string } {
  return problem instanceof Error && /^E[A-Z]+$/.test(String((problem as NodeJS.ErrnoException).code));
}

function shortened(path: string): string {
  return path.length <= 60 ? path : `${path.slice(0, 28)} … ${path.slice(-28)}`;
}
