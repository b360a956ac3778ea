/** docs/commands.md: the command line, from what it says of itself. */
import { EXAMPLES } from "../../src/cli/examples";
import { USAGE } from "../../src/cli/usage";

const INTRODUCTION = `# The command line

Made from the sources by \`npm run docs\`; \`npx bendbook --help\` prints the same. A file is an .xlsx, a .csv or a .parquet. Your file is never written to.`;

/** The help of one command: its name and its lines. */
interface Part {
  readonly name: string;
  readonly lines: string[];
}

/** Cuts the help where a command begins; the lines before the first and after the last stand apart. */
function partsOf(help: string): { commands: Part[]; end: string } {
  const lines = help.split("\n").slice(2);
  const end = lines.pop() ?? "";
  const commands: Part[] = [];
  for (const line of lines) {
    const name = /^ {2}bendbook (\w+)/.exec(line)?.[1];
    if (name !== undefined) commands.push({ name, lines: [line] });
    else if (!line.startsWith("  bendbook")) commands.at(-1)?.lines.push(line);
  }
  return { commands, end };
}

const withoutMargin = (lines: readonly string[]) =>
  lines
    .map((line) => line.replace(/^ {2}/, ""))
    .join("\n")
    .trimEnd();

export function commandsPage(): string {
  const { commands, end } = partsOf(USAGE);
  const sections = commands.map(({ name, lines }) => `## ${name}\n\n\`\`\`\n${withoutMargin(lines)}\n\`\`\``);
  const examples = ["```", ...EXAMPLES.map((example) => `npx bendbook ${example}`), "```"].join("\n");
  return `${[INTRODUCTION, examples, ...sections, end].join("\n\n")}\n`;
}
