/** Gives the user a file from the page. May import: nothing. */

export function download(blob: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** A drawing as a complete SVG file. @param markup of one svg element */
export function svgFile(markup: string): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${markup}\n`;
}

export function downloadSvg(svg: string, name: string): void {
  download(new Blob([svg], { type: "image/svg+xml" }), `${name}.svg`);
}
