/**
 * What worksheet functions said about the errors they ended in. Univer's cells hold an error code and nothing else, so
 * the words are kept here by cell.
 */

interface Said {
  /** The calculation that said it. */
  readonly run: number;
  readonly at: Map<string, { readonly code: string; readonly message: string }>;
}

/** Messages by cell. Sheets are Univer's sheet ids; rows and columns count from 0. */
export class ErrorMessages {
  private run = 0;
  private anchors = new Map<string, Said>();

  /** A calculation begins: what its formulas say replaces what they said before. */
  begin(): void {
    this.run++;
  }

  /** Runs a calculation outside the cells: it has messages of its own, gone when it ends. */
  async apart<T>(compute: () => Promise<T>): Promise<T> {
    const kept = this.anchors;
    this.anchors = new Map();
    try {
      return await compute();
    } finally {
      this.anchors = kept;
    }
  }

  /** The formula in the cell is computed: what it said in earlier calculations is forgotten. */
  enter(sheet: string, row: number, column: number): void {
    if (this.anchors.size === 0) return;
    const key = `${sheet}\n${row}\n${column}`;
    if (this.anchors.get(key)?.run !== this.run) this.anchors.delete(key);
  }

  /** The formula in (row, column) ends in an error in the cell that is `down` and `right` of it. */
  say(sheet: string, row: number, column: number, down: number, right: number, code: string, message: string): void {
    const key = `${sheet}\n${row}\n${column}`;
    let said = this.anchors.get(key);
    if (!said || said.run !== this.run) this.anchors.set(key, (said = { run: this.run, at: new Map() }));
    said.at.set(`${down}\n${right}`, { code, message });
  }

  /**
   * What the formula in (row, column) said about the error `code` in the cell `down` and `right` of it. An error of a
   * formula that wraps a lifted function has the words of its first cell.
   */
  get(sheet: string, row: number, column: number, down: number, right: number, code: string): string | undefined {
    const said = this.anchors.get(`${sheet}\n${row}\n${column}`);
    if (!said) return undefined;
    const own = said.at.get(`${down}\n${right}`);
    if (own?.code === code) return own.message;
    for (const other of said.at.values()) if (other.code === code) return other.message;
    return undefined;
  }
}
