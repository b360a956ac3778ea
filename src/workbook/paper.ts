/** How a sheet that we write goes onto paper, in a file and in Excel alike. */

/** Characters of the default font that an upright page holds side by side at full size (A4, margins of 0.7 in). */
const UPRIGHT = 90;
/** Width in characters of a column that says none. */
export const USUAL_WIDTH = 8.43;

/** In inches. */
export const MARGINS = { left: 0.7, right: 0.7, top: 0.75, bottom: 0.75, header: 0.3, footer: 0.3 } as const;
/** At the foot, by the codes of headers and footers (ISO/IEC 29500-1, 18.3.1.46): the sheet's name, and which page. */
export const FOOT = { left: "&A", right: "Page &P of &N" } as const;

/**
 * How the page is turned: wide columns would come out too small on an upright one.
 *
 * @param columns how many have cells
 * @param widths in characters, for those that say one
 */
export function turned(columns: number, widths: readonly (number | undefined)[]): "landscape" | "portrait" {
  let width = 0;
  for (let column = 0; column < columns; column++) width += widths[column] ?? USUAL_WIDTH;
  return width > UPRIGHT ? "landscape" : "portrait";
}
