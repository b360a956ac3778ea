/** A layout as people read it and as it goes on paper. */
import { describe, expect, it } from "vitest";
import {
  arrangementsOf,
  backPastCueBall,
  changedLayout,
  laidShot,
  mendOf,
  works,
} from "../../../src/experiment/layout/layoutCheck";
import { markTemplate, stepPages, wallDrawing } from "../../../src/experiment/layout/layoutDrawing";
import {
  firstLayout,
  layoutOfShot,
  layoutProblem,
  parseLayout,
  placedBalls,
} from "../../../src/experiment/layout/layoutForm";
import { layoutSteps } from "../../../src/experiment/layout/layoutSteps";
import { arrangementCost, layoutLine, layoutNotes, mendSentence } from "../../../src/experiment/layout/layoutWords";
import { brokenText, PAPERS, type PaperShape } from "../../../src/experiment/layout/paper";
import { bothUnits, toleranceWords } from "../../../src/experiment/layout/placeWords";
import { shotLayout } from "../../../src/experiment/shot/shotLayout";
import { computeShot } from "../../../src/experiment/shot/computedShot";
import { conditionsOfShot, DEFAULT_SHOT } from "../../../src/experiment/shot/shotSettings";
import { toText, joinTexts } from "../../../src/experiment/language/said";

const INCH = 0.0254;
const form = firstLayout("en-US");
type Of<K extends PaperShape["kind"]> = Extract<PaperShape, { kind: K }>;
const shapes = <K extends PaperShape["kind"]>(list: readonly PaperShape[], kind: K) =>
  list.filter((shape): shape is Of<K> => shape.kind === kind);

describe("places", () => {
  it("are measured from the nearest rails, in both units", () => {
    const near = placedBalls({
      ...form,
      departure: 90 * INCH,
      arrival: 90 * INCH,
      bend: 0,
      arrangement: "inside",
    }).find(({ label }) => label === "departure")!;
    expect(near.words).toBe("10 in (254 mm) from the right rail, 1 1/8 in (29 mm) from the banked rail");
    const gate = placedBalls(form).find(({ label }) => label === "gate at the pocket")!;
    expect(gate.words).toMatch(/ from the left rail, 1 1\/8 in \(29 mm\) from the rail opposite$/);
    expect(placedBalls({ ...form, units: "si" })[0].words).toContain("813 mm (32 in)");
  });
  it("say when they cannot be set up", () => {
    expect(layoutProblem(form)).toBeUndefined();
    expect(layoutProblem({ ...form, bend: 0.06 })).toContain("as wide as a ball");
    expect(layoutProblem({ ...form, departure: 0.01 })).toContain("in the rail beside");
    expect(layoutProblem({ ...form, arrival: 3 })).toContain("beyond the rail opposite");
    expect(layoutProblem({ ...form, approach: 1.5 })).toContain("comes along the rail");
  });
  it("can be those of a computed shot", () => {
    const conditions = conditionsOfShot(DEFAULT_SHOT);
    const computed = computeShot(DEFAULT_SHOT, conditions);
    const path = computed.bank!.path!;
    const taken = layoutOfShot(form, DEFAULT_SHOT, shotLayout(DEFAULT_SHOT, computed, conditions), path);
    expect(taken.bend).toBe(path.bend);
    // The chord has the shot's own slope.
    expect((taken.arrival - taken.departure) / (taken.tableWidth - taken.ballDiameter / 2)).toBeCloseTo(
      path.arrival.x / DEFAULT_SHOT.across,
      12,
    );
    expect(taken.approach).toBeCloseTo(DEFAULT_SHOT.angle, 6);
    expect(parseLayout(JSON.parse(JSON.stringify(taken)))).toEqual(taken);
    // The ways of the shot stay while only the gate changes, and go with what they follow from.
    expect(changedLayout(taken, { arrangement: "far" }).ways).toEqual(taken.ways);
    expect(changedLayout(taken, { arrival: 1 }).ways).toBeUndefined();
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

describe("the whole shot of a layout", () => {
  it("goes through the first layout, on every table and with every arrangement", () => {
    expect(laidShot(form).amiss).toEqual([]);
    expect(arrangementsOf(form).every((one) => one.works)).toBe(true);
    expect(toText(layoutLine(laidShot(form)))).toMatch(
      /^The whole shot goes through\. Bend of the path 1\/2 in \(12\.7 mm\) short: set bend 0\.559 in, gap 0\.566 in\.$/,
    );
  });
  it("says which is in the way, by how much, what to change, and what works", () => {
    // The layout that once came first: it arrived in the rail, 4 in beside the pocket.
    const laid = laidShot({ ...form, arrival: 46 * INCH });
    expect(toText(layoutLine(laid))).toBe(
      "This layout cannot be shot. The ball off the cushion does not go into the far side pocket: on its line 2.581 in is missing between ball and jaw. Move the arrival to the middle of a pocket's mouth.",
    );
    const mend = mendOf(laid.form)!;
    expect(mend.change).toEqual({ arrival: expect.closeTo(50 * INCH, 12) });
    expect(works(mend.form)).toBe(true);
    expect(mendSentence(mend)).toBe("This works: the arrival at 50 in (1270 mm).");
  });
  it.each([
    ["in the mouth of a side pocket", { departure: 50 * INCH }],
    ["with its spot off the table", { departure: 10 * INCH, approach: 0.8 }],
    [
      "at a corner that the ball cannot enter",
      { railLength: 50 * INCH, tableWidth: 100 * INCH, departure: 20 * INCH, approach: 0.3 },
    ],
    [
      "with an obstacle in the way of the approach",
      { approach: 0, spotDistance: 30 * INCH, arrival: 32.5 * INCH, obstacleDiameter: 0.15 },
    ],
  ])("is refused %s, and what is offered works", (_, part) => {
    const laid = laidShot({ ...form, ...part });
    expect(laid.amiss.length).toBeGreaterThan(0);
    expect(toText(layoutLine(laid))).toMatch(/^This layout cannot be shot\. .* in .*[.]/);
    const mend = mendOf(laid.form);
    if (mend) expect(laidShot(mend.form).amiss).toEqual([]);
    else expect(mendSentence(mend)).toMatch(/^Nothing that was tried/);
  });
  it("looks at the marks, too: one that would lie under a rail is said", () => {
    // A long layout close by the left rail: no cloth is under the marks.
    const laid = laidShot({ ...form, departure: 3 * INCH, arrival: 0.5 * INCH, bend: -0.5 * INCH });
    expect(laid.amiss.filter(({ what }) => what.endsWith("mark")).map(({ kind, what }) => [kind, what])).toEqual([
      ["inside a rail", "the near mark"],
      ["inside a rail", "the far mark"],
    ]);
    const mend = mendOf(laid.form);
    expect(mend && works(mend.form)).toBe(true);
  });
  it("says what each arrangement costs", () => {
    const costs = arrangementsOf(form).map(arrangementCost);
    expect(toText(costs[0])).toMatch(/beyond grazing and so has bent 0\.059 in less than R − gap says/);
    expect(toText(costs[1])).toMatch(/either may touch/);
    expect(toText(costs[2])).toMatch(/never less/);
    const inside = arrangementsOf({ ...form, approach: 0.1 })[0];
    expect(toText(arrangementCost(inside))).toMatch(
      /starts [\d.]+ in inside the channel and so has bent [\d.]+ in more/,
    );
  });
  it("speaks of the obstacle on a mark, and of a ball that comes back over the cue ball", () => {
    expect(toText(joinTexts(layoutNotes(laidShot(form)), " "))).toContain("The obstacle covers the far mark");
    const square = { ...form, approach: 0, departure: 49.9 * INCH - 3 * INCH };
    expect(backPastCueBall(square)).toBeLessThan(0);
    expect(toText(joinTexts(layoutNotes(laidShot({ ...form, bend: 1.3 * INCH })), " "))).toContain(
      "covers the near mark",
    );
  });
  it("has steps with every place in them", () => {
    const lines = toText(
      joinTexts(
        layoutSteps(laidShot(form)).flatMap((group) => group.lines),
        "\n",
      ),
    );
    for (const { label, words } of placedBalls(form))
      if (label !== "departure" && label !== "arrival") expect(lines).toContain(words);
    expect(lines).toContain("gap 0.566 in, gate correction 0.059 in. Set bend 0.559 in, bend of the path 0.500 in");
  });
});

describe("on paper", () => {
  it.each(["A4", "Letter"] as const)("the wall drawing keeps one scale and stays on %s", (paper) => {
    for (const [railLength, tableWidth] of [
      [100, 50],
      [50, 100],
      [76, 38],
      [38, 76],
    ]) {
      const page = wallDrawing(
        laidShot({
          ...form,
          paper,
          railLength: railLength * INCH,
          tableWidth: tableWidth * INCH,
          departure: railLength * 0.4 * INCH,
          arrival: railLength * 0.5 * INCH,
        }),
      );
      expect([...page.size].sort()).toEqual([...PAPERS[paper]].sort());
      const [frame] = shapes(page.shapes, "rect");
      const scale = (railLength * 25.4) / frame.size[0];
      expect((tableWidth * 25.4) / frame.size[1]).toBeCloseTo(scale, 9);
      expect(
        page.shapes.some((shape) => shape.kind === "text" && shape.text.endsWith(`scale 1 : ${Math.round(scale)}`)),
      ).toBe(true);
      expect(shapes(page.shapes, "circle").some(({ radius }) => Math.abs(radius * 2 * scale - 57.15) < 1e-9)).toBe(
        true,
      );
      for (const { at, size } of shapes(page.shapes, "text")) {
        expect(at[1] + size * 0.3).toBeLessThan(page.size[1] - 5);
        expect(at[0]).toBeGreaterThan(5);
      }
    }
  });

  it("the template is full size: marks a ball apart, the obstacle's edge at the gap, a bar to check", () => {
    const laid = laidShot(form);
    const page = markTemplate(laid);
    const [near, far] = shapes(page.shapes, "circle");
    expect(near.centre[1] - far.centre[1]).toBeCloseTo(57.15, 9);
    const edge = shapes(page.shapes, "line").find(({ width, from, to }) => width === 0.5 && from[1] === to[1])!;
    // The template says and draws the gap to a nanometre, so that a fraction of an inch stays one.
    expect(near.centre[1] - edge.from[1]).toBeCloseTo(laid.gated.gap * 1000, 6);
    const bars = shapes(page.shapes, "line").filter(({ width }) => width === 0.5);
    expect(bars[1].to[0] - bars[1].from[0]).toBeCloseTo(101.6, 9);
  });

  it("the steps stay on their pages, each with a box to tick", () => {
    for (const paper of ["A4", "Letter"] as const) {
      const pages = stepPages(laidShot({ ...form, paper }));
      for (const { size, shapes: drawn } of pages)
        for (const { at, text, size: height } of shapes(drawn, "text")) {
          expect(at[1]).toBeLessThan(size[1] - 8);
          expect(at[0] + text.length * height * 0.5).toBeLessThan(size[0] - 5);
        }
      const boxes = pages.flatMap(({ shapes: drawn }) => shapes(drawn, "rect"));
      expect(boxes).toHaveLength(layoutSteps(laidShot(form)).flatMap(({ lines }) => lines).length);
    }
    expect(brokenText("one two three", 12, 3)).toEqual(["one two", "three"]);
  });

  it("says lengths and tolerances in words", () => {
    expect(bothUnits(1.13 * INCH, "us")).toBe("1 1/8 in (29 mm)");
    expect(toText(toleranceWords(Infinity, "us"))).toBe("hardly matters");
    expect(toText(toleranceWords(INCH / 32, "us"))).toBe("0.031 in");
    expect(toText(toleranceWords(0.0008, "si"))).toBe("0.8 mm");
  });
});
