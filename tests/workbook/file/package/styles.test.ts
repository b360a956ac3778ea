/** Looks of cells: numbered formats, colours in each form that files have, looks added to those that are there. */
import ExcelJS from "exceljs";
import { describe, expect, it } from "vitest";
import type { CellStyle } from "../../../../src/workbook/book";
import {
  readStyles,
  readThemeColors,
  showsDate,
  withStylesAdded,
} from "../../../../src/workbook/file/package/styleSheet";
import { readXlsx } from "../../../../src/workbook/file/read/readXlsx";
import { saveCopy } from "../../../../src/workbook/file/save/saveCopy";
import { bookOf } from "../packages";

const part = (inner: string) => `<styleSheet xmlns="x">${inner}</styleSheet>`;
/** What a cell looks like with one font, fill or format. */
const look = (xml: string, theme: readonly string[] = []) => readStyles(part(xml), theme).at(-1);
const fontColor = (attributes: string, theme?: readonly string[]) =>
  look(`<fonts><font><color ${attributes}/></font></fonts><cellXfs><xf fontId="0"/></cellXfs>`, theme)?.color;

describe("formats by number alone", () => {
  // ECMA-376 part 1, 18.8.30; 14 to 22 and 37 to 40 as a program set to US English has them.
  it.each([
    [14, "m/d/yyyy"],
    [15, "d-mmm-yy"],
    [16, "d-mmm"],
    [17, "mmm-yy"],
    [18, "h:mm AM/PM"],
    [19, "h:mm:ss AM/PM"],
    [20, "h:mm"],
    [21, "h:mm:ss"],
    [22, "m/d/yyyy h:mm"],
    [37, "#,##0 ;(#,##0)"],
    [38, "#,##0 ;[Red](#,##0)"],
    [39, "#,##0.00;(#,##0.00)"],
    [40, "#,##0.00;[Red](#,##0.00)"],
    [46, "[h]:mm:ss"],
    [47, "mmss.0"],
  ])("number %i is %s, read and written", (id, format) => {
    expect(look(`<cellXfs><xf numFmtId="${id}"/></cellXfs>`)?.format).toBe(format);
    const added = withStylesAdded(part(`<cellXfs count="1"><xf numFmtId="0"/></cellXfs>`), [{ format }]);
    expect(added.xml).toContain(`<xf numFmtId="${id}"`);
    expect(added.first).toBe(1);
  });

  it("others are the file's own, numbered from 164 on or behind the highest", () => {
    const plain = withStylesAdded(part('<cellXfs count="1"><xf/></cellXfs>'), [
      { format: "0.000" },
      { format: '0" in"' },
    ]);
    expect(plain.xml).toContain(
      '<numFmt numFmtId="164" formatCode="0.000"/><numFmt numFmtId="165" formatCode="0&quot; in&quot;"/>',
    );
    expect(readStyles(plain.xml, []).map(({ format }) => format)).toEqual([undefined, "0.000", '0" in"']);
    const known =
      '<numFmts count="2"><numFmt numFmtId="170" formatCode="0.0"/><numFmt numFmtId="166" formatCode="0.000"/></numFmts>';
    const more = withStylesAdded(
      part(`${known}<cellXfs count="1"><xf/></cellXfs><dxfs><dxf><numFmt numFmtId="900" formatCode="0"/></dxf></dxfs>`),
      [{ format: "0.000" }, { format: "0.0000" }],
    );
    expect(more.xml).toContain('<xf numFmtId="166"');
    expect(more.xml).toContain('<numFmts count="3">');
    expect(more.xml).toContain('<numFmt numFmtId="171" formatCode="0.0000"/>');
  });
});

describe("colours", () => {
  it("are in red, green and blue, with or without an opacity before them, or by number", () => {
    expect(fontColor('rgb="FF12ABef"')).toBe("#12abef");
    expect(fontColor('rgb="12ABEF"')).toBe("#12abef");
    expect(fontColor('rgb="12AB"')).toBeUndefined();
    // Black is what text has anyway.
    expect(fontColor('rgb="FF000000"')).toBeUndefined();
    // ECMA-376 part 1, 18.8.27: eight colours, the same eight again, and on to 63.
    expect([1, 2, 3, 4, 5, 6, 7].map((n) => fontColor(`indexed="${n}"`))).toEqual([
      "#ffffff",
      "#ff0000",
      "#00ff00",
      "#0000ff",
      "#ffff00",
      "#ff00ff",
      "#00ffff",
    ]);
    expect([9, 10, 15, 16, 22, 23, 47, 48, 63].map((n) => fontColor(`indexed="${n}"`))).toEqual([
      "#ffffff",
      "#ff0000",
      "#00ffff",
      "#800000",
      "#c0c0c0",
      "#808080",
      "#ffcc99",
      "#3366ff",
      "#333333",
    ]);
    expect(fontColor('indexed="64"')).toBeUndefined();
  });

  it("of a theme are numbered light before dark, twice, then as they come", () => {
    const theme = readThemeColors(
      `<a:theme><a:clrScheme name="t"><a:dk1><a:sysClr val="windowText" lastClr="0A0A0A"/></a:dk1><a:lt1><a:sysClr val="window" lastClr="FAFAFA"/></a:lt1>` +
        `<a:dk2><a:srgbClr val="0B0B0B"/></a:dk2><a:lt2><a:srgbClr val="FBFBFB"/></a:lt2><a:accent1><a:srgbClr val="112233"/></a:accent1></a:clrScheme>` +
        `<a:srgbClr val="999999"/></a:theme>`,
    );
    expect(theme).toEqual(["#0a0a0a", "#fafafa", "#0b0b0b", "#fbfbfb", "#112233"]);
    expect([0, 1, 2, 3, 4].map((n) => fontColor(`theme="${n}"`, theme))).toEqual([
      "#fafafa",
      "#0a0a0a",
      "#fbfbfb",
      "#0b0b0b",
      "#112233",
    ]);
  });

  it("are tinted toward white or black by their share of the way", () => {
    // Half of the way from 0x80 to 0xff is 191.5, to 0 is 64; a fifth of 0x20, 0x40, 0x80.
    expect(fontColor('rgb="FF204080" tint="0.5"')).toBe("#90a0c0");
    expect(fontColor('rgb="FF204080" tint="-0.5"')).toBe("#102040");
    expect(fontColor('rgb="FF204080" tint="-0.8"')).toBe("#060d1a");
    expect(fontColor('rgb="FF204080" tint="1"')).toBe("#ffffff");
  });

  it("fill a cell only where its pattern is solid", () => {
    const fill = (inner: string) =>
      look(`<fills><fill>${inner}</fill></fills><cellXfs><xf fillId="0"/></cellXfs>`)?.fill;
    expect(
      fill('<patternFill patternType="solid"><fgColor rgb="FF112233"/><bgColor rgb="FF445566"/></patternFill>'),
    ).toBe("#112233");
    expect(fill('<patternFill patternType="gray125"><fgColor rgb="FF112233"/></patternFill>')).toBeUndefined();
    expect(look('<fills><fill/></fills><cellXfs><xf fillId="0"/></cellXfs>')).toEqual({});
  });
});

describe("fonts and places", () => {
  const font = (inner: string) => look(`<fonts><font>${inner}</font></fonts><cellXfs><xf fontId="0"/></cellXfs>`);
  it("say what differs from the usual", () => {
    expect(font("<b/><i/><sz val='12.5'/>")).toEqual({ bold: true, italic: true, fontSize: 12.5 });
    expect(font("<b val='0'/><i val='false'/><sz val='11'/>")).toEqual({});
    expect(font("<b val='true'/><i val='1'/><sz val='0'/>")).toEqual({ bold: true, italic: true });
    const placed = (attributes: string) => look(`<cellXfs><xf><alignment ${attributes}/></xf></cellXfs>`);
    expect(["left", "center", "right"].map((at) => placed(`horizontal="${at}"`)?.horizontal)).toEqual([
      "left",
      "center",
      "right",
    ]);
    expect(placed('horizontal="fill" wrapText="1"')).toEqual({ wrap: true });
    expect(placed('wrapText="0"')).toEqual({});
  });
  it("count looks of cells alone, not those of named styles, differences or borders", () => {
    const looks = readStyles(
      part(
        '<fonts><font/><font><b/></font></fonts><borders><border/></borders><cellStyleXfs><xf fontId="1"/></cellStyleXfs>' +
          '<cellXfs><xf/><xf fontId="1"/></cellXfs><dxfs><dxf><font><i/></font></dxf></dxfs><extLst><ext><cellXfs><xf/></cellXfs></ext></extLst>',
      ),
      [],
    );
    expect(looks).toEqual([{}, { bold: true }]);
  });
});

describe("looks added", () => {
  const styles: CellStyle[] = [
    {},
    { bold: true },
    { bold: true, format: "0.00" },
    { italic: true, fontSize: 14, color: "#a1b2c3" },
    { fill: "#ffee00" },
    { fill: "#ffee00", horizontal: "center" },
    { wrap: true, format: "yyyy-mm-dd" },
  ];

  it("are what another program shows", async () => {
    const rows = [styles.map((_, style) => ({ value: 1, style }))];
    const { bytes } = await saveCopy(null, bookOf([{ name: "Log", rows }], { styles }));
    const ours = await readXlsx(bytes);
    expect(ours.sheets[0]!.rows[0]!.map((cell) => ours.styles[cell!.style ?? 0])).toEqual(styles);
    const other = new ExcelJS.Workbook();
    await other.xlsx.load(bytes.slice().buffer as ArrayBuffer);
    const cells = styles.map((_, c) => other.worksheets[0]!.getRow(1).getCell(c + 1));
    expect(
      cells.map(({ font }) => [font?.bold ?? false, font?.italic ?? false, font?.size ?? 11, font?.color?.argb]),
    ).toEqual([
      [false, false, 11, undefined],
      [true, false, 11, undefined],
      [true, false, 11, undefined],
      [false, true, 14, "FFA1B2C3"],
      ...Array.from({ length: 3 }, () => [false, false, 11, undefined]),
    ]);
    expect(
      cells.map(({ fill }) => (fill?.type === "pattern" && fill.pattern === "solid" ? fill.fgColor?.argb : "none")),
    ).toEqual([...Array.from({ length: 4 }, () => "none"), "FFFFEE00", "FFFFEE00", "none"]);
    expect(cells.map(({ numFmt }) => numFmt ?? "General")).toEqual([
      "General",
      "General",
      "0.00",
      "General",
      "General",
      "General",
      "yyyy-mm-dd",
    ]);
    expect(cells.map(({ alignment }) => [alignment?.horizontal, alignment?.wrapText ?? false])).toEqual([
      ...Array.from({ length: 5 }, () => [undefined, false]),
      ["center", false],
      [undefined, true],
    ]);
  });

  it("share fonts and fills that are alike, keep what is there, and count it all", () => {
    const xml = part(
      '<fonts count="1"><font><sz val="11"/></font></fonts><fills count="2"><fill/><fill/></fills><cellXfs count="2"><xf/><xf fontId="0"/></cellXfs>',
    );
    const { xml: more, first } = withStylesAdded(xml, styles.slice(1));
    expect(first).toBe(2);
    expect(more).toContain('<fonts count="3">');
    expect(more).toContain('<fills count="3">');
    expect(more).toContain('<cellXfs count="8">');
    // Two of the six say where the text stands, and no other look says anything of it.
    expect(more.match(/<alignment /g)).toHaveLength(2);
    expect(more.match(/applyAlignment/g)).toHaveLength(2);
    expect(more.match(/applyFill/g)).toHaveLength(2);
    expect(more.match(/applyFont/g)).toHaveLength(3);
    expect(more.match(/applyNumberFormat/g)).toHaveLength(2);
    expect(readStyles(more, [])).toEqual([{}, {}, ...styles.slice(1)]);
    // The same looks again need no font, fill or format of their own.
    const again = withStylesAdded(more, [styles[3]!, styles[6]!]).xml;
    expect(again).toContain('<fonts count="3">');
    expect(again).toContain('<numFmts count="1">');
    expect(again).toContain('<cellXfs count="10">');
  });

  it("go into lists that are empty, and keep the prefix of the part", () => {
    const xml = '<x:styleSheet xmlns:x="m"><x:fonts count="0"/><x:fills count="0" /><x:cellXfs/></x:styleSheet>';
    const { xml: more } = withStylesAdded(xml, [{ bold: true, fill: "#112233", format: "0.000" }]);
    expect(more).toMatch(
      /^<x:styleSheet xmlns:x="m"><x:numFmts count="1"><x:numFmt [^>]*\/><\/x:numFmts><x:fonts count="1"><x:font>/,
    );
    expect(readStyles(more, [])).toEqual([{ bold: true, fill: "#112233", format: "0.000" }]);
  });
});

describe("whether a format shows a day", () => {
  it.each<[string | undefined, boolean]>([
    [undefined, false],
    ["General", false],
    ["0.00", false],
    ["yyyy-mm-dd", true],
    ["d-mmm", true],
    ["mmm", true],
    ["m/d/yyyy h:mm", true],
    ["h:mm", false],
    ["mm:ss", false],
    ["[h]:mm:ss", false],
    ["[mm]:ss", false],
    ['0.0" yd"', false],
    ["0\\d", false],
    ["_d0", false],
    ["*d0", false],
    ["[Red]0", false],
    ["[Magenta]General", false],
    ["[$-409]d mmm", true],
  ])("%s: %s", (format, isDay) => expect(showsDate(format)).toBe(isDay));
});
