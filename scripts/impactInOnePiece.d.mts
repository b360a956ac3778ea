import type { Plugin } from "vitest/config";

/** @param textOf what stands in for a file's text; undefined where the file's own counts */
export function impactInOnePiece(textOf?: (path: string) => string | undefined): Plugin;
