/** Runs the shipped command line in a folder: in a process of its own, or quickly, one call after another. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { MessageChannel, receiveMessageOnPort, Worker } from "node:worker_threads";
import { ensureCommandLine } from "../../scripts/build.mjs";

export interface Outcome {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

const program = join(import.meta.dirname, "../../bin/bendbook.js");
// Faults are tried in a bundle of their own (npm run mutants).
const bundle = process.env["BENDBOOK_COMMAND"] ?? (await ensureCommandLine());

/** A call that takes longer hangs. In ms. */
const LONGEST = 120_000;

/**
 * Each call is a process of its own: for what a process does, such as signals, streams and exit codes.
 * @param folder where the command is called; asked for anew each time
 */
export function commandProcess(folder: () => string): (...args: string[]) => Outcome {
  return (...args) => {
    const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...args], {
      encoding: "utf8",
      cwd: folder(),
    });
    return { status, out: stdout, err: stderr };
  };
}

/**
 * The same without a process for each call: a thread holds the shipped bundle, and this one waits for its answer. What
 * a long command tells on its way is not heard.
 */
export function commandLine(folder: () => string): (...args: string[]) => Outcome {
  return (...args) => {
    const { done, port } = (shared ??= commandThread());
    // The thread sees the folder of the process.
    const home = process.cwd();
    process.chdir(folder());
    try {
      Atomics.store(done, 0, 0);
      port.postMessage(args);
      // Waking may be late: that of the call before can fall into this one.
      while (Atomics.load(done, 0) === 0) {
        if (Atomics.wait(done, 0, 0, LONGEST) !== "timed-out") continue;
        // Its answer would be taken for the next call's.
        shared = undefined;
        throw new Error(`bendbook ${args.join(" ")} does not end.`);
      }
      return (receiveMessageOnPort(port) as { message: Outcome }).message;
    } finally {
      process.chdir(home);
    }
  };
}

/** The thread of all calls of this process, of whatever file: reading the bundle takes longer than most of them. */
let shared: ReturnType<typeof commandThread> | undefined;

function commandThread() {
  const done = new Int32Array(new SharedArrayBuffer(4));
  const { port1: port, port2: there } = new MessageChannel();
  const thread = new Worker(new URL("./commandThread.mjs", import.meta.url), {
    workerData: { bundle, done, there },
    transferList: [there],
  });
  thread.unref();
  return { done, port };
}
