/**
 * Names and roles for the grid's own controls, which its library draws as pictures without words. A control is named by
 * what it does: the words of the command that it carries. What stays without is said in docs/embedded-spreadsheet.md.
 */

/** Controls that carry no command, by where they are. */
const PLACES: readonly (readonly [selector: string, name: string])[] = [
  ["[data-u-comp=defined-name] input", "Cell, or a name of cells"],
  ["[data-u-comp=defined-name] a", "Names of cells"],
  ["[data-u-comp=sheet-bar-append-button]", "Add a sheet"],
  ["[role=handle]", "Zoom"],
  ["[data-u-command*=font-family] input", "Font"],
  ["[data-u-command*=font-size] input", "Size of letters"],
];

/** Words of commands that say nothing to who uses a sheet. */
const INNER = /\b(sheet|univer|base|ui|command|operation|set|range|selection|numfmt|doc|formula)\b/g;

/**
 * @example commandWords("sheet.command.set-range-bold") === "bold"
 */
export function commandWords(command: string): string {
  return command.replace(/[.-]/g, " ").replace(INNER, " ").replace(/\s+/g, " ").trim();
}

/** Names what is in the element now, and what comes later; returns how to stop. */
export function nameControls(grid: HTMLElement): () => void {
  let due: number | undefined;
  const later = () => {
    due ??= requestAnimationFrame(() => {
      due = undefined;
      name(grid);
    });
  };
  const observer = new MutationObserver(later);
  observer.observe(grid, { childList: true, subtree: true });
  name(grid);
  return () => {
    observer.disconnect();
    if (due !== undefined) cancelAnimationFrame(due);
  };
}

function name(grid: HTMLElement): void {
  for (const [selector, text] of PLACES)
    for (const control of grid.querySelectorAll(`${selector}:not([aria-label])`))
      control.setAttribute("aria-label", text);
  // A role that is none hides what the element is.
  for (const track of grid.querySelectorAll("[role=track]")) track.removeAttribute("role");
  for (const handle of grid.querySelectorAll("[role=handle]")) handle.removeAttribute("role");
  for (const opener of grid.querySelectorAll("div[type=button]:not([role]), a[type=button]:not([role])"))
    opener.setAttribute("role", "button");
  for (const control of grid.querySelectorAll<HTMLElement>(
    "button:not([aria-label]), [role=button]:not([aria-label])",
  )) {
    if (control.innerText.trim() !== "") continue;
    const command = control.closest<HTMLElement>("[data-u-command]") ?? control.querySelector("[data-u-command]");
    const words = commandWords(command?.getAttribute("data-u-command") ?? "");
    control.setAttribute("aria-label", words || "More");
  }
  for (const input of grid.querySelectorAll("input:not([aria-label])")) {
    const command = input.closest("[data-u-command]")?.getAttribute("data-u-command") ?? "";
    input.setAttribute("aria-label", commandWords(command) || "Value");
  }
  for (const canvas of grid.querySelectorAll("canvas[id^=univer-sheet-main-canvas]:not([role])")) {
    canvas.setAttribute("role", "application");
    canvas.setAttribute("aria-label", "Cells of the sheet in front");
  }
}
