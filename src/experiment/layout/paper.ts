/** Pages of shapes for paper: whoever has a pen draws them. Millimetres on the page, from its left top corner. */
import type { Paper } from "./layoutForm";

type Spot = readonly [number, number];

export type PaperShape =
  | {
      readonly kind: "line";
      readonly from: Spot;
      readonly to: Spot;
      readonly width: number;
      readonly dashed?: boolean;
    }
  | { readonly kind: "rect"; readonly at: Spot; readonly size: Spot; readonly width: number }
  | {
      readonly kind: "circle";
      readonly centre: Spot;
      readonly radius: number;
      readonly width: number;
      readonly filled?: boolean;
      readonly dashed?: boolean;
    }
  | {
      readonly kind: "text";
      readonly at: Spot;
      readonly text: string;
      readonly size: number;
      readonly anchor?: "start" | "middle" | "end";
      readonly bold?: boolean;
    };

export interface PaperPage {
  readonly title: string;
  /** Width and height in mm. */
  readonly size: Spot;
  readonly shapes: readonly PaperShape[];
}

/** ISO 216 and ANSI/ASME Y14.1 (8.5 × 11 in), portrait, in mm. */
export const PAPERS: Readonly<Record<Paper, Spot>> = { A4: [210, 297], Letter: [215.9, 279.4] };
/** Printers leave this much of the page white, in mm. */
export const MARGIN = 12;
export const TEXT = 3.4;
export const LINE = 5;

/** Mean width of a letter of the sans-serif font as a share of its size; for breaking lines. */
const LETTER = 0.5;

/** A text in lines that fit the width, in mm. @example brokenText("a bb ccc", 10, 4) // ["a bb", "ccc"] */
export function brokenText(text: string, width: number, size: number): string[] {
  const most = Math.floor(width / (LETTER * size));
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= most) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** A cross of two lines. @param half of its width */
export function crossAt([x, y]: Spot, half: number): PaperShape[] {
  return [
    { kind: "line", from: [x - half, y], to: [x + half, y], width: 0.3 },
    { kind: "line", from: [x, y - half], to: [x, y + half], width: 0.3 },
  ];
}

/** A line through places. */
export function through(places: readonly Spot[], width: number, dashed = false): PaperShape[] {
  return places.slice(1).map((to, i) => ({
    kind: "line",
    from: places[i] ?? to,
    to,
    width,
    ...(dashed && { dashed }),
  }));
}
