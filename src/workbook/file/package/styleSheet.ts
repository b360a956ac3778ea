/**
 * The looks of cells: the style part of a workbook read into CellStyle, one for each cell format the file numbers, and
 * looks added at its end.
 */
import type { CellStyle } from "../../book";
import { encodeAttribute } from "../../xmlText";
import { appended, withAttributes } from "./packageParts";
import { isTrue, XmlScan } from "./xmlScan";

/** Looks by the number that cells carry; colours of a theme need its colours, in the theme's own order. */
export function readStyles(xml: string, themeColors: readonly string[]): CellStyle[] {
  const formats = new Map<string, string>(Object.entries(BUILT_IN));
  const fonts: CellStyle[] = [];
  const fills: (string | undefined)[] = [];
  const looks: CellStyle[] = [];
  const scan = new XmlScan(xml);
  while (scan.next()) {
    if (scan.closing || scan.empty) continue;
    if (scan.name === "numFmts") {
      children(scan, () => {
        if (scan.name === "numFmt")
          formats.set(scan.attribute("numFmtId") ?? "", scan.attribute("formatCode") ?? "General");
      });
    } else if (scan.name === "fonts") {
      children(scan, () => fonts.push(readFont(scan, themeColors)));
    } else if (scan.name === "fills") {
      children(scan, () => fills.push(readFill(scan, themeColors)));
    } else if (scan.name === "cellXfs") {
      children(scan, () => {
        const font = fonts[Number(scan.attribute("fontId") ?? 0)] ?? {};
        const format = formats.get(scan.attribute("numFmtId") ?? "0");
        const fill = fills[Number(scan.attribute("fillId") ?? 0)];
        looks.push({
          ...(format && format !== "General" ? { format } : {}),
          ...font,
          ...(fill ? { fill } : {}),
          ...readAlignment(scan),
        });
      });
    } else if (
      scan.name === "cellStyleXfs" ||
      scan.name === "dxfs" ||
      scan.name === "borders" ||
      scan.name === "extLst"
    ) {
      scan.skip();
    }
  }
  return looks;
}

/** Calls back on each child of the present element; a child may be left where it is or read to its closing tag. */
function children(scan: XmlScan, each: () => void): void {
  while (scan.next() && !scan.closing) {
    each();
    scan.skip();
  }
}

function readFont(scan: XmlScan, theme: readonly string[]): CellStyle {
  if (scan.empty) return {};
  const font: { bold?: boolean; italic?: boolean; fontSize?: number; color?: string } = {};
  while (scan.next() && !(scan.closing && scan.name === "font")) {
    if (scan.closing) continue;
    if (scan.name === "b" && isTrue(scan.attribute("val") ?? "1")) font.bold = true;
    else if (scan.name === "i" && isTrue(scan.attribute("val") ?? "1")) font.italic = true;
    else if (scan.name === "sz" && Number(scan.attribute("val")) > 0) font.fontSize = Number(scan.attribute("val"));
    else if (scan.name === "color") {
      const color = readColor(scan, theme);
      if (color && color !== "#000000") font.color = color;
    }
  }
  if (font.fontSize === USUAL_SIZE) delete font.fontSize;
  return font;
}

const USUAL_SIZE = 11;

function readFill(scan: XmlScan, theme: readonly string[]): string | undefined {
  if (scan.empty) return undefined;
  let fill: string | undefined;
  let solid = false;
  while (scan.next() && !(scan.closing && scan.name === "fill")) {
    if (scan.closing) continue;
    if (scan.name === "patternFill") solid = scan.attribute("patternType") === "solid";
    else if (scan.name === "fgColor" && solid) fill = readColor(scan, theme);
  }
  return fill;
}

function readAlignment(scan: XmlScan): CellStyle {
  if (scan.empty) return {};
  const style: { horizontal?: CellStyle["horizontal"]; wrap?: boolean } = {};
  while (scan.next() && !(scan.closing && scan.name === "xf")) {
    if (scan.closing || scan.name !== "alignment") continue;
    const horizontal = scan.attribute("horizontal");
    if (horizontal === "left" || horizontal === "center" || horizontal === "right") style.horizontal = horizontal;
    if (isTrue(scan.attribute("wrapText"))) style.wrap = true;
  }
  return style;
}

function readColor(scan: XmlScan, theme: readonly string[]): string | undefined {
  const rgb = scan.attribute("rgb");
  const themed = scan.attribute("theme");
  const indexed = scan.attribute("indexed");
  let color: string | undefined;
  if (rgb && /^([0-9a-f]{2})?[0-9a-f]{6}$/i.test(rgb)) color = `#${rgb.slice(-6).toLowerCase()}`;
  // The first four theme colours are kept in the order dark, light, dark, light and numbered light first.
  else if (themed !== undefined) color = theme[[1, 0, 3, 2][Number(themed)] ?? Number(themed)];
  else if (indexed !== undefined) color = INDEXED[Number(indexed)];
  const tint = Number(scan.attribute("tint") ?? 0);
  return color && tint ? tinted(color, tint) : color;
}

/** A tint moves every channel toward white (positive) or black (negative). */
function tinted(color: string, tint: number): string {
  const channel = (at: number) => {
    const value = parseInt(color.slice(at, at + 2), 16);
    const moved = tint > 0 ? value + (255 - value) * tint : value * (1 + tint);
    return Math.round(Math.min(255, Math.max(0, moved)))
      .toString(16)
      .padStart(2, "0");
  };
  return `#${channel(1)}${channel(3)}${channel(5)}`;
}

/** The colours of a theme part, in its own order: dark 1, light 1, dark 2, light 2, six accents, two for links. */
export function readThemeColors(xml: string): string[] {
  const colors: string[] = [];
  const scan = new XmlScan(xml);
  while (scan.next() && !(scan.closing && scan.name === "clrScheme")) {
    if (scan.closing) continue;
    if (scan.name === "srgbClr") colors.push(`#${(scan.attribute("val") ?? "000000").toLowerCase()}`);
    else if (scan.name === "sysClr") colors.push(`#${(scan.attribute("lastClr") ?? "000000").toLowerCase()}`);
  }
  return colors;
}

/** Whether a number format shows a day of the calendar, not only a time or a span of time. */
export function showsDate(format: string | undefined): boolean {
  if (!format) return false;
  const bare = format.replace(/"[^"]*"|\\.|_.|\*./g, "").replace(/\[(?!h+\]|m+\]|s+\])[^\]]*\]/gi, "");
  return /[dy]/i.test(bare) || (/m/i.test(bare) && !/[hs]/i.test(bare) && !/General/i.test(bare));
}

/** The style part with looks added at the end of its cell formats. Returns the new XML and the number of the first. */
export function withStylesAdded(xml: string, styles: readonly CellStyle[]): { xml: string; first: number } {
  let out = xml;
  let first = 0;
  styles.forEach((style, i) => {
    const format = formatId(out, style.format);
    out = format.xml;
    const font = withPart(out, "fonts", fontXml(style));
    out = font.xml;
    const colour = style.fill?.slice(1).toUpperCase();
    const fill = colour
      ? withPart(
          out,
          "fills",
          (p) =>
            `<${p}fill><${p}patternFill patternType="solid"><${p}fgColor rgb="FF${colour}"/><${p}bgColor indexed="64"/></${p}patternFill></${p}fill>`,
        )
      : { xml: out, index: 0 };
    out = fill.xml;
    const alignment = style.horizontal || style.wrap;
    const look = withPart(out, "cellXfs", (p) => {
      const tag = `<${p}xf numFmtId="${format.id}" fontId="${font.index}" fillId="${fill.index}" borderId="0" xfId="0"${format.id ? ' applyNumberFormat="1"' : ""}${font.index ? ' applyFont="1"' : ""}${fill.index ? ' applyFill="1"' : ""}`;
      if (!alignment) return `${tag}/>`;
      return `${tag} applyAlignment="1"><${p}alignment${style.horizontal ? ` horizontal="${style.horizontal}"` : ""}${style.wrap ? ' vertical="top" wrapText="1"' : ""}/></${p}xf>`;
    });
    out = look.xml;
    if (i === 0) first = look.index;
  });
  return { xml: out, first };
}

function fontXml(style: CellStyle): ((prefix: string) => string) | undefined {
  if (!style.bold && !style.italic && !style.fontSize && !style.color) return undefined;
  return (p) =>
    `<${p}font>${style.bold ? `<${p}b/>` : ""}${style.italic ? `<${p}i/>` : ""}<${p}sz val="${style.fontSize ?? USUAL_SIZE}"/>` +
    `${style.color ? `<${p}color rgb="FF${style.color.slice(1).toUpperCase()}"/>` : ""}<${p}name val="Calibri"/><${p}family val="2"/></${p}font>`;
}

function formatId(xml: string, format: string | undefined): { xml: string; id: number } {
  if (!format || format === "General") return { xml, id: 0 };
  const builtIn = Object.entries(BUILT_IN).find(([, code]) => code === format);
  if (builtIn) return { xml, id: Number(builtIn[0]) };
  const scan = new XmlScan(xml);
  let highest = 163;
  let any = false;
  while (scan.next() && scan.name !== "dxfs") {
    if (scan.closing) continue;
    if (scan.name === "numFmts") any = true;
    if (scan.name !== "numFmt") continue;
    if (scan.attribute("formatCode") === format) return { xml, id: Number(scan.attribute("numFmtId")) };
    highest = Math.max(highest, Number(scan.attribute("numFmtId")));
  }
  const start = any ? xml : withNumberFormats(xml);
  const added = withPart(
    start,
    "numFmts",
    (p) => `<${p}numFmt numFmtId="${highest + 1}" formatCode="${encodeAttribute(format)}"/>`,
  );
  return { xml: added.xml, id: highest + 1 };
}

/** Number formats come first in the style part. */
function withNumberFormats(xml: string): string {
  const scan = new XmlScan(xml);
  scan.next();
  return `${xml.slice(0, scan.end)}<${scan.prefix}numFmts count="0"></${scan.prefix}numFmts>${xml.slice(scan.end)}`;
}

/** Adds a child to one of the counted lists, unless the same XML stands there already; without a child: index 0. */
function withPart(
  xml: string,
  list: string,
  child: ((prefix: string) => string) | undefined,
): { xml: string; index: number } {
  if (!child) return { xml, index: 0 };
  const scan = new XmlScan(xml);
  let count = 0;
  while (scan.next() && !(scan.name === list && !scan.closing));
  const { start, end, empty } = scan;
  const wanted = child(scan.prefix);
  const tagName = scan.prefix + list;
  if (!empty) {
    while (scan.next() && !(scan.closing && scan.name === list)) {
      if (scan.closing) continue;
      const from = scan.start;
      scan.skip();
      if (list !== "cellXfs" && xml.slice(from, scan.end) === wanted) return { xml, index: count };
      count++;
    }
  }
  const tag = withAttributes(xml.slice(start, end), { count: String(count + 1) });
  const grown = empty
    ? xml.slice(0, start) + tag.replace(/\s*\/>$/, ">") + `</${tagName}>` + xml.slice(end)
    : xml.slice(0, start) + tag + xml.slice(end);
  return { xml: appended(grown, list, () => wanted), index: count };
}

// Number formats that a file names by number only.
const BUILT_IN: Readonly<Record<string, string>> = {
  0: "General",
  1: "0",
  2: "0.00",
  3: "#,##0",
  4: "#,##0.00",
  9: "0%",
  10: "0.00%",
  11: "0.00E+00",
  12: "# ?/?",
  13: "# ??/??",
  14: "m/d/yyyy",
  15: "d-mmm-yy",
  16: "d-mmm",
  17: "mmm-yy",
  18: "h:mm AM/PM",
  19: "h:mm:ss AM/PM",
  20: "h:mm",
  21: "h:mm:ss",
  22: "m/d/yyyy h:mm",
  37: "#,##0 ;(#,##0)",
  38: "#,##0 ;[Red](#,##0)",
  39: "#,##0.00;(#,##0.00)",
  40: "#,##0.00;[Red](#,##0.00)",
  45: "mm:ss",
  46: "[h]:mm:ss",
  47: "mmss.0",
  48: "##0.0E+0",
  49: "@",
};

const PALETTE = (
  "000000 ffffff ff0000 00ff00 0000ff ffff00 ff00ff 00ffff 800000 008000 000080 808000 800080 008080 c0c0c0 808080 " +
  "9999ff 993366 ffffcc ccffff 660066 ff8080 0066cc ccccff 000080 ff00ff ffff00 00ffff 800080 800000 008080 0000ff " +
  "00ccff ccffff ccffcc ffff99 99ccff ff99cc cc99ff ffcc99 3366ff 33cccc 99cc00 ffcc00 ff9900 ff6600 666699 969696 " +
  "003366 339966 003300 333300 993300 993366 333399 333333"
).split(" ");
// The first eight colours are numbered twice.
const INDEXED: readonly string[] = [...PALETTE.slice(0, 8), ...PALETTE].map((color) => `#${color}`);
