/** A lint rule: a file of src/ imports only what the table of rooms lets its room import. */
import { dirname, relative, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { mayImport, roomOf, ROOMS } from "./rooms.mjs";

const SRC = resolve(dirname(fileURLToPath(import.meta.url)), "../../src");
/** @param {string} file */
const below = (file) => relative(SRC, file).split(sep).join("/");

/** @type {import("eslint").Rule.RuleModule} */
const arrows = {
  meta: {
    type: "problem",
    schema: [],
    messages: {
      up: "The room {{from}} may not import {{to}}: arrows only go down (scripts/lint/rooms.mjs).",
      unknown: "The room {{from}} stands in no table: say in scripts/lint/rooms.mjs what it may import.",
    },
  },
  create(context) {
    const file = below(context.filename);
    if (file.startsWith("..")) return {};
    const from = roomOf(file);
    /** @param {{ source?: { value?: unknown } | null }} node */
    const check = (node) => {
      const source = node.source?.value;
      if (typeof source !== "string" || !source.startsWith(".")) return;
      const target = below(resolve(dirname(context.filename), source));
      // package.json, which says the version.
      if (target.startsWith("..")) return;
      const to = roomOf(target);
      if (!mayImport(from, to))
        context.report({ node, messageId: "up", data: { from: `src/${from}`, to: `src/${to}` } });
    };
    return {
      Program(node) {
        if (!(from in ROOMS)) context.report({ node, messageId: "unknown", data: { from: `src/${from}` } });
      },
      ImportDeclaration: check,
      ImportExpression: check,
      ExportNamedDeclaration: check,
      ExportAllDeclaration: check,
    };
  },
};

export default { rules: { arrows } };
