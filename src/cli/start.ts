/** Where the process of the command line begins and ends. */
import { run } from "./main";

export { run };

/** Progress is told at most this often, in ms. */
const EVERY = 1000;

/** Runs this process's own command line and ends the process. */
export async function runProcess(): Promise<never> {
  let told = Date.now();
  process.stdout.on("error", (problem: NodeJS.ErrnoException) => process.exit(problem.code === "EPIPE" ? 0 : 1));
  const code = await run(
    process.argv.slice(2),
    (text) => process.stdout.write(`${text}\n`),
    (text) => process.stderr.write(`${text}\n`),
    (text) => {
      if (Date.now() - told < EVERY) return;
      told = Date.now();
      process.stderr.write(`${text}\n`);
    },
  );
  // The formula engine leaves timers behind that would keep the process for minutes: it ends when all is written.
  await Promise.all(
    [process.stdout, process.stderr].map((stream) => new Promise((resolve) => stream.write("", resolve))),
  );
  process.exit(code);
}
