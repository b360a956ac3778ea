/** Where the process of the command line begins. May import: main.ts. */
import { run } from "./main";

process.stdout.on("error", (problem: NodeJS.ErrnoException) => process.exit(problem.code === "EPIPE" ? 0 : 1));
process.exitCode = await run(
  process.argv.slice(2),
  (text) => process.stdout.write(`${text}\n`),
  (text) => process.stderr.write(`${text}\n`),
);
