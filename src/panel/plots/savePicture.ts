/** Pictures as files on the user's machine, and pictures and tables on the clipboard. */
import { createElement, type ReactElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { download, downloadSvg, pngOf, svgFile } from "../frame/download";
import { figureHeight, type Figure } from "./figure";
import { FigureDrawing } from "./FigureDrawing";
import type { PictureTable } from "./figureTable";
import { PALETTES } from "../frame/palette";
import { NumberLanguage } from "./Words";

const WIDTH = 640;

/** A drawing as a complete SVG file. */
export const drawingSvg = (drawing: ReactElement): string => svgFile(renderToStaticMarkup(drawing));

/** The figure as a complete SVG file in light colours. @param language of its numbers; plain ones without */
export function figureSvg(figure: Figure, language?: string): string {
  const size = { width: WIDTH, height: figureHeight(figure, WIDTH) };
  const drawing = createElement(FigureDrawing, { figure, ...size, palette: PALETTES.light });
  return drawingSvg(createElement(NumberLanguage.Provider, { value: language }, drawing));
}

export function saveSvg(svg: string, title: string): void {
  downloadSvg(svg, fileName(title));
}

/** @throws Error when the browser cannot draw the picture */
export async function savePng(svg: string, title: string): Promise<void> {
  download(await pngOf(svg), `${fileName(title)}.png`);
}

/** @throws Error when the browser cannot draw the picture, or does not let the page write on the clipboard */
export async function copyPicture(svg: string): Promise<void> {
  try {
    await navigator.clipboard.write([new ClipboardItem({ "image/png": pngOf(svg) })]);
  } catch {
    throw new Error("The browser did not let the picture be copied. Save it as PNG.");
  }
}

/** Rows with tabs between their cells, as spreadsheets take them. @throws Error when the browser does not let it */
export async function copyTable({ headings, rows }: PictureTable): Promise<void> {
  try {
    await navigator.clipboard.writeText([headings, ...rows].map((cells) => cells.join("\t")).join("\n"));
  } catch {
    throw new Error("The browser did not let the table be copied. Mark it and copy it by keyboard.");
  }
}

function fileName(title: string): string {
  return (
    title
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-|-$/g, "") || "figure"
  );
}
