import { constants, deflateRawSync } from "node:zlib";
import fc from "fast-check";
import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { FileProblem, type FileProblemKind } from "../../../../src/workbook/file/package/fileProblem";
import { openBook } from "../../../../src/workbook/file/read/openBook";
import { readXlsx } from "../../../../src/workbook/file/read/readXlsx";
import { handmade, rawZip } from "../packages";

async function problemOf(bytes: Uint8Array, name = "log.xlsx"): Promise<FileProblem> {
  try {
    await openBook(bytes, name);
  } catch (problem) {
    expect(problem).toBeInstanceOf(FileProblem);
    return problem as FileProblem;
  }
  throw new Error("the file was opened");
}

async function expectProblem(bytes: Uint8Array, kind: FileProblemKind, words: RegExp, name?: string): Promise<void> {
  const problem = await problemOf(bytes, name);
  expect(problem.kind).toBe(kind);
  expect(problem.message).toMatch(words);
}

const good = handmade({ sheets: { Trials: '<sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData>' } });

/** A compound file: its mark, then directory entries whose names are UTF-16. */
function compound(...streams: string[]): Uint8Array {
  const names = streams.map((name) => [...name].flatMap((letter) => [letter.charCodeAt(0), 0]));
  return Uint8Array.from([
    0xd0,
    0xcf,
    0x11,
    0xe0,
    0xa1,
    0xb1,
    0x1a,
    0xe1,
    ...new Array(1016).fill(0),
    ...names.flat(),
    ...new Array(64).fill(0),
  ]);
}

describe("files that are no workbook", () => {
  it("opens the good one that the others are made from", async () => {
    expect((await openBook(good, "log.xlsx")).sheets[0].rows[0]?.[0]?.value).toBe(1);
  });

  it("names the file in the message", async () => {
    expect((await problemOf(new Uint8Array(), "hall/log.xlsx")).message).toMatch(/^log\.xlsx: /);
  });

  it("says what each of them is and how to mend it", async () => {
    await expectProblem(new Uint8Array(), "empty", /empty.*again/s);
    await expectProblem(new Uint8Array(), "empty", /empty/, "log.csv");
    await expectProblem(strToU8("Gap,Bend\n1,2\n"), "notAWorkbook", /not an \.xlsx.*save it as/s);
    await expectProblem(
      compound("EncryptionInfo", "EncryptedPackage"),
      "protected",
      /password.*take the password off/s,
    );
    await expectProblem(compound("Workbook"), "oldFormat", /\.xls.*save it as \.xlsx/s);
    await expectProblem(compound("Workbook"), "oldFormat", /\.xls/, "log.csv");
    await expectProblem(
      zipSync({ mimetype: strToU8("application/vnd.oasis.opendocument.spreadsheet"), "content.xml": strToU8("<a/>") }),
      "otherFormat",
      /OpenDocument/,
    );
    await expectProblem(
      zipSync({ "[Content_Types].xml": strToU8("<Types/>"), "word/document.xml": strToU8("<a/>") }),
      "otherFormat",
      /\.docx/,
    );
    await expectProblem(zipSync({ "photo.jpg": strToU8("x") }), "otherFormat", /zip archive without a workbook/);
    await expectProblem(Uint8Array.from([0x47, 0x61, 0, 0, 1, 2]), "notText", /neither/, "log.csv");
    await expectProblem(strToU8("<!DOCTYPE html><table>"), "otherFormat", /web page/, "log.csv");
  });

  it("sees the password of an encrypted zip", async () => {
    const locked = good.slice();
    const view = new DataView(locked.buffer);
    for (let at = 0; at < locked.length - 46; at++)
      if (view.getUint32(at, true) === 0x02014b50) view.setUint16(at + 8, 1, true);
    await expectProblem(locked, "protected", /password/);
  });
});

describe("damaged files", () => {
  it("never opens a file that was cut off anywhere, and always says so", async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 2, max: good.length - 1 }), async (length) => {
        expect((await problemOf(good.subarray(0, length))).kind).toBe("corrupt");
      }),
    );
  });

  it("never throws anything but a FileProblem when bytes are damaged", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.nat(good.length - 1), fc.nat(255)), { minLength: 1, maxLength: 8 }),
        async (damage) => {
          const bytes = good.slice();
          for (const [at, byte] of damage) bytes[at] = byte;
          await readXlsx(bytes).catch((problem) => expect(problem).toBeInstanceOf(FileProblem));
        },
      ),
      { numRuns: 300 },
    );
  });

  it("never throws anything but a FileProblem when a sheet's text is damaged", async () => {
    const sheet =
      '<sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1"><f t="shared" ref="B1:B2" si="0">A1*2</f><v>1</v></c></row><row r="2"><c r="B2"><f t="shared" si="0"/></c></row></sheetData>';
    await fc.assert(
      fc.asyncProperty(
        fc.nat(sheet.length),
        fc.nat(40),
        fc.constantFrom("", "<", ">", '"', "<![CDATA[", "<!--", "/>", "\u0000", "r=", "99999999999"),
        async (at, length, text) => {
          const bytes = handmade({
            sheets: { Trials: sheet.slice(0, at) + text + sheet.slice(at + length) },
            strings: ["x"],
          });
          await readXlsx(bytes).catch((problem) => expect(problem).toBeInstanceOf(FileProblem));
        },
      ),
      { numRuns: 300 },
    );
  });

  it("notices a flipped bit in a part by its checksum", async () => {
    const bytes = handmade({
      sheets: { Trials: '<sheetData><row r="1"><c r="A1"><v>12345</v></c></row></sheetData>' },
    });
    const view = new DataView(bytes.buffer);
    for (let i = 0; i < bytes.length - 46; i++) if (view.getUint32(i, true) === 0x02014b50) bytes[i + 16] ^= 1;
    await expectProblem(bytes, "corrupt", /checksum/);
  });
});

describe("archives that swell", () => {
  const MEGABYTE = 1024 * 1024;
  // A flushed block refers to nothing before it, so a gigabyte of zeros is a thousand copies of one block.
  const block = deflateRawSync(new Uint8Array(MEGABYTE), { finishFlush: constants.Z_FULL_FLUSH });
  const gigabyte = new Uint8Array(block.length * 1024 + 2);
  for (let i = 0; i < 1024; i++) gigabyte.set(block, i * block.length);
  gigabyte.set([3, 0], block.length * 1024);

  async function refusedSmall(bytes: Uint8Array): Promise<void> {
    const before = process.memoryUsage().rss;
    await expectProblem(bytes, "tooLarge", /swell/);
    // One step of inflating fills at most 66 MB; twice that leaves room for what was not yet collected.
    expect(process.memoryUsage().rss - before).toBeLessThan(300 * MEGABYTE);
  }

  it("refuses a gigabyte that the directory admits", async () => {
    await refusedSmall(rawZip([{ name: "[Content_Types].xml", packed: gigabyte, size: 1024 * MEGABYTE }]));
  });

  it("refuses a gigabyte that the directory hides", async () => {
    await refusedSmall(
      rawZip([
        { name: "[Content_Types].xml", packed: gigabyte, size: 1000 },
        { name: "_rels/.rels", packed: gigabyte, size: 1000 },
      ]),
    );
  });

  it("refuses many parts that are large together", async () => {
    await refusedSmall(
      rawZip(Array.from({ length: 20 }, (_, i) => ({ name: `xl/part${i}.xml`, packed: block, size: 40 * MEGABYTE }))),
    );
  });

  it("does not expand entities", async () => {
    const doctype = '<!DOCTYPE a [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>';
    const bytes = handmade({
      sheets: { Trials: `<sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>&b;</t></is></c></row></sheetData>` },
      parts: { "xl/extra.xml": doctype },
    });
    expect((await readXlsx(bytes)).sheets[0].rows[0]?.[0]?.value).toBe("&b;");
  });
});
