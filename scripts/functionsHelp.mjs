/**
 * functions.html, which Excel opens from a function's tooltip and from its dialog (helpUrl in functions.json): each
 * function with its arguments, what it gives and its examples, under an anchor of its name. Made by the build from
 * functions.json and the comments that it comes from; no script, so that it opens anywhere.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { functionExamples, functionResults } from "./docs/functionTexts.mjs";

const METADATA = join(import.meta.dirname, "..", "src", "functions", "functions.json");
const STYLE = `:root{color-scheme:light dark;font:16px/1.5 "Segoe UI",Helvetica,Arial,sans-serif}
body{max-width:46rem;margin:0 auto;padding:1rem;overflow-wrap:anywhere}
code{font-family:Consolas,Menlo,monospace}
section{border-top:1px solid;margin-top:2rem}
section:target h2{text-decoration:underline}
dt{font-weight:600}
dd{margin:0 0 .5rem 1rem}`;

/** @param {string} text */
const escaped = (text) => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
/** @param {string} name */
const full = (name) => `BANK.${name}`;

/**
 * @typedef {{ name: string, description: string, optional?: boolean }} Parameter
 * @param {{ name: string, description: string, parameters: Parameter[] }} one
 */
function section({ name, description, parameters }) {
  const call = parameters.map((each) => (each.optional ? `[${each.name}]` : each.name)).join(", ");
  const examples = functionExamples().filter((each) => each.name === name);
  return `<section id="${full(name)}">
<h2>${full(name)}</h2>
<p><code>=${full(name)}(${call})</code></p>
<p>${escaped(description)}</p>
<dl>
${parameters.map((each) => `<dt>${each.name}</dt><dd>${escaped(each.description)}</dd>`).join("\n")}
<dt>gives</dt><dd>${escaped(functionResults()[name] ?? "")}</dd>
</dl>
${examples.map(({ formula, shown }) => `<p><code>=${escaped(formula)}</code> gives <code>${escaped(shown)}</code></p>`).join("\n")}
</section>`;
}

export function functionsHelp() {
  const { functions } = JSON.parse(readFileSync(METADATA, "utf8"));
  const index = functions.map(({ name }) => `<li><a href="#${full(name)}">${full(name)}</a></li>`).join("\n");
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8" />
<meta name="viewport" content="width=device-width, initial-scale=1" />
<title>Bendbook: worksheet functions</title>
<link rel="icon" href="icon-32.png" />
<style>${STYLE}</style>
</head>
<body>
<h1>Bendbook: worksheet functions</h1>
<p>Arguments in brackets may be left out. Functions of single cells also take ranges and fill as many cells. A blank gives #N/A and a wrong value #VALUE!; Excel shows what is wrong at the sign beside the cell. Examples show the first row, to six digits.</p>
<p>Formulas that stay at #BUSY! or #NAME?: open the Bendbook pane from the Home tab once. It says what it lacks.</p>
<ul>
${index}
</ul>
${functions.map(section).join("\n")}
</body>
</html>
`;
}

/** Puts the page beside the others. */
export class FunctionsHelp {
  /** Named as the other makers of pages name theirs. */
  userOptions = { filename: "functions.html" };

  /** @param {import("webpack").Compiler} compiler */
  apply(compiler) {
    const { Compilation, sources } = compiler.webpack;
    compiler.hooks.thisCompilation.tap("FunctionsHelp", (compilation) => {
      compilation.fileDependencies.add(METADATA);
      compilation.hooks.processAssets.tap(
        { name: "FunctionsHelp", stage: Compilation.PROCESS_ASSETS_STAGE_ADDITIONAL },
        () => compilation.emitAsset(this.userOptions.filename, new sources.RawSource(functionsHelp())),
      );
    });
  }
}
