/** Saves a figure as a file on the user's machine. */
import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { download, downloadSvg, pngOf, svgFile } from "../frame/download";
import { figureHeight, type Figure } from "./figure";
import { FigureDrawing } from "./FigureDrawing";
import { PALETTES } from "../frame/palette";

const WIDTH = 640;

/** The figure as a complete SVG file in light colours. */
export function figureSvg(figure: Figure): string {
  return svgFile(
    renderToStaticMarkup(
      createElement(FigureDrawing, {
        figure,
        width: WIDTH,
        height: figureHeight(figure, WIDTH),
        palette: PALETTES.light,
      }),
    ),
  );
}

export function saveSvg(figure: Figure): void {
  downloadSvg(figureSvg(figure), fileName(figure));
}

/** @throws Error when the browser cannot draw the picture */
export async function savePng(figure: Figure): Promise<void> {
  download(await pngOf(figureSvg(figure)), `${fileName(figure)}.png`);
}

function fileName({ title }: Figure): string {
  return (
    title
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-|-$/g, "") || "figure"
  );
}
