/** A page as a printer gets it: the lines of each sheet of paper, and where its ink is. */
import { createRequire } from "node:module";
import type { Browser } from "playwright-core";
import { getDocumentProxy } from "unpdf";

interface PrintedLine {
  readonly text: string;
  /** Of its letters, in points. */
  readonly size: number;
  /** Share of the paper's height, from the top. */
  readonly down: number;
}

/** The lines of each sheet of paper, from the top. */
export async function printedLines(pdf: Uint8Array): Promise<PrintedLine[][]> {
  const document = await getDocumentProxy(Uint8Array.from(pdf));
  const sheets: PrintedLine[][] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const height = page.view[3]! - page.view[1]!;
    const lines = new Map<number, { text: string; size: number; down: number }>();
    for (const item of (await page.getTextContent()).items) {
      if (!("str" in item) || item.str.trim() === "") continue;
      const [, , , size, , up] = item.transform as number[];
      const line = lines.get(Math.round(up!));
      if (line) line.text += ` ${item.str}`;
      else lines.set(Math.round(up!), { text: item.str, size: size!, down: 1 - up! / height });
    }
    sheets.push([...lines.values()].sort((a, b) => a.down - b.down));
  }
  return sheets;
}

interface Ink {
  /** What is left white around it, in mm: left, top, right, bottom. */
  readonly white: readonly [number, number, number, number];
  /** Shares of the paper's height between which there is colour: letters are black, and drawings are not only black. */
  readonly coloured: readonly [number, number] | undefined;
}

/** Where the ink of one sheet of paper is, drawn by another reader of the format than the one that printed it. */
export async function printedInk(browser: Browser, pdf: Uint8Array, sheet: number): Promise<Ink> {
  const viewer = await browser.newPage();
  try {
    const reader = createRequire(import.meta.url)
      .resolve("unpdf")
      .replace(/index\.cjs$/, "pdfjs.mjs");
    await viewer.route("**/*", (route) =>
      route.request().url().endsWith("/reader.mjs")
        ? route.fulfill({ path: reader, contentType: "text/javascript" })
        : route.fulfill({ body: "<!doctype html>", contentType: "text/html" }),
    );
    await viewer.goto("http://paper.test/");
    await viewer.addScriptTag({
      type: "module",
      content: 'import * as reader from "/reader.mjs"; globalThis.reader = reader;',
    });
    await viewer.waitForFunction(() => "reader" in globalThis);
    return await viewer.evaluate(inkOf, { bytes: [...pdf], sheet });
  } finally {
    await viewer.close();
  }
}

/** Runs in the page. */
async function inkOf({ bytes, sheet }: { bytes: number[]; sheet: number }): Promise<Ink> {
  const { reader } = globalThis as unknown as { reader: typeof import("unpdf/pdfjs") };
  const page = await (await reader.getDocument({ data: Uint8Array.from(bytes) }).promise).getPage(sheet);
  const viewport = page.getViewport({ scale: 1 });
  const canvas = document.createElement("canvas");
  const [width, height] = [Math.round(viewport.width), Math.round(viewport.height)];
  Object.assign(canvas, { width, height });
  await page.render({ canvas, viewport, background: "white" }).promise;
  const { data } = canvas.getContext("2d")!.getImageData(0, 0, width, height);
  const box = [width, height, 0, 0];
  let coloured: [number, number] | undefined;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at = 4 * (y * width + x);
      const parts = [data[at]!, data[at + 1]!, data[at + 2]!];
      if (Math.min(...parts) > 240) continue;
      box[0] = Math.min(box[0]!, x);
      box[1] = Math.min(box[1]!, y);
      box[2] = Math.max(box[2]!, x + 1);
      box[3] = Math.max(box[3]!, y + 1);
      if (Math.max(...parts) - Math.min(...parts) > 60) coloured = [coloured?.[0] ?? y / height, (y + 1) / height];
    }
  const mm = 25.4 / 72;
  return { white: [box[0]! * mm, box[1]! * mm, (width - box[2]!) * mm, (height - box[3]!) * mm], coloured };
}
