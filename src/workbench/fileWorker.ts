/** The worker's own script: reads one file, or writes one copy, and is ended by the page. */
import { messageOf } from "../panel/frame/messageOf";
import { FileProblem } from "../workbook/file/package/fileProblem";
import { openBook } from "../workbook/file/read/openBook";
import { saveCopy } from "../workbook/file/save/saveCopy";
import { BookParts, frameOf, rowParts } from "./bookParts";
import type { FileOrder, FileReport } from "./fileMessages";

let parts: BookParts | undefined;

const tell = (report: FileReport, transfer: Transferable[] = []) => postMessage(report, { transfer });

async function read(bytes: Uint8Array, name: string): Promise<void> {
  const book = await openBook(bytes, name, (share) => tell({ kind: "progress", share }));
  tell({ kind: "frame", frame: frameOf(book) });
  for (const part of rowParts(book)) tell({ kind: "rows", part });
  tell({ kind: "done" });
}

async function write(original: Uint8Array | null): Promise<void> {
  if (!parts) throw new Error("no workbook came to the worker");
  const copy = await saveCopy(original, parts.whole(), { computed: true });
  tell({ kind: "copy", copy }, [copy.bytes.buffer as ArrayBuffer]);
}

async function carryOut(order: FileOrder): Promise<void> {
  switch (order.kind) {
    case "read":
      return read(order.bytes, order.name);
    case "frame":
      parts = new BookParts(order.frame);
      return;
    case "rows":
      parts?.add(order.part);
      return;
    case "copy":
      return write(order.original);
    default:
      return order satisfies never;
  }
}

addEventListener("message", ({ data }: MessageEvent<FileOrder>) => {
  carryOut(data).catch((problem: unknown) =>
    tell({ kind: "problem", message: messageOf(problem), ofFile: problem instanceof FileProblem }),
  );
});
