/**
 * Opens a workbook's package, or says what else the file is.
 */
import { FileProblem } from "./fileProblem";
import { relationsOf } from "./packageParts";
import { XmlScan } from "./xmlScan";
import { Archive, passwordProtected } from "./zip";

/** Opens the package after making sure that it is a workbook. */
export function openPackage(bytes: Uint8Array): Archive {
  if (bytes.length === 0) {
    throw new FileProblem(
      "empty",
      "The file is empty (0 bytes).",
      "Get it again from where it came; a copy may still be on its way from a cloud folder.",
    );
  }
  if (startsWith(bytes, [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1])) throw compoundFile(bytes);
  if (!startsWith(bytes, [0x50, 0x4b])) {
    throw new FileProblem(
      "notAWorkbook",
      "The file is not an .xlsx workbook, whatever its name says.",
      "Open it in the program that made it and save it as .xlsx or .csv.",
    );
  }
  const archive = new Archive(bytes);
  if (archive.has("EncryptedPackage")) throw passwordProtected();
  if (!archive.has("[Content_Types].xml")) throw otherPackage(archive);
  const main =
    relationsOf(archive, "").find((relation) => relation.kind === "officeDocument")?.part ?? "xl/workbook.xml";
  if (/\.bin$/i.test(main)) {
    throw new FileProblem(
      "otherFormat",
      "The file is a binary workbook (.xlsb).",
      "Open it in your spreadsheet program and save it as .xlsx.",
    );
  }
  if (!archive.has(main) || rootName(archive.text(main)) !== "workbook") throw otherPackage(archive);
  return archive;
}

function startsWith(bytes: Uint8Array, mark: readonly number[]): boolean {
  return mark.every((byte, i) => bytes[i] === byte);
}

function rootName(xml: string): string {
  const scan = new XmlScan(xml);
  return scan.next() ? scan.name : "";
}

/** Compound files are old workbooks, or the wrapping of a workbook with a password. */
function compoundFile(bytes: Uint8Array): FileProblem {
  if (holdsUtf16(bytes, "EncryptedPackage")) return passwordProtected();
  return new FileProblem(
    "oldFormat",
    "The file is in the old binary format (.xls, before 2007).",
    "Open it in your spreadsheet program and save it as .xlsx.",
  );
}

function holdsUtf16(bytes: Uint8Array, word: string): boolean {
  const mark = [...word].flatMap((letter) => [letter.charCodeAt(0), 0]);
  const first = word.charCodeAt(0);
  for (let at = bytes.indexOf(first); at >= 0; at = bytes.indexOf(first, at + 1)) {
    if (mark.every((byte, i) => bytes[at + i] === byte)) return true;
  }
  return false;
}

function otherPackage(archive: Archive): FileProblem {
  const has = (start: string) => archive.names.some((name) => name.startsWith(start));
  const what =
    archive.has("mimetype") && archive.has("content.xml")
      ? "an OpenDocument file (.ods or the like)"
      : has("word/")
        ? "a text document (.docx)"
        : has("ppt/")
          ? "a presentation (.pptx)"
          : has("Index/")
            ? "a document of another spreadsheet program"
            : "a zip archive without a workbook in it";
  return new FileProblem(
    "otherFormat",
    `The file is ${what}, not an .xlsx workbook.`,
    "Open it in the program that made it and save the sheet as .xlsx or .csv.",
  );
}
