/** npm run dev [-- path/to/log.xlsx]: the page, built anew and loaded anew after each save. */
import { resolve } from "node:path";
import webpack from "webpack";
import configure from "../webpack.config.js";
import { root } from "./install.mjs";
import { usualDraftFolder } from "./server/draftFolder";
import { reloads } from "./server/reloads";
import { serve, stopOnSignal } from "./server/serve";

/** The server goes on after this file has run. */
export const stays = true;

const PORT = 4128;
const [given] = process.argv.slice(2).filter((argument) => !argument.startsWith("--"));
const workbook = given === undefined ? undefined : resolve(process.env.INIT_CWD ?? process.cwd(), given);
const pages = resolve(root, ".cache", "dev");
const page = reloads();

const compiler = webpack({ ...configure({ pages }, { mode: "development" }), stats: "errors-warnings" });
// The second build takes as long as five later ones: it is done before anybody saves.
let warm = false;
const watching = compiler.watch({ aggregateTimeout: 50 }, (problem, stats) => {
  const time = stats?.endTime && stats.startTime ? `${((stats.endTime - stats.startTime) / 1000).toFixed(1)} s` : "";
  if (problem) process.stderr.write(`${problem.message}\n`);
  else if (stats?.hasErrors()) process.stderr.write(`${stats.toString({ preset: "errors-only", colors: true })}\n`);
  else {
    process.stdout.write(`Built in ${time}.\n`);
    page.reload();
    if (!warm) watching?.invalidate();
    warm = true;
  }
});

const { server, address } = await serve({ workbook, pages, page, drafts: usualDraftFolder(), port: PORT });
process.stdout.write(`The page under work is at ${address}\nCtrl-C ends it.\n`);
stopOnSignal(server, "Development");
