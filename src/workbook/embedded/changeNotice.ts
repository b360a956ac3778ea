/**
 * Tells who listens which sheets changed, once what was typed is computed: all that came together in one notice a sheet.
 */

type Listener = (sheet: string) => void;

export class ChangeNotice {
  private readonly listeners = new Set<Listener>();
  /** Univer's ids of sheets that changed since the last telling. */
  private readonly changed = new Set<string>();

  /**
   * @param settled resolves when what was typed until now is computed
   * @param nameOf the name of a sheet; undefined when it is gone
   */
  constructor(
    private readonly settled: () => Promise<void>,
    private readonly nameOf: (sheet: string) => string | undefined,
  ) {}

  /** Calls back with a sheet's name after its cells changed; returns how to stop. */
  listen(listener: Listener): () => void {
    const own: Listener = (sheet) => listener(sheet);
    this.listeners.add(own);
    return () => this.listeners.delete(own);
  }

  note(sheet: string): void {
    if (this.listeners.size === 0) return;
    const waiting = this.changed.size > 0;
    this.changed.add(sheet);
    if (!waiting) void this.settled().then(() => this.tell());
  }

  private tell(): void {
    const sheets = [...this.changed];
    this.changed.clear();
    for (const id of sheets) {
      const name = this.nameOf(id);
      if (name !== undefined) for (const listener of [...this.listeners]) listener(name);
    }
  }
}
