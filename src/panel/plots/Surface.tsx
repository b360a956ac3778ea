/** The sheet that everything is drawn on: its size, letters and colour, and what it says to those who cannot see it. */
import { toText } from "../../experiment/language/said";
import type { ReactNode } from "react";
import { FONT, FONT_SIZE, type Palette } from "../frame/palette";
import type { Figure } from "./figure";

export interface FigureDrawingProps {
  readonly figure: Figure;
  readonly width: number;
  readonly height: number;
  readonly palette: Palette;
  /** Index into figure.points of the point that is looked at. */
  readonly active?: number;
}

/** @example figureLabel({ title: "Bend", caption: "One point is a shot" }) === "Bend. One point is a shot" */
export const figureLabel = ({ title, caption }: Pick<Figure, "title" | "caption">) => `${title}. ${toText(caption)}`;

interface Props {
  /** What it says to those who cannot see it. */
  readonly label: string;
  /** What kind of drawing it is, for whoever looks for it on the page. */
  readonly drawing?: string;
  readonly width: number;
  readonly height: number;
  readonly palette: Palette;
  readonly children: ReactNode;
}

/** Colours are attributes, so that the drawing can be saved as it is. */
export function Surface({ label, drawing, width, height, palette, children }: Props) {
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      fontFamily={FONT}
      fontSize={FONT_SIZE}
      role="img"
      aria-label={label}
      data-drawing={drawing}
      // Until the width is known the drawing may be wider than its place.
      style={{ maxWidth: "100%" }}
    >
      <rect width={width} height={height} fill={palette.paper} />
      {children}
    </svg>
  );
}
