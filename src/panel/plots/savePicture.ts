/** Saves a figure as a file on the user's machine. May import: FigureDrawing.tsx, figure.ts, palette.ts, panel/download.ts. */
import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { download, downloadSvg, svgFile } from "../download";
import type { Figure } from "./figure";
import { FigureDrawing } from "./FigureDrawing";
import { PALETTES } from "./palette";

const WIDTH = 640;
const HEIGHT = 420;
/** Dots per SVG unit in a PNG: fit for print at this size. */
const PNG_SCALE = 3;

/** The figure as a complete SVG file in light colours. */
export function figureSvg(figure: Figure): string {
  return svgFile(renderToStaticMarkup(createElement(FigureDrawing, { figure, width: WIDTH, height: HEIGHT, palette: PALETTES.light })));
}

export function saveSvg(figure: Figure): void {
  downloadSvg(figureSvg(figure), fileName(figure));
}

/** @throws Error when the browser cannot draw the picture */
export async function savePng(figure: Figure): Promise<void> {
  const url = URL.createObjectURL(new Blob([figureSvg(figure)], { type: "image/svg+xml" }));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = WIDTH * PNG_SCALE;
    canvas.height = HEIGHT * PNG_SCALE;
    canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
    if (!blob) throw new Error("The browser could not make a PNG of the picture. Save it as SVG.");
    download(blob, `${fileName(figure)}.png`);
  } finally {
    URL.revokeObjectURL(url);
  }
}

function fileName({ title }: Figure): string {
  return title.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || "figure";
}
