/** What is odd about a gap: at its limits, to the last digit, and on either side of them. */
import { describe, expect, it } from "vitest";
import { parseHeading } from "../../../src/experiment/log/header";
import { gapDoubt } from "../../../src/experiment/log/gapDoubt";

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

  it("in other than a length says nothing", () => expect(doubt(900, "%")).toBeUndefined());
});
