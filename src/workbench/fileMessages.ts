/** What the page and the worker that reads and writes files tell each other. */
import type { Book } from "../workbook/book";
import type { SavedCopy } from "../workbook/file/save/saveCopy";
import type { RowsPart } from "./bookParts";

/** To the worker: a file to read; or a workbook in parts, and then the wish for a copy of it. */
export type FileOrder =
  | { readonly kind: "read"; readonly bytes: Uint8Array; readonly name: string }
  | { readonly kind: "frame"; readonly frame: Book }
  | { readonly kind: "rows"; readonly part: RowsPart }
  | { readonly kind: "copy"; readonly original: Uint8Array | null };

/** From the worker. A problem of the file itself is told to the user as it is. */
export type FileReport =
  | { readonly kind: "progress"; readonly share: number }
  | { readonly kind: "frame"; readonly frame: Book }
  | { readonly kind: "rows"; readonly part: RowsPart }
  | { readonly kind: "done" }
  | { readonly kind: "copy"; readonly copy: SavedCopy }
  | { readonly kind: "problem"; readonly message: string; readonly ofFile: boolean };
