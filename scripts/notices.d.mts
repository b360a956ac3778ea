import type { Compiler } from "webpack";
export function packageOf(file: string): string | undefined;
export function noticesText(what: string, folders: Iterable<string>): string;
export class Notices {
  apply(compiler: Compiler): void;
}
