/**
 * What a struck object ball can have at the cushion: balls run forward from every start, and starts that nobody has.
 */
import fc from "fast-check";
import { expect, it } from "vitest";
import { motionOf, stateOf } from "../../../src/bank/ball";
import { DEFAULT_CONDITIONS } from "../../../src/bank/conditions";
import { approachToRail } from "../../../src/bank/shot";
import { objectBallAfter } from "../../../src/bank/stroke";
import { bestShot } from "../../../src/experiment/shot/bestShot";
import { beyondShooting, longestRun, neededAtStart, offered } from "../../../src/experiment/shot/shootable";
import { DEFAULT_SHOT, MOST_AT_START } from "../../../src/experiment/shot/shotSettings";
import { DEFAULT_SETUP } from "../../../src/experiment/setup/setup";
import { CANNOT, constantEffects, measureFirst } from "../../../src/experiment/shot/whatToMeasure";
import { toText } from "../../../src/experiment/language/said";

const radius = DEFAULT_CONDITIONS.ballDiameter / 2;

it("takes what a ball has at the cushion back to no more than it started with", () => {
  let seen = 0;
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 5, noNaN: true }),
      fc.double({ min: -0.2, max: 0.2, noNaN: true }),
      fc.double({ min: -0.2, max: 0.2, noNaN: true }),
      fc.double({ min: 0, max: 1.5, noNaN: true }),
      (speed, roll, side, run) => {
        const start = stateOf({ speed, angle: 0, roll, side, swerve: 0 }, "in", radius);
        const approach = approachToRail(start, run, DEFAULT_CONDITIONS);
        if (!approach) return;
        seen++;
        const there = motionOf(approach.atCushion, radius);
        const needed = neededAtStart(there, run, DEFAULT_CONDITIONS);
        // The last moments between those that are looked at, and rolling that slows the ball, are worth a hundredth.
        expect(needed).toBeLessThan(Math.hypot(roll, side) + 0.01);
      },
    ),
  );
  expect(seen).toBeGreaterThan(80);
});

it("never lets two balls give more than 5/2 of their friction, whatever cut and spin", () => {
  fc.assert(
    fc.property(
      fc.double({ min: -1.2, max: 1.2, noNaN: true }),
      fc.double({ min: -1.25, max: 1.25, noNaN: true }),
      fc.double({ min: -1.25, max: 1.25, noNaN: true }),
      (cut, roll, side) => {
        const cueBall = stateOf({ speed: 3, angle: 0, roll, side, swerve: 0 }, "in", radius);
        const after = motionOf(
          objectBallAfter(cueBall, cut, DEFAULT_CONDITIONS, { friction: 0.08, restitution: 0.95 }),
          radius,
        );
        expect(Math.hypot(after.roll, after.side, after.swerve)).toBeLessThanOrEqual(MOST_AT_START + 1e-9);
      },
    ),
  );
});

it("bounds the sliders, and says what is beyond", () => {
  const any = { low: -2, high: 2 };
  expect(offered("roll", { origin: "cushion" }, any)).toEqual({ low: -0.2, high: 1 });
  expect(offered("side", { origin: "spot" }, any)).toEqual({ low: -0.2, high: 0.2 });
  expect(offered("speed", { origin: "spot" }, any)).toBe(any);
  const beyond = (part: object) => beyondShooting({ ...DEFAULT_SHOT, ...part }, DEFAULT_CONDITIONS);
  expect(beyond({})).toBe(0);
  expect(beyond({ roll: -0.5 })).toBeGreaterThan(0);
  expect(beyond({ roll: 1.1 })).toBeGreaterThan(0);
  expect(beyond({ side: 0.5 })).toBeGreaterThan(0);
  expect(beyond({ origin: "stroke", roll: 2 })).toBe(0);
  // A fast ball has no room on this table to begin to roll.
  expect(beyond({ speed: 6 })).toBeGreaterThan(0);
  expect(longestRun({ ...DEFAULT_SHOT, angle: 0 }, radius)).toBeCloseTo(1.27 - (4 * radius) / 2, 9);
});

it("searches only what can be shot: a bend short stays far below what the cushion alone would promise", () => {
  const asked = { ...DEFAULT_SHOT, wanted: "short" as const };
  const best = bestShot(asked, DEFAULT_CONDITIONS);
  if (best) {
    expect(beyondShooting(best.shot, DEFAULT_CONDITIONS)).toBe(0);
    expect(best.bend).toBeLessThan(0.0254);
  }
});

it("says which constant the bend waits for, and what no measuring helps against", () => {
  const effects = constantEffects(DEFAULT_SHOT, DEFAULT_SETUP);
  const spans = effects.map(({ low, high }) => high - low);
  expect(spans).toEqual([...spans].sort((a, b) => b - a));
  expect(toText(measureFirst(effects, "us"))).toMatch(
    /^Measure first [a-z ]+: over its range the bend goes from −?[\d.]+ in to /,
  );
  expect(toText(measureFirst([], "us"))).toContain("taken as known");
  expect(CANNOT.join(" ")).toMatch(/humidity.*2\.5 m\/s/i);
});
