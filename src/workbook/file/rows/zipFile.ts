/** An archive written into an open file as its parts come. Node only. */
import type { FileHandle } from "node:fs/promises";
import { strToU8, Zip, ZipDeflate } from "fflate";
import { EARLIEST } from "../package/zip";

/** A part that is written piece by piece. */
export interface OpenPart {
  push(text: string): Promise<void>;
  end(text: string): Promise<void>;
}

export class ZipFile {
  // The archive hands out pieces at once; the file takes them one after the other.
  private pending: Uint8Array[] = [];
  private failed: Error | undefined;
  private readonly zip = new Zip((problem, piece) => {
    if (problem) this.failed = problem;
    else this.pending.push(piece);
  });

  constructor(private readonly file: FileHandle) {}

  /** Begins a part; it ends before the next begins. */
  part(name: string): OpenPart {
    const entry = new ZipDeflate(name, { level: 3 });
    entry.mtime = EARLIEST;
    this.zip.add(entry);
    const push = (text: string, last: boolean) => {
      entry.push(strToU8(text), last);
      return this.flush();
    };
    return { push: (text) => push(text, false), end: (text) => push(text, true) };
  }

  /** Writes a whole part. */
  put(name: string, text: string): Promise<void> {
    return this.part(name).end(text);
  }

  async end(): Promise<void> {
    this.zip.end();
    await this.flush();
  }

  private async flush(): Promise<void> {
    if (this.failed) throw this.failed;
    const pieces = this.pending;
    this.pending = [];
    for (const piece of pieces) await this.file.appendFile(piece);
  }
}
