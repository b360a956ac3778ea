/** Builds what is stale: the pages and the command line. */
import { ensureCommandLine, ensurePages } from "./build.mjs";

ensurePages();
await ensureCommandLine();
