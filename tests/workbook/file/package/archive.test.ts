/** The archive around a workbook: against another zip library, as a browser reads it, and in forms that few write. */
import { strToU8, unzipSync, zipSync, type Zippable } from "fflate";
import fc from "fast-check";
import { afterEach, describe, expect, it, vi } from "vitest";
import { Archive } from "../../../../src/workbook/file/package/zip";

const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);
const contents = (archive: Archive) => Object.fromEntries(archive.names.map((name) => [name, archive.bytes(name)]));

/** Places of the directory's entries in an archive without a comment. */
function entriesOf(bytes: Uint8Array): { at: number; end: number; name: string }[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = view.getUint32(bytes.length - 22 + 16, true);
  return Array.from({ length: view.getUint16(bytes.length - 22 + 10, true) }, () => {
    const name = text(bytes.subarray(at + 46, at + 46 + view.getUint16(at + 28, true)));
    const end = at + 46 + name.length + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    const entry = { at, end, name };
    at = end;
    return entry;
  });
}

/** The archive with its directory's entries, and its end, as the test makes them. */
function redone(
  bytes: Uint8Array,
  entry: (head: Uint8Array, name: Uint8Array) => Uint8Array[],
  end: (record: DataView, directory: number, count: number, size: number) => Uint8Array[] = (record) => [
    new Uint8Array(record.buffer),
  ],
): Uint8Array {
  const entries = entriesOf(bytes);
  const directory = entries[0]!.at;
  const made = entries.flatMap(({ at, end: to }) => entry(bytes.slice(at, at + 46), bytes.slice(at + 46, to)));
  const size = made.reduce((sum, piece) => sum + piece.length, 0);
  const record = new DataView(bytes.slice(bytes.length - 22).buffer);
  record.setUint32(12, size, true);
  return Buffer.concat([bytes.slice(0, directory), ...made, ...end(record, directory, entries.length, size)]);
}

const FILES = { "one.xml": strToU8("<one/>"), "xl/two.xml": strToU8("<two>".repeat(400)), "three.png": strToU8("3") };
const zipped = (files: Zippable = FILES) => zipSync(files, { level: 6 });

/** The archive with the fields named written wide: PKWARE's APPNOTE 4.3.14, 4.3.15 and 4.5.3. */
function written(wide: readonly string[], told: (far: DataView, locator: DataView) => void = () => {}): Uint8Array {
  const FIELDS = { size: 24, packed: 20, offset: 42 } as const;
  return redone(
    zipped(),
    (head, name) => {
      const view = new DataView(head.buffer);
      const values = wide.map((field) => {
        const at = FIELDS[field as keyof typeof FIELDS];
        const value = view.getUint32(at, true);
        view.setUint32(at, 0xffffffff, true);
        return BigInt(value);
      });
      const other = Uint8Array.from([0xfe, 0xca, 2, 0, 9, 9]);
      const field = new DataView(new ArrayBuffer(4 + 8 * values.length));
      field.setUint16(0, 1, true);
      field.setUint16(2, 8 * values.length, true);
      values.forEach((value, i) => field.setBigUint64(4 + 8 * i, value, true));
      view.setUint16(30, other.length + field.byteLength, true);
      return [head, name, other, new Uint8Array(field.buffer)];
    },
    (record, directory, count, size) => {
      const far = new DataView(new ArrayBuffer(56));
      far.setUint32(0, 0x06064b50, true);
      far.setBigUint64(4, 44n, true);
      far.setBigUint64(24, BigInt(count), true);
      far.setBigUint64(32, BigInt(count), true);
      far.setBigUint64(40, BigInt(size), true);
      far.setBigUint64(48, BigInt(directory), true);
      const locator = new DataView(new ArrayBuffer(20));
      locator.setUint32(0, 0x07064b50, true);
      locator.setBigUint64(8, BigInt(directory + size), true);
      locator.setUint32(16, 1, true);
      record.setUint16(8, 0xffff, true);
      record.setUint16(10, 0xffff, true);
      record.setUint32(16, 0xffffffff, true);
      told(far, locator);
      return [far, locator, record].map(({ buffer }) => new Uint8Array(buffer as ArrayBuffer));
    },
  );
}

describe("an archive", () => {
  it("is read as another library packs it, and packed as it unpacks it", () => {
    fc.assert(
      fc.property(
        fc.dictionary(fc.stringMatching(/^[a-z]{1,8}$/), fc.uint8Array({ maxLength: 300 }), { minKeys: 1 }),
        fc.constantFrom(0 as const, 6 as const),
        (files, level) => {
          const archive = new Archive(zipSync(files, { level }));
          expect(contents(archive)).toEqual(files);
          archive.put("added.xml", "<added/>");
          expect(unzipSync(archive.toBytes())).toEqual({ ...files, "added.xml": strToU8("<added/>") });
        },
      ),
      { numRuns: 50 },
    );
  });

  it("that nobody changed is the original again, byte for byte; equal changes give equal bytes", () => {
    const bytes = zipped();
    expect(new Archive(bytes).toBytes()).toEqual(bytes);
    const changed = () => {
      const archive = new Archive(bytes);
      archive.put("ONE.xml", "<other/>");
      archive.remove("xl/Two.xml");
      return archive.toBytes();
    };
    expect(Object.keys(unzipSync(changed()))).toEqual(["one.xml", "three.png"]);
    expect(changed()).toEqual(changed());
  });

  it("has parts by name, letter case aside, and says which is missing", () => {
    const archive = new Archive(zipped());
    expect(archive.has("XL/Two.XML")).toBe(true);
    expect(text(archive.bytes("One.xml"))).toBe("<one/>");
    expect(() => archive.bytes("four.xml")).toThrow("its part four.xml is missing");
  });

  it("may end in a comment", () => {
    const bytes = zipped();
    const comment = strToU8("PK, said the comment");
    const end = bytes.slice();
    new DataView(end.buffer).setUint16(bytes.length - 2, comment.length, true);
    expect(contents(new Archive(Buffer.concat([end, comment])))).toEqual(FILES);
  });

  it("may name parts with back slashes and a slash in front, and its folders", () => {
    const archive = new Archive(
      zipSync({ "\\xl\\a.xml": strToU8("a"), "/b.xml": strToU8("b"), "xl/": new Uint8Array() }),
    );
    expect(archive.names).toEqual(["xl/a.xml", "b.xml"]);
    expect(text(archive.bytes("xl/a.xml"))).toBe("a");
  });

  it("may have extra fields before and after its names", () => {
    // An extra field of a kind that means nothing here, 4 bytes long.
    const extra = Uint8Array.from([0xfe, 0xca, 4, 0, 1, 2, 3, 4]);
    const withExtra = redone(zipped(), (head, name) => {
      new DataView(head.buffer).setUint16(30, extra.length, true);
      return [head, name, extra];
    });
    expect(contents(new Archive(withExtra))).toEqual(FILES);
  });

  // Sizes and places past 4 GB, written here for small ones.
  it.each([
    ["all", ["size", "packed", "offset"]],
    ["only its size", ["size"]],
    ["only its place", ["offset"]],
    ["size and place", ["size", "offset"]],
  ])("may be written wide: %s", (_, wide) => {
    expect(contents(new Archive(written(wide)))).toEqual(FILES);
  });

  it("written wide is refused where its directory is not at its place", () => {
    const refused = (told: (far: DataView, locator: DataView) => void) =>
      expect(() => new Archive(written(["size"], told))).toThrow(
        "the directory of its parts is not where it should be",
      );
    refused((far) => far.setUint32(0, 0x06064b51, true));
    refused((_, locator) => locator.setBigUint64(8, locator.getBigUint64(8, true) + 1n, true));
    refused((_, locator) => locator.setBigUint64(8, locator.getBigUint64(8, true) + 1000n, true));
  });

  it.each<[string, (head: DataView) => void, string]>([
    ["packed in another way", (head) => head.setUint16(10, 12, true), "packed in a way (12) that workbooks do not use"],
    ["with a password", (head) => head.setUint16(8, 1, true), "protected with a password"],
    ["beyond the end", (head) => head.setUint32(42, 0xfffff0, true), "is cut off"],
    ["elsewhere", (head) => head.setUint32(42, head.getUint32(42, true) + 1, true), "is not where it should be"],
    [
      "of another size",
      (head) => head.setUint32(24, head.getUint32(24, true) + 1, true),
      "does not match its checksum",
    ],
    ["of a smaller size", (head) => head.setUint32(24, head.getUint32(24, true) - 1, true), "swell"],
    [
      "with another sum",
      (head) => head.setUint32(16, head.getUint32(16, true) ^ 1, true),
      "does not match its checksum",
    ],
  ])("with a part %s is refused", (_, damage, words) => {
    const bytes = redone(zipped(), (head, name) => {
      damage(new DataView(head.buffer));
      return [head, name];
    });
    expect(() => contents(new Archive(bytes))).toThrow(words);
  });

  it("with one part twice is refused, and so is one whose parts overlap or whose directory is cut off", () => {
    const twice = redone(
      zipped({ "a.xml": strToU8("a") }),
      (head, name) => [head, name, head, name],
      (record) => {
        record.setUint16(10, 2, true);
        return [new Uint8Array(record.buffer as ArrayBuffer)];
      },
    );
    expect(() => new Archive(twice)).toThrow("it has two parts called a.xml");
    const claimed = zipped().slice();
    new DataView(claimed.buffer).setUint16(claimed.length - 12, 4, true);
    expect(() => new Archive(claimed)).toThrow("the directory of its parts is cut off");
    expect(() => new Archive(zipped().slice(0, -1))).toThrow("the directory at its end is missing");
  });
});

describe("in a browser, without Node's own zlib", () => {
  afterEach(() => {
    vi.restoreAllMocks();
    vi.resetModules();
  });
  async function archiveThere(): Promise<typeof Archive> {
    if ("getBuiltinModule" in process) vi.spyOn(process, "getBuiltinModule").mockReturnValue(undefined as never);
    vi.resetModules();
    return (await import("../../../../src/workbook/file/package/zip")).Archive;
  }

  it("parts are unpacked and summed alike, long ones in several steps", async () => {
    const There = await archiveThere();
    // Hardly packable, longer than a step, and well packable, longer than one when unpacked.
    const noise = Uint8Array.from(
      { length: 200_000 },
      (_, i) => (Math.imul(i * i + 17 * i, 2_654_435_761) >>> 13) & 255,
    );
    const files = {
      ...FILES,
      "noise.bin": noise,
      "even.bin": new Uint8Array(300_000).fill(7),
      "none.xml": new Uint8Array(),
    };
    const there = contents(new There(zipped(files)));
    // Byte by byte without a matcher, which takes seconds for so many.
    for (const [name, bytes] of Object.entries(files)) expect(Buffer.compare(there[name]!, bytes), name).toBe(0);
  });

  it("a part that lies about its size or its sum is refused", async () => {
    const There = await archiveThere();
    const lying = (change: (head: DataView) => void) =>
      redone(zipped({ "a.xml": strToU8("<a>".repeat(100)) }), (head, name) => {
        change(new DataView(head.buffer));
        return [head, name];
      });
    expect(() => contents(new There(lying((head) => head.setUint32(24, 299, true))))).toThrow("swell");
    expect(() => contents(new There(lying((head) => head.setUint32(24, 301, true))))).toThrow("checksum");
    expect(() => contents(new There(lying((head) => head.setUint32(16, 1, true))))).toThrow("checksum");
    const cut = lying((head) => head.setUint32(20, head.getUint32(20, true) - 3, true));
    expect(() => contents(new There(cut))).toThrow(/cannot be unpacked|checksum/);
  });
});
