/**
 * Pictures over the cells of the grid: puts them there and remembers them for a saved copy as long as they stand.
 * Browser only.
 */
import type {} from "@univerjs/sheets-drawing/facade";
import type { BookPicture } from "../book";
import type { NewPicture } from "../port";
import type { LiveBook } from "./liveBook";
import { there } from "../../there";

/** Row that a picture stands at, below the row of its label. */
const ROW = 1;
/** Pixels of a screen in a point. */
const PIXELS = 96 / 72;

/** @returns how to put a picture over a sheet */
export function gridPictures(live: LiveBook): (sheet: string, picture: NewPicture) => Promise<void> {
  const known = new Map<string, Map<string, BookPicture>>();
  live.picturesOf = (id) => {
    const pictures = known.get(id);
    if (!pictures) return [];
    const standing = new Set(
      live.api
        .getActiveWorkbook()
        ?.getSheetBySheetId(id)
        ?.getImages()
        .map((image) => image.getId()),
    );
    return [...pictures].filter(([image]) => standing.has(image)).map(([, picture]) => picture);
  };
  return async (sheet, { png, width, label }) => {
    const target = there(live.api.getActiveWorkbook()?.getSheetByName(sheet), `the sheet ${sheet}`);
    const height = (width * sizeOf(png).height) / sizeOf(png).width;
    const image = await target
      .newOverGridImage()
      .setSource(`data:image/png;base64,${png}`)
      .setColumn(0)
      .setRow(ROW)
      .setWidth(width * PIXELS)
      .setHeight(height * PIXELS)
      .buildAsync();
    target.insertImages([image]);
    const pictures = known.get(target.getSheetId()) ?? new Map<string, BookPicture>();
    known.set(target.getSheetId(), pictures.set(image.drawingId, { png, row: ROW, column: 0, width, height, label }));
  };
}

/** Width and height in pixels, from the header of a PNG file (ISO/IEC 15948, 11.2.2). */
function sizeOf(png: string): { readonly width: number; readonly height: number } {
  const header = new DataView(Uint8Array.from(atob(png.slice(0, 44)), (character) => character.charCodeAt(0)).buffer);
  return { width: header.getUint32(16), height: header.getUint32(20) };
}
