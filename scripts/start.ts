/** npm start [-- path/to/log.xlsx]: builds, serves on this machine, opens a browser. */
import { spawn } from "node:child_process";
import { statSync } from "node:fs";
import { resolve } from "node:path";
import { explainFileError } from "../src/workbook/file/package/fileErrors";
import { ensurePages } from "./build.mjs";
import { usualDraftFolder } from "./server/draftFolder";
import { serve, stopOnSignal } from "./server/serve";

/** The server goes on after this file has run. */
export const stays = true;

const USUAL_PORT = 4127;

const [given] = process.argv.slice(2).filter((argument) => !argument.startsWith("--"));
const workbook = given === undefined ? undefined : resolve(process.env.INIT_CWD ?? process.cwd(), given);
const trouble = workbook === undefined ? undefined : troubleWith(workbook);
if (trouble !== undefined) {
  process.stderr.write(`${trouble}\n`);
  process.exit(1);
}
if (workbook !== undefined && !/\.(xlsx|csv)$/i.test(workbook)) {
  process.stderr.write(`${given} is neither .xlsx nor .csv; Bendbook opens those.\n`);
  process.exit(1);
}

ensurePages();
const { server, address } = await serve({ workbook, drafts: usualDraftFolder(), port: USUAL_PORT });
process.stdout.write(`Bendbook is at ${address}\nCtrl-C ends it.\n`);
openBrowser(address);

stopOnSignal(server, "Bendbook");

/** What keeps the file from being opened, in words; nothing when it can be. */
function troubleWith(path: string): string | undefined {
  try {
    if (statSync(path).isFile()) return undefined;
    throw Object.assign(new Error(), { code: "EISDIR" });
  } catch (problem) {
    return (explainFileError(problem, given, "read") as Error).message;
  }
}

/** Opens the address where there is a desktop to do so; without one the printed address must do. */
function openBrowser(url: string): void {
  if (process.env.CI || process.argv.includes("--no-browser")) return;
  const [command, args] =
    process.platform === "darwin"
      ? ["open", [url]]
      : process.platform === "win32"
        ? ["cmd", ["/c", "start", "", url]]
        : process.env.DISPLAY || process.env.WAYLAND_DISPLAY
          ? ["xdg-open", [url]]
          : [undefined, []];
  if (command === undefined) return;
  const child = spawn(command as string, args as string[], { stdio: "ignore", detached: true });
  child.on("error", () => process.stderr.write("No browser could be opened; open the address above.\n"));
  child.unref();
}
