#!/usr/bin/env node
/** The command `bendbook`: installs and bundles what is missing, then hands over. */
import { pathToFileURL } from "node:url";
import { ensureInstalled } from "../scripts/install.mjs";

ensureInstalled();
const { register } = await import("tsx/esm/api");
const unregister = register();
const { ensureCommandLine } = await import("../scripts/build.ts");
const commandLine = await ensureCommandLine();
await unregister();
await import(pathToFileURL(commandLine).href);
