/** The command line: which command, and how it ends. */
import { NoAnswer } from "../experiment/question/analysis";
import { UnknownColumn } from "../experiment/question/rowCheck";
import { explainFileError, isFileError } from "../workbook/file/package/fileErrors";
import { FileProblem } from "../workbook/file/package/fileProblem";
import { VERSION } from "../version";
import { compareCommand } from "./compare";
import { evaluate } from "./evaluate";
import { gatherCommand } from "./gather";
import { powerCommand } from "./power";
import { reachCommand } from "./reach";
import { recalculate } from "./recalculate";
import { regressCommand } from "./regress";
import { repeatCommand } from "./repeat";
import { trackCommand } from "./track";
import { CommandError, USAGE, UsageError, type Voices } from "./usage";

const COMMANDS: Readonly<Record<string, (args: string[], voices: Voices) => Promise<number>>> = {
  evaluate,
  gather: gatherCommand,
  compare: compareCommand,
  power: powerCommand,
  reach: reachCommand,
  recalculate,
  regress: regressCommand,
  repeat: repeatCommand,
  track: trackCommand,
};

/**
 * The text with its control characters written out. A heading or a file's name may hold sequences that a terminal
 * obeys: they would hide lines, or write where nobody looks.
 * @example printable("Gap\u001b[2J") === "Gap\\u001b[2J"
 */
function printable(text: string): string {
  return text.replace(
    /[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/g,
    (control) => `\\u${control.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}

/** Runs one command line. `progress` hears how far a long command is, often. @returns the exit code */
export async function run(
  args: readonly string[],
  write: (text: string) => void,
  writeTrouble: (text: string) => void,
  writeProgress: (text: string) => void,
): Promise<number> {
  const print = (text: string) => write(printable(text));
  const complain = (text: string) => writeTrouble(printable(text));
  const progress = (text: string) => writeProgress(printable(text));
  const [name, ...rest] = args;
  if (name === undefined || name === "--help" || name === "-h" || name === "help" || rest.includes("--help")) {
    (name === undefined ? complain : print)(USAGE);
    return name === undefined ? 2 : 0;
  }
  if (name === "--version") {
    print(VERSION);
    return 0;
  }
  try {
    const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
    if (!command) throw new UsageError(`there is no command "${name}".`);
    return await command(rest, { print, progress, warn: (text) => complain(`bendbook: ${text}`) });
  } catch (problem) {
    if (problem instanceof UsageError || isOptionProblem(problem)) {
      complain(`bendbook: ${problem.message}\nbendbook --help lists the commands and their options.`);
      return 2;
    }
    if (
      problem instanceof CommandError ||
      problem instanceof UnknownColumn ||
      problem instanceof NoAnswer ||
      problem instanceof FileProblem
    ) {
      complain(`bendbook: ${problem.message}`);
      return 1;
    }
    // Whatever of the disk nobody foresaw, such as a folder for what is put aside that is full.
    if (isFileError(problem)) {
      complain(`bendbook: ${(explainFileError(problem, problem.path ?? "a file", "written") as Error).message}`);
      return 1;
    }
    throw problem;
  }
}

function isOptionProblem(problem: unknown): problem is Error {
  return problem instanceof Error && String((problem as { code?: unknown }).code).startsWith("ERR_PARSE_ARGS");
}
