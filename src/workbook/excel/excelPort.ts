/**
 * The port over Excel, through Office.js.
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
import { SETTINGS_NAMESPACE, settingsFromXml, settingsToXml } from "../settingsXml";
import { ChangeWatch } from "./changeWatch";
import { inExcel, officeCode, officeExcel, officeProblem, type ExcelHost } from "./excelHost";
import { rangeOf, readArea, readSheet } from "./readSheet";
import { pictureOnPaper } from "./toPaper";
import { fillRow, writeRow, writeSheet } from "./writeSheet";
import { there } from "../../there";

/** Where a picture stands on its sheet, in points: below the first row. */
const PICTURE_LEFT = 8;
const PICTURE_TOP = 24;

/**
 * The open workbook.
 *
 * @example
 * await Office.onReady();
 * const data = await new ExcelPort().read("Trials");
 */
export class ExcelPort implements Port {
  readonly host = "excel";
  private readonly watch: ChangeWatch;
  /** Sheet name → names of its tables at the last reading. */
  private readonly tables = new Map<string, readonly string[]>();

  constructor(private readonly excel: ExcelHost = officeExcel) {
    this.watch = new ChangeWatch(excel);
  }

  sheets(): Promise<readonly SheetSummary[]> {
    return this.ask("list the sheets", async (context) => {
      const { worksheets } = context.workbook;
      worksheets.load("items/name,items/visibility");
      await context.sync();
      return worksheets.items.map(({ name, visibility }) => ({ name, hidden: visibility !== "Visible" }));
    });
  }

  activeSheet(): Promise<string> {
    return this.ask("say which sheet is in front", async (context) => {
      const sheet = context.workbook.worksheets.getActiveWorksheet().load("name");
      await context.sync();
      return sheet.name;
    });
  }

  read(sheet: string): Promise<SheetData> {
    return this.reading(sheet, (tables) => readSheet(this.excel, sheet, tables));
  }

  readArea(sheet: string, area: Area): Promise<SheetPart> {
    return this.reading(sheet, (tables) => readArea(this.excel, sheet, area, tables));
  }

  /** Reads by the names of the tables that were met last time, and remembers them. */
  private async reading<Data extends SheetPart>(
    sheet: string,
    read: (tables: readonly string[]) => Promise<Data>,
  ): Promise<Data> {
    try {
      const data = await read(this.tables.get(sheet) ?? []);
      this.tables.set(
        sheet,
        data.tables.map(({ name }) => name),
      );
      return data;
    } catch (problem) {
      this.tables.delete(sheet);
      if (officeCode(problem) === undefined) throw problem;
      throw await this.sheetProblem(problem, sheet, `read the sheet "${sheet}"`);
    }
  }

  async select(sheet: string, area: Area): Promise<void> {
    try {
      await inExcel(this.excel, async (context) => {
        const worksheet = context.workbook.worksheets.getItem(sheet);
        worksheet.activate();
        rangeOf(worksheet, area).select();
        await context.sync();
      });
    } catch (problem) {
      throw await this.sheetProblem(problem, sheet, `show the sheet "${sheet}"`);
    }
  }

  addSheet(content: NewSheet): Promise<string> {
    return writeSheet(this.excel, content);
  }

  async addRow(content: NewRow): Promise<AddedRow> {
    const place = await placeOfRow(this, content);
    // A cell that was filled since, or a formula that shows nothing, stands in the way: then a new sheet it is.
    if (place && (await writeRow(this.excel, place.sheet, place.row, content.cells))) return { ...place, made: false };
    return { sheet: await this.addSheet(firstRowSheet(content)), row: 1, made: true };
  }

  async fillRow(content: RowCells): Promise<FilledRow> {
    try {
      return await fillRow(this.excel, content);
    } catch (problem) {
      throw await this.sheetProblem(problem, content.sheet, `write into row ${content.row + 1} of "${content.sheet}"`);
    }
  }

  /** Below its label, so that the sheet says in words what the picture shows. */
  addPicture({ name, png, width, label }: NewPicture): Promise<string> {
    const draw = (sheet: Excel.Worksheet) => {
      const shape = sheet.shapes.addImage(png);
      shape.lockAspectRatio = true;
      shape.width = width;
      shape.name = name;
      shape.altTextDescription = label;
      shape.left = PICTURE_LEFT;
      shape.top = PICTURE_TOP;
    };
    return writeSheet(this.excel, { name, rows: [[{ value: label }]] }, draw, pictureOnPaper);
  }

  changeRows(sheet: string, rows: readonly Omit<RowCells, "sheet">[]): Promise<void> {
    return emptyAndFill(this, sheet, rows);
  }

  removeSheet(sheet: string): Promise<void> {
    return this.ask(`remove the sheet "${sheet}"`, async (context) => {
      context.workbook.worksheets.getItem(sheet).delete();
      await context.sync();
    });
  }

  clearCells(sheet: string, area: Area): Promise<void> {
    return this.ask(`empty cells of the sheet "${sheet}"`, async (context) => {
      rangeOf(context.workbook.worksheets.getItem(sheet), area).clear("Contents");
      await context.sync();
    });
  }

  loadSettings(): Promise<string | null> {
    return this.ask("read the settings kept with the workbook", async (context) => {
      const parts = context.workbook.customXmlParts.getByNamespace(SETTINGS_NAMESPACE).load("items/id");
      await context.sync();
      if (parts.items.length === 0) return null;
      const xml = there(parts.items[0], "a part of the workbook").getXml();
      await context.sync();
      // eslint-disable-next-line office-addins/load-object-before-read -- the result of a method, which sync brings
      return settingsFromXml(xml.value) ?? null;
    });
  }

  saveSettings(text: string): Promise<void> {
    return this.ask("keep the settings with the workbook", async (context) => {
      const all = context.workbook.customXmlParts;
      const parts = all.getByNamespace(SETTINGS_NAMESPACE).load("items/id");
      await context.sync();
      const [first, ...more] = parts.items;
      if (first) first.setXml(settingsToXml(text));
      else all.add(settingsToXml(text));
      for (const part of more) part.delete();
      await context.sync();
    });
  }

  onChange(listener: (change: SheetChange) => void): () => void {
    return this.watch.listen(listener);
  }

  private async ask<T>(doing: string, batch: (context: Excel.RequestContext) => Promise<T>): Promise<T> {
    try {
      return await inExcel(this.excel, batch);
    } catch (problem) {
      throw officeProblem(problem, doing);
    }
  }

  /** Says that the sheet is gone or hidden, where that is why. */
  private async sheetProblem(problem: unknown, sheet: string, doing: string): Promise<Error> {
    const all = await this.sheets().catch(() => undefined);
    const found = all?.find(({ name }) => name.toLowerCase() === sheet.toLowerCase());
    if (all && !found)
      return new Error(
        `There is no sheet "${sheet}" in this workbook; it has ${all.map(({ name }) => `"${name}"`).join(", ")}.`,
        { cause: problem },
      );
    if (found?.hidden && doing.startsWith("show"))
      return new Error(`The sheet "${sheet}" is hidden. Unhide it to see its cells.`, { cause: problem });
    return officeProblem(problem, doing);
  }
}
