/** The thread behind commandLine.ts: takes the arguments of a call, runs the shipped bundle, gives what it said. */
import { pathToFileURL } from "node:url";
import { workerData } from "node:worker_threads";

const { bundle, done, there } = workerData;
const { run } = await import(pathToFileURL(bundle).href);

there.on("message", async (args) => {
  const said = { out: "", err: "" };
  const status = await run(
    args,
    (text) => void (said.out += `${text}\n`),
    (text) => void (said.err += `${text}\n`),
    () => {},
  ).catch((problem) => {
    said.err += `${problem?.stack ?? problem}\n`;
    return null;
  });
  there.postMessage({ status, ...said });
  Atomics.store(done, 0, 1);
  Atomics.notify(done, 0);
});
