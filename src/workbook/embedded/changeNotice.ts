/**
 * Tells who listens what changed, once what was typed is computed: all that came together in one notice a sheet.
 */
import { around } from "../area";
import type { Area } from "../book";
import type { SheetChange } from "../port";

type Listener = (change: SheetChange) => void;

export class ChangeNotice {
  private readonly listeners = new Set<Listener>();
  /** By Univer's id of the sheet, what changed on it since the last telling; undefined for anything. */
  private readonly changed = new Map<string, Area | undefined>();

  /**
   * @param settled resolves when what was typed until now is computed
   * @param nameOf the name of a sheet; undefined when it is gone
   * @param spills whether formulas of the sheet fill cells besides their own: these change without being said
   */
  constructor(
    private readonly settled: () => Promise<void>,
    private readonly nameOf: (sheet: string) => string | undefined,
    private readonly spills: (sheet: string) => boolean,
  ) {}

  /** Calls back after cells changed; returns how to stop. */
  listen(listener: Listener): () => void {
    const own: Listener = (change) => listener(change);
    this.listeners.add(own);
    return () => this.listeners.delete(own);
  }

  /** @param area where; missing when anything on the sheet may be otherwise */
  note(sheet: string, area?: Area): void {
    if (this.listeners.size === 0) return;
    const waiting = this.changed.size > 0;
    const known = this.spills(sheet) ? undefined : area;
    this.changed.set(sheet, this.changed.has(sheet) ? around(this.changed.get(sheet), known) : known);
    if (!waiting) void this.settled().then(() => this.tell());
  }

  private tell(): void {
    const changes = [...this.changed];
    this.changed.clear();
    for (const [id, area] of changes) {
      const sheet = this.nameOf(id);
      if (sheet === undefined) continue;
      const change = area && !this.spills(id) ? { sheet, area } : { sheet };
      for (const listener of [...this.listeners]) listener(change);
    }
  }
}
