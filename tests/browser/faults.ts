/** What a checker of WCAG 2.2 AA blames a page for. Its script has to be in the page: `page.evaluate(axe.source)`. */
import type axe from "axe-core";
import type { Page } from "playwright-core";

const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/** What the checker finds in the frame and the panel; docs say what the grid of the library lacks. */
export async function faults(page: Page, only?: readonly string[]): Promise<string[]> {
  const found = await page.evaluate(
    async ([rules, tags]) => {
      const { axe: checker } = window as unknown as { axe: typeof axe };
      const runOnly = rules
        ? { type: "rule" as const, values: [...rules] }
        : { type: "tag" as const, values: [...tags] };
      const { violations } = await checker.run({ include: [["body"]], exclude: [["#grid"]] }, { runOnly });
      // Places on a drawing to scale stand where they stand; the same values have fields beside the drawing.
      const onDrawing = (id: string, html: string) => id === "target-size" && html.includes('role="slider"');
      return violations.flatMap(({ id, nodes }) =>
        nodes.flatMap(({ html }) => (onDrawing(id, html) ? [] : [`${id}: ${html.slice(0, 160)}`])),
      );
    },
    [only, RULES] as const,
  );
  return [...new Set(found)];
}
