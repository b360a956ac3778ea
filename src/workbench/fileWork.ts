/**
 * Reading and writing of files beside the page, in a worker, so that the page goes on meanwhile; on the page itself
 * where there are no workers, and for small files that are opened, which are read before a worker has started.
 */
import type { Book } from "../workbook/book";
import { inTurns } from "../workbook/turns";
import { FileProblem } from "../workbook/file/package/fileProblem";
import { openBook } from "../workbook/file/read/openBook";
import { saveCopy, type SavedCopy } from "../workbook/file/save/saveCopy";
import { BookParts, frameOf, rowParts } from "./bookParts";
import type { FileOrder, FileReport } from "./fileMessages";
import { orStopped, stepsUntil } from "./stopping";

/** Files up to so many bytes are read on the page. */
const SMALL = 500_000;

/** What is said of a file that cannot be read, as the worker told it. */
class ToldProblem extends FileProblem {
  constructor(told: string) {
    super("corrupt", told, "");
    this.message = told;
  }
}

/** Who waits for a file. */
export interface Waiting {
  /** Hears the share done, 0 to 1. */
  readonly progress?: (share: number) => void;
  /** Ended, it ends the work at once, and the promise is rejected with its reason. */
  readonly stopped?: AbortSignal;
}

/** Reads a file; throws as `openBook` does. */
export async function readFile(
  bytes: Uint8Array,
  name: string,
  { progress = () => {}, stopped }: Waiting = {},
): Promise<Book> {
  const worker = bytes.length > SMALL ? startWorker() : undefined;
  if (!worker) return openBook(bytes, name, progress);
  try {
    const read = new Promise<Book>((resolve, reject) => {
      let parts: BookParts | undefined;
      hear(worker, reject, (report) => {
        if (report.kind === "progress") progress(report.share * READING);
        else if (report.kind === "frame") parts = new BookParts(report.frame);
        else if (report.kind === "rows") {
          parts?.add(report.part);
          progress(READING + (1 - READING) * report.part.share);
        } else if (report.kind === "done" && parts) resolve(parts.whole());
      });
      order(worker, { kind: "read", bytes, name });
    });
    return await orStopped(read, stopped);
  } catch (problem) {
    if (problem instanceof WorkerGone) return openBook(bytes, name, progress);
    throw problem;
  } finally {
    worker.terminate();
  }
}

/** The part of the way that reading takes; the rest is the way of the rows to the page. */
const READING = 0.8;

/** Writes a copy, never on the page if that can be: a draft is kept while somebody types. Throws as `saveCopy` does. */
export async function writeCopy(
  original: Uint8Array | null,
  book: Book,
  { progress = () => {}, stopped }: Waiting = {},
): Promise<SavedCopy> {
  const worker = startWorker();
  if (!worker) return saveCopy(original, book, { computed: true });
  try {
    const copied = new Promise<SavedCopy>((resolve, reject) =>
      hear(worker, reject, (report) => {
        if (report.kind === "copy") resolve(report.copy);
      }),
    );
    // Whoever waits hears of a failure; until then nobody does.
    copied.catch(() => {});
    order(worker, { kind: "frame", frame: frameOf(book) });
    const sending = (function* () {
      for (const part of rowParts(book)) {
        order(worker, { kind: "rows", part });
        yield progress(part.share);
      }
    })();
    await inTurns(stepsUntil(sending, stopped));
    order(worker, { kind: "copy", original });
    return await orStopped(copied, stopped);
  } catch (problem) {
    if (problem instanceof WorkerGone) return saveCopy(original, book, { computed: true });
    throw problem;
  } finally {
    worker.terminate();
  }
}

/** The worker's script could not be had, because the server is gone: the page does the work. */
class WorkerGone extends Error {}

function startWorker(): Worker | undefined {
  if (typeof Worker === "undefined") return undefined;
  return new Worker(/* webpackChunkName: "files" */ new URL("./fileWorker.ts", import.meta.url));
}

function order(worker: Worker, what: FileOrder): void {
  worker.postMessage(what);
}

function hear(worker: Worker, failed: (problem: Error) => void, heard: (report: FileReport) => void): void {
  worker.onmessage = ({ data }: MessageEvent<FileReport>) => {
    if (data.kind === "problem") failed(data.ofFile ? new ToldProblem(data.message) : new Error(data.message));
    else heard(data);
  };
  worker.onerror = ({ message }) => failed(message ? new Error(message) : new WorkerGone());
  worker.onmessageerror = () => failed(new Error("the worker's answer could not be read"));
}
