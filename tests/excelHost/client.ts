/** Where Microsoft's client stands: in the npm package, which is for development alone. */
import { pathToFileURL } from "node:url";
import { join } from "node:path";
import { root } from "../../scripts/install.mjs";

export const CLIENT_FOLDER = pathToFileURL(join(root, "node_modules", "@microsoft", "office-js", "dist", "/"));
/** The file for Excel on Windows, which speaks to its host over a bridge object. */
export const CLIENT = "excel-win32-16.01.js";
