/** A page of shapes as an SVG file of its true size. */
import type { PaperPage, PaperShape } from "../../experiment/layout/paper";
import { escapeMarkup } from "../../experiment/language/escape";

const round = (value: number) => Math.round(value * 1000) / 1000;

function element(shape: PaperShape): string {
  const pen =
    shape.kind === "text"
      ? ""
      : ` stroke="#000" stroke-width="${shape.width}"${"dashed" in shape && shape.dashed ? ' stroke-dasharray="1.5 1"' : ""}`;
  switch (shape.kind) {
    case "line":
      return `<line x1="${round(shape.from[0])}" y1="${round(shape.from[1])}" x2="${round(shape.to[0])}" y2="${round(shape.to[1])}"${pen}/>`;
    case "rect":
      return `<rect x="${round(shape.at[0])}" y="${round(shape.at[1])}" width="${round(shape.size[0])}" height="${round(shape.size[1])}" fill="none"${pen}/>`;
    case "circle":
      return `<circle cx="${round(shape.centre[0])}" cy="${round(shape.centre[1])}" r="${round(shape.radius)}" fill="${shape.filled ? "#000" : "none"}"${pen}/>`;
    case "text":
      return `<text x="${round(shape.at[0])}" y="${round(shape.at[1])}" font-size="${shape.size}"${shape.anchor ? ` text-anchor="${shape.anchor}"` : ""}${shape.bold ? ' font-weight="bold"' : ""}>${escapeMarkup(shape.text)}</text>`;
    default:
      return shape satisfies never;
  }
}

/** One svg element, in millimetres. */
export function paperSvg({ title, size: [width, height], shapes }: PaperPage): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}" font-family="Helvetica, Arial, sans-serif"><title>${escapeMarkup(title)}</title><rect width="${width}" height="${height}" fill="#fff"/>${shapes.map(element).join("")}</svg>`;
}
