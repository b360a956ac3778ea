/** node scripts/run.mjs TASK …: installs what is missing, then runs scripts/TASK.ts. */
import { ensureInstalled } from "./install.mjs";

const [task] = process.argv.splice(2, 1);
ensureInstalled();
const { register } = await import("tsx/esm/api");
register();
const { stays } = await import(`./${task}.ts`);
// The TypeScript loader's own channel can keep the process after its work is done; a task that serves says that it
// stays.
if (!stays) process.exit(process.exitCode ?? 0);
