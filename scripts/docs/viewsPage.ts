/** docs/views.md: the panel's views, from the help that each shows. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { HELP } from "../../src/panel/frame/help";
import { KEYS } from "../../src/panel/frame/keys";
import { STAGES, viewsOf } from "../../src/panel/frame/stages";
import type { ViewName } from "../../src/panel/frame/settings";

const INTRODUCTION = `# The panel's views

Made from the sources by \`npm run docs\`; each view shows the same as its help. Choices stay with the workbook. **Undo** takes back what the panel wrote, the latest first, unless you changed it since. They follow the work: prepare, shoot, learn, show. The line below them says what is next in this workbook. Units, confidence and theme are chosen once, under **Preferences**, and stay with the person: in the browser's storage, never in a workbook. Beside the embedded grid the panel's edge moves by hand and by the arrow keys, and **Panel on the full page** gives a view all the room; in Excel the pane's own edge does the first, and **Open the panel on a page of its own**, below the panel, the second.`;

/** Picture of a view, where one was taken. */
function picture(name: string): string[] {
  const path = `pictures/panel-${name.toLowerCase().replace(/\W+/g, "-")}.png`;
  if (!existsSync(join(import.meta.dirname, "..", "..", "docs", path))) return [];
  return [`<img src="${path}" width="240" alt="${name}">`];
}

function section(view: ViewName): string {
  const { name, lines } = HELP[view];
  return [`### ${name}`, ...lines, ...picture(name)].join("\n\n");
}

/** The keys, with where they hold. */
function keys(): string {
  const rows = KEYS.map(({ keys: pressed, does, besideGrid }) => {
    const where = besideGrid ? "beside the embedded grid" : "everywhere";
    return `| ${pressed} | ${does} | ${where} |`;
  });
  return ["## Keys", ["| keys | what they do | where |", "| --- | --- | --- |", ...rows].join("\n")].join("\n\n");
}

export function viewsPage(): string {
  const stages = STAGES.flatMap((stage) => [`## ${stage}`, ...viewsOf(stage).map(section)]);
  return `${[INTRODUCTION, ...stages, keys()].join("\n\n")}\n`;
}
