/**
 * The zip archive around a workbook, with guards against damage and against archives that swell when opened.
 */
import { Inflate, zipSync, type Zippable } from "fflate";
import { there } from "../../../there";
import { corrupt, FileProblem } from "./fileProblem";

/** No part, and no sum of parts, may be larger than this many bytes when inflated. */
export const LARGEST = 512 * 1024 * 1024;
/** Deflate cannot shrink below 1:1032; sheets of numbers reach about 1:30, sheets of one repeated value 1:150. */
const STEEPEST = 500;
const STEEPEST_COUNTS_FROM = 32 * 1024 * 1024;
const MOST_PARTS = 50_000;
/** Half the time of the usual level 6, for sheets that come out one part in a hundred larger. */
const LEVEL = 3;
/** The earliest date a zip can hold, for parts whose age is nobody's business. */
export const EARLIEST = new Date(1980, 0, 1);

interface Entry {
  readonly name: string;
  readonly method: number;
  readonly crc: number;
  readonly packed: number;
  readonly size: number;
  readonly offset: number;
}

/** The parts of an archive by name. Parts are inflated when asked for, each checked for size and checksum. */
export class Archive {
  private readonly parts = new Map<string, Entry | Uint8Array>();
  private readonly source: Uint8Array | undefined;
  private touched = false;

  /** Opens an archive after checking its directory; throws FileProblem. Without bytes: an empty archive. */
  constructor(source?: Uint8Array) {
    this.source = source;
    if (source) for (const entry of checkedDirectory(source)) this.parts.set(entry.name, entry);
  }

  get names(): readonly string[] {
    return [...this.parts.keys()];
  }

  has(name: string): boolean {
    return this.parts.has(this.spelled(name));
  }

  bytes(name: string): Uint8Array {
    const part = this.parts.get(this.spelled(name));
    if (!part) throw corrupt(`its part ${name} is missing`);
    return part instanceof Uint8Array ? part : inflated(there(this.source, "an archive that was opened"), part);
  }

  /** The part as text, in whichever encoding its first bytes or its XML declaration say. */
  text(name: string): string {
    const bytes = this.bytes(name);
    try {
      return new TextDecoder(encodingOf(bytes)).decode(bytes);
    } catch {
      throw corrupt(`its part ${name} is written in the encoding "${encodingOf(bytes)}", which cannot be read here`);
    }
  }

  /** Text is kept as UTF-8, and its XML declaration says so whatever it said before. */
  put(name: string, content: string | Uint8Array): void {
    const bytes =
      typeof content === "string" ? new TextEncoder().encode(content.replace(DECLARED, '$1"UTF-8"')) : content;
    this.parts.set(this.spelled(name), bytes);
    this.touched = true;
  }

  remove(name: string): void {
    this.parts.delete(this.spelled(name));
    this.touched = true;
  }

  /**
   * The archive as bytes; one that nobody changed is the original again. Equal content gives equal bytes: every part
   * carries the earliest date a zip can hold.
   */
  toBytes(): Uint8Array {
    if (this.source && !this.touched) return this.source.slice();
    const files: Zippable = {};
    for (const name of this.parts.keys()) {
      files[name] = [this.bytes(name), { level: /\.(png|jpe?g|gif|zip)$/i.test(name) ? 0 : LEVEL, mtime: EARLIEST }];
    }
    return zipSync(files);
  }

  /** Part names differ by more than case. */
  private spelled(name: string): string {
    if (this.parts.has(name)) return name;
    const lower = name.toLowerCase();
    for (const candidate of this.parts.keys()) if (candidate.toLowerCase() === lower) return candidate;
    return name;
  }
}

const DECLARED = /^(\s*<\?xml\b[^>]*?\sencoding\s*=\s*)(?:"[^"]*"|'[^']*')/;

/** A mark at the start decides, then how the first characters are laid out, then what the XML declaration says. */
function encodingOf(bytes: Uint8Array): string {
  const [first, second] = bytes;
  if ((first === 0xff && second === 0xfe) || (first === 0x3c && second === 0)) return "utf-16le";
  if ((first === 0xfe && second === 0xff) || (first === 0 && second === 0x3c)) return "utf-16be";
  const start = new TextDecoder("windows-1252").decode(bytes.subarray(0, 200)).replace(/^\u00ef\u00bb\u00bf/, "");
  const declared = DECLARED.exec(start)?.[0].match(/["']([^"']*)["']$/)?.[1] ?? "utf-8";
  // Bytes that were read this far are no UTF-16, whatever is declared.
  return /^utf-?16/i.test(declared) ? "utf-8" : declared;
}

function checkedDirectory(bytes: Uint8Array): Entry[] {
  const entries = directory(bytes);
  let total = 0;
  let packed = 0;
  for (const entry of entries) {
    total += entry.size;
    packed += entry.packed;
  }
  if (total > LARGEST || (total > STEEPEST_COUNTS_FROM && total > packed * STEEPEST)) throw tooLarge(total);
  if (packed > bytes.length) throw corrupt("its parts overlap");
  return entries;
}

function tooLarge(size: number): FileProblem {
  const megabytes = Math.round(size / 1024 / 1024).toLocaleString("en");
  return new FileProblem(
    "tooLarge",
    `The file would swell to ${megabytes} MB or more when opened; that is beyond what a trial log needs, so it was not opened.`,
    "If you trust the file, open it in your spreadsheet program and save only the sheet you need as a new workbook or as .csv.",
  );
}

function directory(bytes: Uint8Array): Entry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endRecord(view);
  let count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  if ((count === 0xffff || at === 0xffffffff) && end >= 20 && view.getUint32(end - 20, true) === 0x07064b50) {
    const wide = Number(view.getBigUint64(end - 20 + 8, true));
    if (wide + 56 > bytes.length || view.getUint32(wide, true) !== 0x06064b50)
      throw corrupt("the directory of its parts is not where it should be");
    count = Number(view.getBigUint64(wide + 32, true));
    at = Number(view.getBigUint64(wide + 48, true));
  }
  if (count > MOST_PARTS) throw corrupt(`it claims to have ${count} parts`);
  const entries: Entry[] = [];
  const seen = new Set<string>();
  for (let i = 0; i < count; i++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== 0x02014b50)
      throw corrupt("the directory of its parts is cut off");
    const nameLength = view.getUint16(at + 28, true);
    const extraLength = view.getUint16(at + 30, true);
    const next = at + 46 + nameLength + extraLength + view.getUint16(at + 32, true);
    if (next > bytes.length) throw corrupt("the directory of its parts is cut off");
    const raw = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameLength));
    const name = raw.replace(/\\/g, "/").replace(/^\/+/, "");
    if (view.getUint16(at + 8, true) & 1) throw passwordProtected();
    const wide = wideSizes(view, at + 46 + nameLength, extraLength, {
      size: view.getUint32(at + 24, true),
      packed: view.getUint32(at + 20, true),
      offset: view.getUint32(at + 42, true),
    });
    const method = view.getUint16(at + 10, true);
    if (method !== 0 && method !== 8)
      throw corrupt(`its part ${name} is packed in a way (${method}) that workbooks do not use`);
    if (wide.offset + 30 + wide.packed > bytes.length) throw corrupt(`its part ${name} is cut off`);
    if (seen.has(name)) throw corrupt(`it has two parts called ${name}`);
    seen.add(name);
    if (!name.endsWith("/")) entries.push({ name, method, crc: view.getUint32(at + 16, true), ...wide });
    at = next;
  }
  return entries;
}

function endRecord(view: DataView): number {
  const lowest = Math.max(0, view.byteLength - 22 - 0xffff);
  for (let at = view.byteLength - 22; at >= lowest; at--) {
    if (view.getUint32(at, true) === 0x06054b50) return at;
  }
  throw corrupt("the directory at its end is missing");
}

interface Sizes {
  size: number;
  packed: number;
  offset: number;
}

/** Sizes past 4 GB stand in an extra field, in this order, only where the short field is full. */
function wideSizes(view: DataView, start: number, length: number, short: Sizes): Sizes {
  const sizes = { ...short };
  for (let at = start; at + 4 <= start + length; at += 4 + view.getUint16(at + 2, true)) {
    if (view.getUint16(at, true) !== 1) continue;
    const stop = Math.min(start + length, at + 4 + view.getUint16(at + 2, true));
    let field = at + 4;
    for (const key of ["size", "packed", "offset"] as const) {
      if (sizes[key] !== 0xffffffff || field + 8 > stop) continue;
      sizes[key] = Number(view.getBigUint64(field, true));
      field += 8;
    }
  }
  return sizes;
}

export function passwordProtected(): FileProblem {
  return new FileProblem(
    "protected",
    "The file is protected with a password, so nothing in it can be read.",
    "Open it in your spreadsheet program with the password, take the password off, and save a copy as .xlsx.",
  );
}

/** What Node has of its own, several times as quick as the same in JavaScript; nothing in a browser. */
interface NativeZlib {
  inflateRawSync(packed: Uint8Array, options: { maxOutputLength: number }): Uint8Array;
  crc32?(bytes: Uint8Array): number;
}

const native = (
  globalThis as { process?: { getBuiltinModule?(name: string): NativeZlib | undefined } }
).process?.getBuiltinModule?.("node:zlib");

/** Inflates one part in small steps, so that a part that lies about its size is stopped before it fills the memory. */
function inflated(source: Uint8Array, entry: Entry): Uint8Array {
  const view = new DataView(source.buffer, source.byteOffset, source.byteLength);
  if (view.getUint32(entry.offset, true) !== 0x04034b50)
    throw corrupt(`its part ${entry.name} is not where it should be`);
  const start = entry.offset + 30 + view.getUint16(entry.offset + 26, true) + view.getUint16(entry.offset + 28, true);
  if (start + entry.packed > source.length) throw corrupt(`its part ${entry.name} is cut off`);
  const packed = source.subarray(start, start + entry.packed);
  const content = entry.method === 0 ? packed : inflate(packed, entry);
  if (content.length !== entry.size || crc32(content) !== entry.crc)
    throw corrupt(`its part ${entry.name} does not match its checksum`);
  return content;
}

function inflate(packed: Uint8Array, entry: Entry): Uint8Array {
  if (native && entry.size > 0) return inflateNatively(native, packed, entry);
  const STEP = 64 * 1024;
  const content = new Uint8Array(entry.size);
  let filled = 0;
  const stream = new Inflate((chunk) => {
    if (filled + chunk.length > entry.size) throw tooLarge(filled + chunk.length);
    content.set(chunk, filled);
    filled += chunk.length;
  });
  try {
    for (let at = 0; at < packed.length; at += STEP)
      stream.push(packed.subarray(at, at + STEP), at + STEP >= packed.length);
  } catch (problem) {
    throw problem instanceof FileProblem ? problem : corrupt(`its part ${entry.name} cannot be unpacked`);
  }
  return content.subarray(0, filled);
}

function inflateNatively(zlib: NativeZlib, packed: Uint8Array, entry: Entry): Uint8Array {
  try {
    const content = zlib.inflateRawSync(packed, { maxOutputLength: entry.size });
    return new Uint8Array(content.buffer, content.byteOffset, content.length);
  } catch (problem) {
    if ((problem as { code?: unknown }).code === "ERR_BUFFER_TOO_LARGE") throw tooLarge(entry.size + 1);
    throw corrupt(`its part ${entry.name} cannot be unpacked`);
  }
}

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});

function crc32(bytes: Uint8Array): number {
  if (native?.crc32) return native.crc32(bytes);
  let c = 0xffffffff;
  // By index, because going through the bytes one by one takes twice as long.
  for (let i = 0; i < bytes.length; i++)
    c = there(CRC_TABLE[(c ^ there(bytes[i], "a byte")) & 255], "an entry for every byte") ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}
