/**
 * The licences of what the pages carry, as notices.txt beside them: each package once, with its text, made by the build
 * from the modules that went in. The scripts themselves then need no licence comments.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join, sep } from "node:path";

const NODE_MODULES = `${sep}node_modules${sep}`;

/** The folder of the package that a file belongs to; undefined for our own. @param {string} file */
export function packageOf(file) {
  const at = file.lastIndexOf(NODE_MODULES);
  if (at < 0) return undefined;
  const names = file.slice(at + NODE_MODULES.length).split(sep);
  return join(file.slice(0, at), "node_modules", ...names.slice(0, names[0].startsWith("@") ? 2 : 1));
}

/** What a package is called, and the text of its licence. @param {string} folder of the package */
function noticeOf(folder) {
  const { name, version, license, author } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
  const holder = typeof author === "string" ? author : author?.name;
  const said = `${typeof license === "string" ? license : "see its text"}${holder ? `, ${holder}` : ""}`;
  const files = readdirSync(folder).filter((file) => /^(licen[cs]e|notice|copying)/i.test(file));
  const text = files.map((file) => readFileSync(join(folder, file), "utf8").trim()).join("\n\n");
  return { title: `${name} ${version} (${said})`, text: text || "The package carries no text of its licence." };
}

/** Each text once, under all the packages that have it. @param {readonly { title: string, text: string }[]} notices */
function together(notices) {
  const byText = new Map();
  for (const { title, text } of notices) byText.set(text, [...(byText.get(text) ?? []), title]);
  return [...byText].map(([text, titles]) => `${titles.sort().join("\n")}\n\n${text}`).sort();
}

/**
 * The licences of the packages in these folders.
 * @param {string} what carries them, as the beginning of a sentence
 * @param {Iterable<string>} folders
 */
export function noticesText(what, folders) {
  const rule = `\n\n${"-".repeat(80)}\n\n`;
  const head = `${what} these packages, each under its own licence.`;
  return `${[head, ...together([...folders].map(noticeOf))].join(rule)}\n`;
}

export class Notices {
  /** @param {import("webpack").Compiler} compiler */
  apply(compiler) {
    const { Compilation, sources } = compiler.webpack;
    compiler.hooks.thisCompilation.tap("Notices", (compilation) => {
      compilation.hooks.processAssets.tap({ name: "Notices", stage: Compilation.PROCESS_ASSETS_STAGE_REPORT }, () => {
        const folders = new Set();
        const visit = (module) => {
          const folder = module.resource ? packageOf(module.resource) : undefined;
          if (folder && existsSync(join(folder, "package.json"))) folders.add(folder);
          for (const inner of module.modules ?? []) visit(inner);
        };
        for (const module of compilation.modules) visit(module);
        compilation.emitAsset("notices.txt", new sources.RawSource(noticesText("Bendbook's pages carry", folders)));
      });
    });
  }
}
