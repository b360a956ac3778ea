/** A drawing as wide as there is room, with what can be done with any picture. */
import { createElement, useRef, type FunctionComponent, type ReactNode } from "react";
import { PALETTES, type Palette, type ThemeName } from "../frame/palette";
import { useWidth } from "../frame/useWidth";
import type { PictureTable } from "./figureTable";
import { PictureActions } from "./PictureActions";

interface Sized {
  readonly width: number;
  readonly palette: Palette;
}

interface Props<Drawn extends Sized> {
  /** What the picture is of; its files are named after it. */
  readonly title: string;
  readonly theme: ThemeName;
  readonly drawing: FunctionComponent<Drawn>;
  /** What is drawn, size and colours apart. */
  readonly of: Omit<Drawn, keyof Sized>;
  readonly table: () => PictureTable;
  /** What lies over the drawing at a width. */
  readonly over?: (drawn: ReactNode, width: number) => ReactNode;
}

/** Width of a saved picture. */
const SAVED = 640;

export function DrawnPicture<Drawn extends Sized>({ title, theme, drawing, of, table, over }: Props<Drawn>) {
  const frame = useRef<HTMLDivElement>(null);
  const width = useWidth(frame);
  const drawn = (at: number, in_: ThemeName) =>
    createElement(drawing, { ...of, width: at, palette: PALETTES[in_] } as unknown as Drawn);
  const shown = drawn(width, theme);
  return (
    <div>
      <div ref={frame} style={{ display: "flex", justifyContent: "center", minWidth: 0, margin: "4px 0" }}>
        {over ? over(shown, width) : shown}
      </div>
      <PictureActions title={title} svg={({ drawingSvg }) => drawingSvg(drawn(SAVED, "light"))} table={table} />
    </div>
  );
}
