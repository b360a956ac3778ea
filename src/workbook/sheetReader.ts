/**
 * Reads a sheet again and again as it changes: only the cells that changed, where it is known which, and the whole
 * sheet otherwise. An answer that comes after a newer reading was asked for is dropped.
 */
import { around, liesIn } from "./area";
import type { Area } from "./book";
import { mergeArea, readExtent } from "./mergeArea";
import type { Port, SheetChange, SheetData } from "./port";

export class SheetReader {
  /** The sheet as it was read last. */
  private known: SheetData | undefined;
  /** What changed since that reading was asked for, oldest first. */
  private changes: SheetChange[] = [];
  private turn = 0;

  constructor(private readonly port: Port) {}

  /** Remembers what the next reading has to fetch. */
  note(change: SheetChange): void {
    if (change.sheet === this.known?.sheet) this.changes.push(change);
  }

  /** The whole sheet. @returns undefined when a newer reading was asked for meanwhile @throws as Port.read does */
  async read(sheet: string): Promise<SheetData | undefined> {
    return this.take(this.changes.length, () => this.port.read(sheet));
  }

  /** The sheet as it is after what was noted. @returns undefined when a newer reading was asked for meanwhile */
  async readChanges(sheet: string): Promise<SheetData | undefined> {
    const { known, changes } = this;
    const area = changes.map((change) => change.area).reduce(around, changes[0]?.area);
    if (known?.sheet !== sheet || !area || !liesIn(area, readExtent(known))) return this.read(sheet);
    return this.take(changes.length, () => this.merged(known, area));
  }

  private async merged(known: SheetData, area: Area): Promise<SheetData> {
    const part = await this.port.readArea(known.sheet, area);
    return mergeArea(known, area, part) ?? (await this.port.read(known.sheet));
  }

  private async take(noted: number, read: () => Promise<SheetData>): Promise<SheetData | undefined> {
    const turn = ++this.turn;
    const data = await read();
    if (turn !== this.turn) return undefined;
    this.known = data;
    this.changes = this.changes.slice(noted);
    return data;
  }
}
