/** A layout as people read it and as it goes on paper. */
import { describe, expect, it } from "vitest";
import { markTemplate, PAPERS, wallDrawing, type PaperShape } from "../../../src/experiment/layout/layoutDrawing";
import {
  bothUnits,
  firstLayout,
  layoutOfShot,
  layoutProblem,
  parseLayout,
  placedBalls,
  toleranceWords,
} from "../../../src/experiment/layout/layoutForm";
import { computeShot } from "../../../src/experiment/shot/computedShot";
import { conditionsOfShot, DEFAULT_SHOT } from "../../../src/experiment/shot/shotSettings";

const INCH = 0.0254;
const form = firstLayout("en-US");
type Of<K extends PaperShape["kind"]> = Extract<PaperShape, { kind: K }>;
const shapes = <K extends PaperShape["kind"]>(list: readonly PaperShape[], kind: K) =>
  list.filter((shape): shape is Of<K> => shape.kind === kind);

describe("places", () => {
  it("are measured from the nearest rails, in both units", () => {
    const near = placedBalls({ ...form, departure: 90 * INCH, arrival: 90 * INCH, bend: 0 }).find(
      ({ label }) => label === "guide at the cushion",
    )!;
    expect(near.words).toBe("10 in (254 mm) from the right rail, 1 1/8 in (29 mm) from the banked rail");
    const far = placedBalls(form);
    expect(far.find(({ label }) => label === "guide at the pocket")!.words).toBe(
      "46 in (1168 mm) from the left rail, on the nose line of the rail opposite",
    );
    expect(far.find(({ label }) => label === "gate at the pocket")!.words).toMatch(
      / behind the nose line of the rail opposite$/,
    );
    expect(placedBalls({ ...form, units: "si" })[4].words).toContain("813 mm (32 in)");
  });
  it("say when they cannot be set up", () => {
    expect(layoutProblem(form)).toBeUndefined();
    expect(layoutProblem({ ...form, bend: 0.06 })).toContain("as wide as a ball");
    expect(layoutProblem({ ...form, departure: 0.01 })).toContain("in the rail beside");
    expect(layoutProblem({ ...form, arrival: 3 })).toContain("beyond the rail opposite");
  });
  it("can be those of a computed shot", () => {
    const path = computeShot(DEFAULT_SHOT, conditionsOfShot(DEFAULT_SHOT)).bank!.path!;
    const taken = layoutOfShot(form, DEFAULT_SHOT, DEFAULT_SHOT.along, path);
    expect(taken.bend).toBe(path.bend);
    // The chord has the shot's own slope.
    expect((taken.arrival - taken.departure) / (taken.tableWidth - taken.ballDiameter / 2)).toBeCloseTo(
      path.arrival.x / DEFAULT_SHOT.across,
      12,
    );
  });
  it("survive being kept, and anything else in their place", () => {
    expect(parseLayout(JSON.parse(JSON.stringify(form)))).toEqual(form);
    for (const odd of [null, 3, { bend: "x", paper: 7 }]) expect(parseLayout(odd).bend).toBe(form.bend);
  });
  it("have paper after the language", () =>
    expect([firstLayout("en-US").paper, firstLayout("en-GB").paper, firstLayout("de").paper]).toEqual([
      "Letter",
      "A4",
      "A4",
    ]));
});

describe("on paper", () => {
  it.each(["A4", "Letter"] as const)("the wall drawing keeps one scale and stays on %s", (paper) => {
    for (const [railLength, tableWidth] of [
      [100, 50],
      [50, 100],
      [76, 38],
      [38, 76],
    ]) {
      const page = wallDrawing({
        ...form,
        paper,
        railLength: railLength * INCH,
        tableWidth: tableWidth * INCH,
        departure: railLength * 0.4 * INCH,
        arrival: railLength * 0.5 * INCH,
      });
      expect([...page.size].sort()).toEqual([...PAPERS[paper]].sort());
      const [frame] = shapes(page.shapes, "rect");
      const scale = (railLength * 25.4) / frame.size[0];
      expect((tableWidth * 25.4) / frame.size[1]).toBeCloseTo(scale, 9);
      expect(
        page.shapes.some((shape) => shape.kind === "text" && shape.text.endsWith(`scale 1 : ${Math.round(scale)}`)),
      ).toBe(true);
      expect(shapes(page.shapes, "circle")[0].radius * 2 * scale).toBeCloseTo(57.15, 9);
      for (const { at, size } of shapes(page.shapes, "text")) {
        expect(at[1] + size * 0.3).toBeLessThan(page.size[1] - 5);
        expect(at[0]).toBeGreaterThan(5);
      }
    }
  });

  it("the template is full size: marks a ball apart, the obstacle's edge at the gap, a bar to check", () => {
    const page = markTemplate(form);
    const [near, far] = shapes(page.shapes, "circle");
    expect(near.centre[1] - far.centre[1]).toBeCloseTo(57.15, 9);
    const edge = shapes(page.shapes, "line").find(({ width, from, to }) => width === 0.5 && from[1] === to[1])!;
    expect(near.centre[1] - edge.from[1]).toBeCloseTo(57.15 / 2 - 12.7, 9);
    const bars = shapes(page.shapes, "line").filter(({ width }) => width === 0.5);
    expect(bars[1].to[0] - bars[1].from[0]).toBeCloseTo(101.6, 9);
  });

  it("says lengths and tolerances in words", () => {
    expect(bothUnits(1.13 * INCH, "us")).toBe("1 1/8 in (29 mm)");
    expect(toleranceWords(Infinity, "us")).toBe("hardly matters");
    expect(toleranceWords(INCH / 32, "us")).toBe("0.031 in");
    expect(toleranceWords(0.0008, "si")).toBe("0.8 mm");
  });
});
