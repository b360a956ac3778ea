/** What is odd about a gap: at its limits, to the last digit, and on either side of them. */
import { describe, expect, it } from "vitest";
import { toText } from "../../../src/experiment/language/said";
import { parseHeading } from "../../../src/experiment/log/header";
import { gapDoubt } from "../../../src/experiment/log/gapDoubt";
import type { Reading } from "../../../src/experiment/log/reading";

const BALL = 0.057;
const doubt = (value: number, unit = "m") =>
  gapDoubt({ heading: parseHeading(`Gap (${unit})`), readings: [{ kind: "number", value }] }, 0, BALL);

describe("a gap", () => {
  // Half a division of a coarse ruler beyond the radius is a straight ball, read coarsely.
  const most = BALL / 2 + 0.0254 / 16;

  it("may be a radius and half a coarse division, and no more", () => {
    expect(doubt(most)).toBeUndefined();
    expect(doubt(most * (1 + 1e-12))).toMatchObject({
      out: true,
      text: expect.stringContaining("more than a ball's radius"),
    });
  });

  it("is out beyond a diameter on either side, and rare but counted past the near mark", () => {
    expect(doubt(-BALL)).toMatchObject({ out: false, text: expect.stringContaining("That is rare; it counts.") });
    expect(doubt(-BALL * (1 + 1e-12))).toMatchObject({ out: true, text: expect.stringContaining("a ball's diameter") });
    expect(doubt(BALL)).toMatchObject({ text: expect.stringContaining("radius") });
    expect(doubt(BALL * (1 + 1e-12))).toMatchObject({ text: expect.stringContaining("diameter") });
    expect(doubt(0)).toBeUndefined();
    expect(doubt(-1e-9)).toMatchObject({ out: false });
  });

  it("that is no number is out, by what stands there; a blank is nothing odd", () => {
    const of = (reading: Reading) => {
      const found = gapDoubt({ heading: parseHeading("Gap (in)"), readings: [reading] }, 0, BALL);
      return found && { ...found, text: toText(found.text) };
    };
    expect(of({ kind: "blank" })).toBeUndefined();
    expect(of({ kind: "word", text: "wide" })).toEqual({ text: '"wide" is no length.', out: true });
    expect(of({ kind: "unusable", reason: "the error #N/A" })).toEqual({ text: "the error #N/A.", out: true });
    expect(of({ kind: "date", value: 46030 })).toEqual({
      text: "the date 2026-01-08, which 1/8 is turned into: type 0 1/8 or =1/8 there.",
      out: true,
    });
  });

  it("without a unit is in inches, against the usual ball where none is said", () => {
    const plain = (value: number) =>
      gapDoubt({ heading: parseHeading("Gap"), readings: [{ kind: "number", value }] }, 0);
    // The radius of 1 1/8 in and half a coarse division of 1/16.
    expect(plain(1.125 + 1 / 16 - 1e-9)).toBeUndefined();
    expect(plain(1.125 + 1 / 16 + 1e-9)?.text).toContain("more than a ball's radius");
    expect(plain(1.5)?.text).toMatch(/^1 1\/2 in is more/);
    expect(doubt(31, "mm")?.text).toBe(
      "31 mm is more than a ball's radius: a straight ball passes there without touching, so it asks for no bend.",
    );
  });

  it("in other than a length says nothing", () => expect(doubt(900, "%")).toBeUndefined());
});
