/** npm start [-- path/to/log.xlsx]: builds, serves on this machine, opens a browser. */
import { spawn } from "node:child_process";
import { existsSync, statSync } from "node:fs";
import { resolve } from "node:path";
import { ensurePages } from "./build.mjs";
import { serve, stopOnSignal } from "./serve";

/** The server goes on after this file has run. */
export const stays = true;

const USUAL_PORT = 4127;

const [given] = process.argv.slice(2).filter((argument) => !argument.startsWith("--"));
const workbook = given === undefined ? undefined : resolve(process.env.INIT_CWD ?? process.cwd(), given);
if (workbook !== undefined && !(existsSync(workbook) && statSync(workbook).isFile())) {
  process.stderr.write(`There is no file ${given}. Check the path and the spelling of the name.\n`);
  process.exit(1);
}
if (workbook !== undefined && !/\.(xlsx|csv)$/i.test(workbook)) {
  process.stderr.write(`${given} is neither .xlsx nor .csv; Bendbook opens those.\n`);
  process.exit(1);
}

ensurePages();
const { server, address } = await serve({ workbook, port: USUAL_PORT });
process.stdout.write(`Bendbook is at ${address}\nCtrl-C ends it.\n`);
openBrowser(address);

stopOnSignal(server, "Bendbook");

/** Opens the address where there is a desktop to do so; without one the printed address must do. */
function openBrowser(url: string): void {
  if (process.env.CI || process.argv.includes("--no-browser")) return;
  const [command, args] =
    process.platform === "darwin" ? ["open", [url]]
    : process.platform === "win32" ? ["cmd", ["/c", "start", "", url]]
    : process.env.DISPLAY || process.env.WAYLAND_DISPLAY ? ["xdg-open", [url]]
    : [undefined, []];
  if (command === undefined) return;
  const child = spawn(command as string, args as string[], { stdio: "ignore", detached: true });
  child.on("error", () => process.stderr.write("No browser could be opened; open the address above.\n"));
  child.unref();
}
