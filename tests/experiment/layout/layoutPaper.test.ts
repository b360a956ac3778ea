/**
 * What the layout's papers say: the text of the PDF and of the SVG read back, every length on them against numbers
 * worked out here.
 */
import { inflateSync } from "node:zlib";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { markTemplate, wallDrawing, type PaperPage } from "../../../src/experiment/layout/layoutDrawing";
import { firstLayout, type LayoutForm } from "../../../src/experiment/layout/layoutForm";
import { paperPdf } from "../../../src/panel/paper/paperPdf";
import { paperSvg } from "../../../src/panel/paper/paperSvg";

const INCH = 0.0254;

/**
 * The strings that each page of a PDF shows, from its content streams (PDF 1.7, 9.4.3: text between brackets before
 * Tj).
 */
async function pdfTexts(pages: readonly PaperPage[]): Promise<string[][]> {
  const file = Buffer.from(await paperPdf(pages)).toString("latin1");
  const streams = [...file.matchAll(/stream\r?\n([\s\S]*?)\r?\nendstream/g)].map(([, packed]) =>
    inflateSync(Buffer.from(packed, "latin1")).toString("latin1"),
  );
  return streams
    .filter((stream) => /\bTj\b/.test(stream))
    .map((stream) =>
      [...stream.matchAll(/\(((?:\\.|[^\\()])*)\) Tj/g)].map(([, text]) => text.replace(/\\(.)/g, "$1")),
    );
}

function svgTexts(page: PaperPage): string[] {
  const { document } = new JSDOM(paperSvg(page), { contentType: "image/svg+xml" }).window;
  return [...document.querySelectorAll("text")].map(({ textContent }) => textContent ?? "");
}

/** "1 3/16", "3/32" or "0.394" as a number; a reading of its own, so that the words are not read by what wrote them. */
function inchesIn(text: string): number {
  const [, whole, top, bottom] = /^(?:(\d+(?:\.\d+)?)(?: |$))?(?:(\d+)\/(\d+))?$/.exec(text)!;
  return Number(whole ?? 0) + (top ? Number(top) / Number(bottom) : 0);
}

/**
 * Every length of a text that stands in both units, in m, with what was lost between the two: [inches, millimetres].
 */
function lengths(text: string, units: "us" | "si"): [number, number][] {
  const inch = "(\\d+(?: \\d+/\\d+)?|\\d+/\\d+|\\d+\\.\\d+)";
  const pattern =
    units === "us"
      ? new RegExp(`${inch} in \\((\\d+(?:\\.\\d+)?) mm\\)`, "g")
      : new RegExp(`(\\d+(?:\\.\\d+)?) mm \\(${inch} in\\)`, "g");
  return [...text.matchAll(pattern)].map(([, a, b]) => {
    const [inches, mm] = units === "us" ? [a, b] : [b, a];
    return [inchesIn(inches) * INCH, Number(mm) / 1000];
  });
}

/**
 * @param tape whether the length is one to find with a tape: to the nearest 1/32 in and 1 mm; otherwise to 0.001 in and
 * 0.01 mm
 */
function say(text: string, units: "us" | "si", expected: readonly number[], tape: boolean): void {
  const found = lengths(text, units);
  expect(found.length, text).toBe(expected.length);
  const [inch, mm] = tape ? [INCH / 64, 0.0005] : [0.0005 * INCH, 0.000005];
  expected.forEach((value, i) => {
    expect(Math.abs(found[i][0] - value), text).toBeLessThanOrEqual(inch + 1e-9);
    expect(Math.abs(found[i][1] - value), text).toBeLessThanOrEqual(mm + 1e-9);
  });
}

const BENDS = [0.5, 0.09375, -1, 1.125, 1.5, 0.3937].map((inches) => inches * INCH);
const CASES = BENDS.flatMap((bend) => (["us", "si"] as const).map((units) => ({ bend, units })));
const formOf = ({ bend, units }: (typeof CASES)[number]): LayoutForm => ({ ...firstLayout("en-US"), bend, units });

describe.each(CASES)("a bend of $bend m in $units", (one) => {
  const form = formOf(one);
  const { units } = form;
  const size = Math.abs(form.bend);
  const R = (2.25 * INCH) / 2;

  it("the template says how far the obstacle's edge stands from the near mark, R less the bend", async () => {
    const page = markTemplate(form);
    const texts = svgTexts(page);
    expect(await pdfTexts([page])).toEqual([texts]);
    const [note] = texts.filter((text) => text.startsWith("Marks "));
    say(note, units, size === R ? [2 * R, size] : [2 * R, Math.abs(R - size), size], false);
    expect(note.includes("past the near mark")).toBe(size > R + 1e-9);
    expect(note.includes("at the near mark")).toBe(Math.abs(size - R) < 1e-9);
    expect(texts.filter((text) => /\d/.test(text) && text !== note)).toEqual([
      "Spacing of the marks, full size (1 : 1)",
      "Print at 100 %, without fitting to the page. The bar below must measure as it says; if not, this page is of no use.",
      units === "us" ? "4 in" : "100 mm",
    ]);
  });

  it("the wall drawing says bend, ball, rails and every place, worked out here from the angle of the line", async () => {
    const page = wallDrawing(form);
    const texts = svgTexts(page);
    // What the standard fonts of a PDF lack is written out.
    expect(await pdfTexts([page])).toEqual([texts.map((text) => text.replaceAll("−", "-"))]);
    const [wanted] = texts.filter((text) => text.startsWith("Wanted bend"));
    say(wanted, units, [size, 2 * R, 50 * INCH, 100 * INCH], false);
    expect(wanted).toContain(form.bend < 0 ? " long;" : " short;");
    // The line from (32, R) to (46, 50) inches; a short bend has its gates on the square side, a long one on the other.
    const angle = Math.atan2(14 * INCH, 50 * INCH - R);
    const side = form.bend < 0 ? 1 : -1;
    const run = Math.hypot(14 * INCH, 50 * INCH - R);
    const at = (share: number, off: number) => [
      32 * INCH + share * run * Math.sin(angle) + side * off * Math.cos(angle),
      R + share * run * Math.cos(angle) - side * off * Math.sin(angle),
    ];
    const places: Record<string, number[]> = {
      "gate at the cushion": at(0, 2 * R),
      "gate at the pocket": at(1, 2 * R),
      "guide at the cushion": at(0, 0),
      "guide at the pocket": at(1, 0),
      "near mark": at(0.45, 0),
      "far mark": at(0.45, 2 * R),
      obstacle: at(0.45, R - size + INCH),
    };
    const said = texts.filter((text) => /^\d {2}/.test(text));
    expect(said.map((text) => text.replace(/^\d {2}/, "").replace(/:.*/, ""))).toEqual(Object.keys(places));
    for (const text of said) {
      const [x, y] = places[text.replace(/^\d {2}/, "").replace(/:.*/, "")];
      const rails = [
        ...text.matchAll(
          /(from|behind|on) the (?:nose line of the )?(left rail|right rail|banked rail|rail opposite)/g,
        ),
      ].map(([, how, rail]) => {
        const distance = {
          "left rail": x,
          "right rail": 100 * INCH - x,
          "banked rail": y,
          "rail opposite": 50 * INCH - y,
        }[rail]!;
        return how === "on" ? undefined : how === "behind" ? -distance : distance;
      });
      expect(rails.length, text).toBe(2);
      say(
        text.replace(/; may be off.*/, ""),
        units,
        rails.filter((distance) => distance !== undefined),
        true,
      );
      // A place counts by the share of the path that lies beyond it; 1/32 in is allowed.
      const share = /cushion/.test(text) ? 0.55 : /pocket/.test(text) ? 0.45 : 1;
      const off = Number(/may be off ([\d.]+) (?:in|mm)$/.exec(text)![1]) * (units === "us" ? INCH : 0.001);
      expect(Math.abs(off - INCH / 32 / share) / off).toBeLessThan(0.05);
    }
    expect(texts.find((text) => text.startsWith("Places of"))).toContain(
      units === "us" ? "wrong by 0.031 in:" : "wrong by 0.79 mm:",
    );
  });
});
