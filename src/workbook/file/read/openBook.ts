/**
 * Opens whatever file a user hands us.
 */
import type { Book } from "../../book";
import { sheetColumns } from "../../columnSheet";
import { readCsv } from "./csv";
import { FileProblem } from "../package/fileProblem";
import { readXlsx } from "./readXlsx";

/**
 * Reads a workbook or a .csv, judged by what is in the file first and by its name second. Throws FileProblem, whose
 * message names the file, says what is wrong and how to mend it. `onProgress` hears the share done, 0 to 1.
 *
 * @example const book = await openBook(bytes, "trials.xlsx");
 */
export async function openBook(
  bytes: Uint8Array,
  fileName: string,
  onProgress?: (share: number) => void,
): Promise<Book> {
  try {
    return await opened(bytes, fileName, onProgress);
  } catch (problem) {
    if (problem instanceof FileProblem) throw problem.about(fileName.replace(/^.*[\\/]/, ""));
    throw problem;
  }
}

async function opened(bytes: Uint8Array, fileName: string, onProgress?: (share: number) => void): Promise<Book> {
  const extension = /\.(\w+)$/.exec(fileName)?.[1]?.toLowerCase() ?? "";
  const isPackage = (bytes[0] === 0x50 && bytes[1] === 0x4b) || (bytes[0] === 0xd0 && bytes[1] === 0xcf);
  if (bytes.length === 0 || isPackage || /^xls[xmb]?$/.test(extension)) return readXlsx(bytes, onProgress);
  const marked = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  if (!marked && bytes.subarray(0, 65_536).includes(0)) {
    throw new FileProblem(
      "notText",
      "The file is neither an .xlsx workbook nor text.",
      "Open it in the program that made it and save it as .xlsx or .csv.",
    );
  }
  const start = new TextDecoder().decode(bytes.subarray(0, 512)).trimStart().toLowerCase();
  if (/^<(?:!doctype|html|\?xml|table)/.test(start)) {
    throw new FileProblem(
      "otherFormat",
      "The file is a web page or XML, not a table of values.",
      "Open it in your spreadsheet program and save it as .xlsx or .csv.",
    );
  }
  const book = readCsv(bytes, fileName);
  if (book.sheets.every((sheet) => sheetColumns(sheet)?.length === 0))
    throw new FileProblem(
      "empty",
      "The file has no rows.",
      "Choose another file, or save this one again with its rows.",
    );
  onProgress?.(1);
  return book;
}
