/**
 * Excel's change and calculation events as calls with a sheet's name.
 *
 * There is one registration with Excel however many listen, made for the first and taken back after the last; events
 * that arrive while names are looked up share the next look-up.
 */
import { inExcel, type ExcelHost } from "./excelHost";

type Listener = (sheet: string) => void;
interface Registration {
  remove(): void;
  readonly context: { sync(): Promise<unknown> };
}

export class ChangeWatch {
  private readonly listeners = new Set<Listener>();
  private registered: Promise<readonly Registration[]> | undefined;
  private readonly changed = new Set<string>();
  private looking = false;

  constructor(private readonly excel: ExcelHost) {}

  /** Adds a listener; gives back how to stop. */
  listen(listener: Listener): () => void {
    const own: Listener = (sheet) => listener(sheet);
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
      const heard = async ({ worksheetId }: { worksheetId: string }) => this.hear(worksheetId);
      const made = [worksheets.onChanged.add(heard), worksheets.onCalculated.add(heard)];
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

  private hear(worksheetId: string): void {
    this.changed.add(worksheetId);
    if (!this.looking && this.listeners.size > 0) void this.tell();
  }

  private async tell(): Promise<void> {
    this.looking = true;
    try {
      while (this.changed.size > 0) {
        const ids = [...this.changed];
        this.changed.clear();
        const names = await this.namesById().catch(() => new Map<string, string>());
        for (const id of ids) {
          const name = names.get(id); // none for a sheet that is gone by now
          if (name !== undefined) for (const listener of [...this.listeners]) listener(name);
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
