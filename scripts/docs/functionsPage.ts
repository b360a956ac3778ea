/** docs/functions.md: every worksheet function, from the metadata that Excel shows and the examples beside the code. */
import metadata from "../../src/functions/functions.json";
import { functionExamples, type FunctionExample } from "./functionTexts.mjs";

interface Parameter {
  readonly name: string;
  readonly description?: string;
  readonly optional?: boolean;
}

const INTRODUCTION = `# Worksheet functions

Made from the sources by \`npm run docs\`.

Lengths are in inches with a 2 1/4 in ball unless you say \`"mm"\` (57.15 mm). The functions of a computed shot take \`"us"\` (in, mph, degrees, °F) unless you say \`"si"\`. Functions of single cells also take ranges and spill. A blank gives #N/A, a wrong value #VALUE!. The message names the argument, the value and the mend. Arguments in brackets may be left out.

The answers below show the first row, to six digits. [Constants of the table](conditions.md) tells what \`conditions\` may hold.`;

const call = (name: string, parameters: readonly Parameter[]) =>
  `BANK.${name}(${parameters.map((each) => (each.optional ? `[${each.name}]` : each.name)).join(", ")})`;

const anchor = (name: string) => `#bank${name.toLowerCase()}`;

/** What a description says first: up to a sentence's end, a colon or a semicolon. */
const firstSentence = (text: string) => text.split(/\.\s+(?=[A-Z])|\.$|[:;]\s/)[0];

function section(name: string, description: string, parameters: readonly Parameter[], examples: FunctionExample[]) {
  const lines = parameters.map((each) => `- \`${each.name}\`: ${each.description ?? ""}`);
  const shown = examples.map(({ formula, shown: answer }) => `=${formula} → ${answer}`.trimEnd());
  return [`## BANK.${name}`, `\`${call(name, parameters)}\``, description, lines.join("\n"), fenced(shown)].join("\n\n");
}

const fenced = (lines: readonly string[]) => ["```", ...lines, "```"].join("\n");

export function functionsPage(): string {
  const examples = functionExamples();
  const { functions } = metadata;
  const index = functions.map(
    ({ name, description }) => `| [BANK.${name}](${anchor(name)}) | ${firstSentence(description)} |`,
  );
  const sections = functions.map(({ name, description, parameters }) =>
    section(
      name,
      description,
      parameters,
      examples.filter((each) => each.name === name),
    ),
  );
  return `${[INTRODUCTION, ["| function | gives |", "| --- | --- |", ...index].join("\n"), ...sections].join("\n\n")}\n`;
}
