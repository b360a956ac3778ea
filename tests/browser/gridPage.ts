/** A page with nothing but the grid, for its browser test. */
import type { Book } from "../../src/workbook/book";
import { openGrid, type Grid } from "../../src/workbook/embedded/grid";

declare global {
  interface Window {
    grid: Grid;
    openBook(book: Book): Promise<void>;
    heard: { changes: string[]; selections: unknown[]; errors: string[] };
  }
}

window.heard = { changes: [], selections: [], errors: [] };
window.openBook = async (book) => {
  window.grid = await openGrid(document.getElementById("grid")!, book, {
    onError: (error) => window.heard.errors.push(error.message),
  });
  window.grid.port.onChange(({ sheet }) => window.heard.changes.push(sheet));
  window.grid.onSelect((sheet, area) => window.heard.selections.push([sheet, area]));
};
