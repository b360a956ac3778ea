/**
 * Excel's change and calculation events as calls with the sheet and the cells. A calculation does not say which cells
 * came out otherwise, nor does Excel where rows or columns come and go: then anything on the sheet may have changed.
 *
 * There is one registration with Excel however many listen, made for the first and taken back after the last; events
 * that arrive while names are looked up share the next look-up.
 */
import { parseAddress } from "../address";
import { around } from "../area";
import type { Area } from "../book";
import type { SheetChange } from "../port";
import { inExcel, type ExcelHost } from "./excelHost";

type Listener = (change: SheetChange) => void;
interface Registration {
  remove(): void;
  readonly context: { sync(): Promise<unknown> };
}

/** Cells that were typed into; undefined for any other change, and where the address is more than one rectangle. */
function areaOf({ address, changeType }: Excel.WorksheetChangedEventArgs): Area | undefined {
  return changeType === "RangeEdited" ? parseAddress(address) : undefined;
}

export class ChangeWatch {
  private readonly listeners = new Set<Listener>();
  private registered: Promise<readonly Registration[]> | undefined;
  /** By Excel's id of the sheet, what changed on it since the last telling; undefined for anything. */
  private readonly changed = new Map<string, Area | undefined>();
  private looking = false;

  constructor(private readonly excel: ExcelHost) {}

  /** Adds a listener; gives back how to stop. */
  listen(listener: Listener): () => void {
    const own: Listener = (change) => listener(change);
    this.listeners.add(own);
    this.registered ??= this.register();
    return () => {
      this.listeners.delete(own);
      if (this.listeners.size === 0) void this.release();
    };
  }

  private register(): Promise<readonly Registration[]> {
    return inExcel(this.excel, async (context) => {
      const { worksheets } = context.workbook;
      const made = [
        worksheets.onChanged.add(async (event) => this.hear(event.worksheetId, areaOf(event))),
        worksheets.onCalculated.add(async ({ worksheetId }) => this.hear(worksheetId, undefined)),
      ];
      await context.sync();
      return made;
    }).catch((problem: unknown) => {
      console.warn("Bendbook cannot follow changes in this workbook.", problem);
      return [];
    });
  }

  private async release(): Promise<void> {
    const registered = this.registered;
    this.registered = undefined;
    for (const registration of (await registered) ?? []) {
      registration.remove();
      // A workbook that is closing answers no more; there is nothing left to take back then.
      await registration.context.sync().catch(() => undefined);
    }
  }

  private hear(worksheetId: string, area: Area | undefined): void {
    const before = this.changed.get(worksheetId);
    this.changed.set(worksheetId, this.changed.has(worksheetId) ? around(before, area) : area);
    if (!this.looking && this.listeners.size > 0) void this.tell();
  }

  private async tell(): Promise<void> {
    this.looking = true;
    try {
      while (this.changed.size > 0) {
        const changes = [...this.changed];
        this.changed.clear();
        const names = await this.namesById().catch(() => new Map<string, string>());
        for (const [id, area] of changes) {
          const sheet = names.get(id); // none for a sheet that is gone by now
          if (sheet === undefined) continue;
          for (const listener of [...this.listeners]) listener(area ? { sheet, area } : { sheet });
        }
      }
    } finally {
      this.looking = false;
    }
  }

  private namesById(): Promise<Map<string, string>> {
    return inExcel(this.excel, async (context) => {
      const { worksheets } = context.workbook;
      worksheets.load("items/id,items/name");
      await context.sync();
      return new Map(worksheets.items.map(({ id, name }) => [id, name]));
    });
  }
}
