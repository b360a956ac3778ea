import type { BuildOptions } from "esbuild";
/** Builds the pages with webpack unless dist/ is up to date. @throws Error when the build fails */
export function ensurePages(): void;
/** Bundles the command line into dist/cli.mjs unless it is up to date. @returns its path */
export function ensureCommandLine(): Promise<string>;
/** How the command line is bundled, but for where it goes and what stays outside. */
export const COMMAND_LINE: BuildOptions;
