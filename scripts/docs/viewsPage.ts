/** docs/views.md: the panel's views, from the help that each shows. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { HELP } from "../../src/panel/frame/help";
import { VIEWS } from "../../src/panel/frame/settings";

const INTRODUCTION = `# The panel's views

Made from the sources by \`npm run docs\`; each view shows the same as its help. Choices stay with the workbook. **Undo** takes back what the panel wrote, the latest first, unless you changed it since. **F6** and **Shift+F6** go from the sheet to the panel, the top bar and what is said.`;

/** Picture of a view, where one was taken. */
function picture(name: string): string[] {
  const path = `pictures/panel-${name.toLowerCase().replace(/\W+/g, "-")}.png`;
  if (!existsSync(join(import.meta.dirname, "..", "..", "docs", path))) return [];
  return [`<img src="${path}" width="240" alt="${name}">`];
}

export function viewsPage(): string {
  const sections = VIEWS.map((view) => {
    const { name, lines } = HELP[view];
    return [`## ${name}`, ...lines, ...picture(name)].join("\n\n");
  });
  return `${[INTRODUCTION, ...sections].join("\n\n")}\n`;
}
