/** Text on the clipboard, also where a pane inside another program is refused the newer way. */

/** @throws Error that says what to do where the browser allows neither way */
export async function copyText(text: string): Promise<void> {
  try {
    await navigator.clipboard.writeText(text);
  } catch {
    if (!copyBySelection(text))
      throw new Error("The browser did not let it be copied. Mark it and copy it by keyboard.");
  }
}

/** By a field that is marked for a moment; the keyboard goes back to where it was. */
function copyBySelection(text: string): boolean {
  const before = document.activeElement;
  const field = document.createElement("textarea");
  field.value = text;
  field.setAttribute("readonly", "");
  field.style.position = "fixed";
  field.style.opacity = "0";
  document.body.append(field);
  field.select();
  try {
    return document.execCommand("copy");
  } catch {
    return false;
  } finally {
    field.remove();
    if (before instanceof HTMLElement) before.focus();
  }
}

/** The rows of a table with tabs between their cells, as spreadsheets take them. */
export function tableText(table: HTMLTableElement): string {
  return Array.from(table.rows, ({ cells }) => Array.from(cells, (cell) => cell.innerText.trim()).join("\t")).join(
    "\n",
  );
}
