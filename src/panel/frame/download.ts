/** Drawings as files, and files from the page to the user. */
import { giveFile } from "./fileDoor";

/** @param pages as SVG files, where it is a document of pictures */
export function download(blob: Blob, name: string, pages?: readonly string[]): void {
  giveFile({ blob, name, ...(pages && { pages }) });
}

/** A drawing as a complete SVG file. @param markup of one svg element */
export function svgFile(markup: string): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${markup}\n`;
}

export function downloadSvg(svg: string, name: string): void {
  download(new Blob([svg], { type: "image/svg+xml" }), `${name}.svg`);
}

/** Dots per SVG unit in a PNG: fit for print at this size. */
const PNG_SCALE = 3;

/** An SVG file as a PNG of three times its size. @throws Error when the browser cannot draw the picture */
export async function pngOf(svg: string): Promise<Blob> {
  const url = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = image.naturalWidth * PNG_SCALE;
    canvas.height = image.naturalHeight * PNG_SCALE;
    canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
    if (!blob) throw new Error("The browser could not make a PNG of the picture. Save it as SVG.");
    return blob;
  } finally {
    URL.revokeObjectURL(url);
  }
}

/** What a file holds, in base64. */
export async function base64Of(blob: Blob): Promise<string> {
  let text = "";
  for (const byte of new Uint8Array(await blob.arrayBuffer())) text += String.fromCharCode(byte);
  return btoa(text);
}
