/** The compiler that checks types, and what it is told. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { root } from "../install.mjs";

/**
 * It takes a fifth of the time. The package "typescript" of the version before stays
 * for lint and for the pages' build, which use its interface for programs.
 */
export const COMPILER = "typescript-native/bin/tsc";

/** Sources with their types, as tsconfig.json has them. @param files full paths */
export function programOf(files: readonly string[]): ts.Program {
  return ts.createProgram(files, compilerOptions());
}

function compilerOptions(): ts.CompilerOptions {
  const config = ts.parseConfigFileTextToJson("tsconfig.json", readFileSync(join(root, "tsconfig.json"), "utf8"));
  return ts.parseJsonConfigFileContent(config.config, ts.sys, root).options;
}
