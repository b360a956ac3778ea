/**
 * What the layout's papers say: the text of the PDF and of the SVG read back, every length on them against numbers
 * worked out here.
 */
import { inflateSync } from "node:zlib";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { laidShot } from "../../../src/experiment/layout/layoutCheck";
import { markTemplate, stepPages, wallDrawing } from "../../../src/experiment/layout/layoutDrawing";
import type { PaperPage } from "../../../src/experiment/layout/paper";
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
const formOf = ({ bend, units }: (typeof CASES)[number]): LayoutForm => ({
  ...firstLayout("en-US"),
  // The gate grazes both legs, or the side to which the ball goes: R − gap is then the bend of the path.
  arrangement: bend < 0 ? "far" : "inside",
  room: 0,
  bend,
  units,
});

describe.each(CASES)("a bend of $bend m in $units", (one) => {
  const form = formOf(one);
  const { units } = form;
  const size = Math.abs(form.bend);
  const R = (2.25 * INCH) / 2;

  it("the template says how far the obstacle's edge stands from the near mark, R less the bend", async () => {
    const page = markTemplate(laidShot(form));
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
    const laid = laidShot(form);
    const page = wallDrawing(laid);
    const texts = svgTexts(page);
    // What the standard fonts of a PDF lack is written out.
    expect(await pdfTexts([page])).toEqual([texts.map((text) => text.replaceAll("−", "-"))]);
    const said2 = texts.slice(1, 4).join(" ");
    if (laid.amiss.length === 0) {
      const [, wanted] = /Bend of the path (.*?) (?:long|short):/.exec(said2)!;
      say(wanted, units, [size], false);
      expect(said2).toContain(form.bend < 0 ? " long: set bend" : " short: set bend");
    } else expect(said2).toContain("This layout cannot be shot.");
    const [, ball] = /(Ball .*?)\. The banked rail/.exec(said2)!;
    say(ball, units, [2 * R, 50 * INCH, 100 * INCH], false);
    // The line from (32, R) to (50, 50) inches; a short bend has its gates on the square side, a long one on the other.
    const angle = Math.atan2(18 * INCH, 50 * INCH - R);
    const side = form.bend < 0 ? 1 : -1;
    const run = Math.hypot(18 * INCH, 50 * INCH - R);
    const at = (share: number, off: number) => [
      32 * INCH + share * run * Math.sin(angle) + side * off * Math.cos(angle),
      R + share * run * Math.cos(angle) - side * off * Math.sin(angle),
    ];
    // The gate at the pocket touches the line, on that side, as far on as its radius off the rail lets it.
    const back = (x: number[], y: number) => (x[1] > y ? (x[1] - y) / (run * Math.cos(angle)) : 0);
    const end = at(1, 2 * R);
    const places: Record<string, number[]> = {
      "gate at the pocket": at(1 - back(end, 50 * INCH - R), 2 * R),
      "near mark": at(0.45, 0),
      "far mark": at(0.45, 2 * R),
      obstacle: at(0.45, R - size + INCH),
      // Comes at 25° from 20 in; the cue ball 10 in behind, against it.
      "object ball": [32 * INCH - 20 * INCH * Math.tan((25 * Math.PI) / 180), R + 20 * INCH],
    };
    const said = texts.filter((text) => /^\d {2}/.test(text));
    const labels = said.map((text) => text.replace(/^\d {2}/, "").replace(/:.*/, ""));
    expect(labels).toEqual([
      "gate at the cushion",
      "gate at the pocket",
      "guide at the cushion",
      "guide at the pocket",
      "near mark",
      "far mark",
      "obstacle",
      "object ball",
      "cue ball",
    ]);
    for (const text of said) {
      const place = places[text.replace(/^\d {2}/, "").replace(/:.*/, "")];
      if (!place) continue;
      const [x, y] = place;
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
      // A place counts by about the share of the path that lies beyond it (the gates stand a little within the path's
      // ends, so up to a fifth differs); 1/32 in is allowed.
      if (/ball/.test(text)) continue;
      const share = /pocket:/.test(text) ? 0.45 : 1;
      const off = Number(/may be off ([\d.]+) (?:in|mm)$/.exec(text)![1]) * (units === "us" ? INCH : 0.001);
      expect(Math.abs(off - INCH / 32 / share) / off).toBeLessThan(0.2);
    }
    expect(texts.find((text) => text.startsWith("Places of"))).toContain(
      units === "us" ? "wrong by 0.031 in:" : "wrong by 0.79 mm:",
    );
  });

  it("the steps print what the page says", async () => {
    const pages = stepPages(laidShot(form));
    expect(await pdfTexts(pages)).toEqual(pages.map((page) => svgTexts(page).map((text) => text.replaceAll("−", "-"))));
  });
});
