/**
 * The port over a workbook running in Univer, in Node or in the browser.
 */
import type { Area } from "../book";
import { emptyAndFill } from "../emptyAndFill";
import type {
  AddedRow,
  FilledRow,
  NewPicture,
  NewRow,
  NewSheet,
  Port,
  RowCells,
  SheetChange,
  SheetData,
  SheetPart,
  SheetSummary,
} from "../port";
import { firstRowSheet, placeOfRow } from "../rowPlace";
import { sheetData, sheetPart } from "../sheetData";
import type { LiveBook } from "./liveBook";

/** What a workbook on a screen can do besides. */
export interface Screen {
  /** Puts a picture over a sheet, from the second row on. */
  showPicture(sheet: string, picture: NewPicture): Promise<void>;
  /** Gives the keyboard to the selected cell. */
  focus(): void;
}

export class EmbeddedPort implements Port {
  readonly host = "embedded";

  readonly addPicture?: (picture: NewPicture) => Promise<string>;

  /** @param screen what only a screen has; missing where there is none */
  constructor(
    private readonly live: LiveBook,
    private readonly screen?: Screen,
  ) {
    if (!screen) return;
    // Below its label, so that the sheet says in words what the picture shows.
    this.addPicture = async (picture) => {
      const sheet = this.live.addSheet({ name: picture.name, rows: [[{ value: picture.label }]] });
      try {
        await screen.showPicture(sheet, picture);
      } catch (problem) {
        this.live.removeSheet(sheet);
        throw problem;
      }
      return sheet;
    };
  }

  async sheets(): Promise<readonly SheetSummary[]> {
    return this.live.workbook
      .getSheets()
      .map((sheet) => ({ name: sheet.getName(), hidden: sheet.isSheetHidden() === 1 }));
  }

  async activeSheet(): Promise<string> {
    return this.live.workbook.getActiveSheet()?.getName() ?? "";
  }

  async read(sheet: string): Promise<SheetData> {
    const found = await this.live.sheetInTurns(sheet);
    if (!found) throw new Error(this.live.noSheet(sheet));
    return sheetData(found.sheet, found.styles);
  }

  async readArea(sheet: string, area: Area): Promise<SheetPart> {
    const found = await this.live.sheetInTurns(sheet, area);
    if (!found) throw new Error(this.live.noSheet(sheet));
    return sheetPart(found.sheet, found.styles, area);
  }

  async select(sheet: string, area: Area, keyboard = false): Promise<void> {
    this.live.select(sheet, area);
    if (keyboard) this.screen?.focus();
  }

  async addSheet(content: NewSheet): Promise<string> {
    return this.live.addSheet(content);
  }

  async addRow(content: NewRow): Promise<AddedRow> {
    const place = await placeOfRow(this, content);
    if (!place) return { sheet: this.live.addSheet(firstRowSheet(content)), row: 1, made: true };
    this.live.putRow(place.sheet, place.row, content.cells);
    return { ...place, made: false };
  }

  async fillRow({ sheet, row, cells }: RowCells): Promise<FilledRow> {
    return this.live.fillRow(sheet, row, cells);
  }

  changeRows(sheet: string, rows: readonly Omit<RowCells, "sheet">[]): Promise<void> {
    return emptyAndFill(this, sheet, rows);
  }

  async removeSheet(sheet: string): Promise<void> {
    this.live.removeSheet(sheet);
  }

  async clearCells(sheet: string, area: Area): Promise<void> {
    this.live.clearCells(sheet, area);
  }

  async loadSettings(): Promise<string | null> {
    return this.live.settings ?? null;
  }

  async saveSettings(text: string): Promise<void> {
    this.live.saveSettings(text);
  }

  onChange(listener: (change: SheetChange) => void): () => void {
    return this.live.onChange(listener);
  }
}
