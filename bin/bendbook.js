#!/usr/bin/env node
/** The command `bendbook`: installs and bundles what is missing, then hands over. */
import { pathToFileURL } from "node:url";
import { ensureCommandLine } from "../scripts/build.mjs";
import { ensureInstalled } from "../scripts/install.mjs";

ensureInstalled();
const { runProcess } = await import(pathToFileURL(await ensureCommandLine()).href);
await runProcess();
