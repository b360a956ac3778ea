/** node scripts/run.mjs TASK …: installs what is missing, then runs scripts/TASK.ts. */
import { ensureInstalled } from "./install.mjs";

const [task] = process.argv.splice(2, 1);
ensureInstalled();
const { register } = await import("tsx/esm/api");
register();
await import(`./${task}.ts`);
