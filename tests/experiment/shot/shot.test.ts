/** The Shot view's pure parts: kept settings, sweep, band, best shot, layout, words, sheet. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DEFAULT_CONDITIONS } from "../../../src/bank/conditions";
import { wholeBank } from "../../../src/bank/shot";
import { strokeShot } from "../../../src/bank/strokeShot";
import { tableShape } from "../../../src/bank/tableShape";
import { aimedPocket, bestShot, putInto, soundBend } from "../../../src/experiment/shot/bestShot";
import {
  bendOfShot,
  computeShot,
  cuePart,
  motionAtCushion,
  offTable,
  ballStarts,
} from "../../../src/experiment/shot/computedShot";
import { constantSets } from "../../../src/experiment/shot/constantSets";
import { pathBand, shotLayout } from "../../../src/experiment/shot/shotLayout";
import {
  AT_CUSHION,
  bendSettings,
  bounds,
  changeOf,
  DEFAULT_SHOT,
  fromOrigin,
  onRail,
  ORIGINS,
  parseShot,
  searched,
  type ShotSettings,
} from "../../../src/experiment/shot/shotSettings";
import { shotRow } from "../../../src/experiment/shot/shotRow";
import { bendCurve, bendRange, sensitivities } from "../../../src/experiment/shot/shotSweep";
import {
  arrivalSentence,
  beforeSentence,
  bandSentence,
  bendSentence,
  changeRows,
  clearanceSentence,
  oneChange,
  shotWarnings,
} from "../../../src/experiment/shot/shotWords";
import { toText, joinTexts } from "../../../src/experiment/language/said";

const INCH = 0.0254;
const RADIUS = DEFAULT_CONDITIONS.ballDiameter / 2;
const shotOf = (part: Partial<ShotSettings> = {}): ShotSettings => ({ ...DEFAULT_SHOT, ...part });
const layoutOf = (shot: ShotSettings) => shotLayout(shot, computeShot(shot, DEFAULT_CONDITIONS), DEFAULT_CONDITIONS);
const away = (a: { x: number; y: number }, b: { x: number; y: number }) => Math.hypot(a.x - b.x, a.y - b.y);
/** Distance of a point from the chord. */
function fromChord(point: { x: number; y: number }, [from, to]: readonly { x: number; y: number }[]): number {
  return Math.abs((point.x - from.x) * (to.y - from.y) - (point.y - from.y) * (to.x - from.x)) / away(from, to);
}

describe("kept settings", () => {
  it("come back as they were", () => {
    const shot = shotOf({
      speed: 1.23,
      rail: "short",
      across: 2,
      units: "si",
      wanted: "long",
      against: "roll",
    });
    expect(parseShot(JSON.parse(JSON.stringify(shot)))).toEqual(shot);
  });

  it("take the default for whatever is missing or impossible, and never throw", () => {
    expect(parseShot(undefined)).toEqual(DEFAULT_SHOT);
    expect(
      parseShot({
        speed: -3,
        angle: "steep",
        roll: NaN,
        limits: { speed: { low: 3, high: 1 } },
        constants: { restitution: { low: 0.9, value: 0.8, high: 1 } },
        units: "furlongs",
      }),
    ).toEqual(DEFAULT_SHOT);
    fc.assert(
      fc.property(fc.anything(), (raw) => {
        const shot = parseShot(raw);
        return searched(shot).every(
          (name) => shot[name] >= bounds(name, shot.rail).low && shot[name] <= bounds(name, shot.rail).high,
        );
      }),
    );
  });

  it("come within the other rail's distances when the rail is changed", () => {
    const { across, along } = onRail(onRail(shotOf({ along: 90 * INCH }), "short"), "long");
    expect(across).toBeCloseTo(45 * INCH, 12);
    expect(along).toBeCloseTo((50 - 1.125) * INCH, 12);
  });
});

describe("the table", () => {
  it("has 18 diamonds and six pockets, twice as long as broad, whichever rail is on top", () => {
    for (const rail of ["long", "short"] as const) {
      const { diamonds, pockets, width, depth } = tableShape(rail);
      expect(diamonds).toHaveLength(18);
      expect(pockets).toHaveLength(6);
      expect(Math.max(width, depth) / Math.min(width, depth)).toBe(2);
    }
  });
});

describe("the layout", () => {
  const settings = fc.record({
    speed: fc.double({ min: 1, max: 2.4, noNaN: true }),
    angle: fc.double({ min: -0.6, max: 0.6, noNaN: true }),
    roll: fc.double({ min: -0.2, max: 1, noNaN: true }),
    side: fc.double({ min: -0.5, max: 0.5, noNaN: true }),
    gap: fc.double({ min: -0.02, max: 0.05, noNaN: true }),
  });

  it("follows the rules of gates, marks and obstacle for any shot that arrives", () => {
    let seen = 0;
    fc.assert(
      fc.property(settings, (part) => {
        const shot = shotOf({ ...part, across: 0.8 });
        const { marked, ballRadius } = layoutOf(shot);
        if (!marked) return;
        seen++;
        const { chord, gates, nearMark, farMark, obstacle, widest, correction } = marked;
        // Places are sums of a few lengths below 3 m: 1e-9 m leaves out rounding only.
        expect(fromChord(gates[1], chord)).toBeCloseTo(2 * ballRadius, 9);
        expect(fromChord(nearMark, gates)).toBeCloseTo(2 * ballRadius, 9);
        expect(fromChord(farMark, gates)).toBeLessThan(1e-9);
        expect(away(nearMark, farMark)).toBeCloseTo(2 * ballRadius, 9);
        expect(away(nearMark, obstacle)).toBeCloseTo(Math.abs(shot.gap + shot.obstacleRadius), 9);
        expect(gates[0].y).toBeCloseTo(ballRadius, 12);
        expect(fromChord(widest, chord)).toBeCloseTo(Math.abs(bendOfShot(shot, DEFAULT_CONDITIONS)), 9);
        // The gates stand away from the swing: the far mark is one ball, the bend and what the gate takes off it from
        // the ball at its widest. A gate that is moved turns the line of the marks, by less than 0.02: squares of that,
        // of lengths below 0.1 m.
        const turned = fromChord(gates[0], chord) - 2 * ballRadius;
        expect(turned).toBeGreaterThan(-1e-9);
        expect(turned / away(...chord)).toBeLessThan(0.02);
        const size = turned < 1e-9 ? 9 : 4;
        expect(fromChord(nearMark, chord)).toBeCloseTo(correction, size);
        expect(away(widest, farMark)).toBeCloseTo(2 * ballRadius + fromChord(widest, chord) + correction, size);
      }),
      // A ball that comes in over the gate's place: the gate stands farther out.
      { numRuns: 300, examples: [[{ speed: 1.5227, angle: 0.6, roll: -0.2, side: -0.5, gap: 0 }]] },
    );
    expect(seen).toBeGreaterThan(100);
  });

  it("clears what the rule of the marks says, when the obstacle is small beside the swing's length", () => {
    const shot = shotOf();
    const { marked } = layoutOf(shot);
    // The path is nearly level at its widest, so ball and obstacle are nearest there; the pieces of the path add 1e-5
    // m.
    expect(marked!.clearance).toBeCloseTo(marked!.clearanceAtMarks, 4);
    expect(layoutOf(shotOf({ gap: marked!.leastGap - 0.003 })).marked!.clearance).toBeLessThan(0);
    expect(layoutOf(shotOf({ gap: marked!.leastGap + 0.003 })).marked!.clearance).toBeGreaterThan(0);
  });

  it("mirrors with the shot", () => {
    const here = layoutOf(shotOf({ angle: 0.3, side: 0.2, along: 1.27 })).marked!;
    const there = layoutOf(shotOf({ angle: -0.3, side: -0.2, along: 1.27 })).marked!;
    expect(there.obstacle.x - 1.27).toBeCloseTo(1.27 - here.obstacle.x, 9);
    expect(there.clearance).toBeCloseTo(here.clearance, 9);
  });

  it("draws a ball that falls short as far as it gets", () => {
    const { marked, path } = layoutOf(shotOf({ speed: 0.25, across: 1.2 }));
    expect(marked).toBeUndefined();
    expect(path.every(({ x, y }) => Number.isFinite(x) && Number.isFinite(y))).toBe(true);
    expect(Math.max(...path.map(({ y }) => y))).toBeLessThan(1.2);
  });
});

describe("where the shot is set", () => {
  const at = (origin: ShotSettings["origin"], part: Partial<ShotSettings> = {}) =>
    shotOf({ origin, across: 0.9, ...part });

  it("a spot at the cushion is the cushion", () => {
    expect(bendOfShot(at("spot", { spotDistance: 0, side: 0.2 }), DEFAULT_CONDITIONS)).toBe(
      bendOfShot(at("cushion", { side: 0.2 }), DEFAULT_CONDITIONS),
    );
  });

  it("from the spot it is the whole bank, from the stroke the whole shot", () => {
    const spot = at("spot", { roll: 0, side: 0.3, speed: 3 });
    const motion = { speed: 3, angle: spot.angle, roll: 0, side: 0.3, swerve: 0 };
    const whole = wholeBank({ motion, distance: spot.spotDistance, across: 0.9 }, DEFAULT_CONDITIONS, {
      tolerance: 1e-8,
    })!;
    // The same operations, but for x counted from the touch.
    expect(bendOfShot(spot, DEFAULT_CONDITIONS)).toBeCloseTo(whole.path!.bend, 12);
    const stroke = at("stroke", { cut: 0.2, tipUp: 0.2, tipRight: -0.1, cueSpeed: 4 });
    const struck = strokeShot(
      { ...cuePart(stroke, RADIUS), distance: stroke.spotDistance, across: 0.9 },
      DEFAULT_CONDITIONS,
      { tolerance: 1e-8 },
    )!;
    expect(bendOfShot(stroke, DEFAULT_CONDITIONS)).toBeCloseTo(struck.bank!.path!.bend, 12);
    // The cue ball is put so that the line of centres has the wanted angle.
    expect(computeShot(stroke, DEFAULT_CONDITIONS).hit!.lineAngle).toBeCloseTo(stroke.angle, 12);
  });

  it.each(ORIGINS)("draws the way to the cushion and gates there: %s", (origin) => {
    const shot = at(origin, { cut: 0.3 });
    const layout = layoutOf(shot);
    const last = layout.approach.at(-1)!;
    expect(away(last, layout.touch)).toBeLessThan(1e-9);
    expect(layout.spot === undefined).toBe(origin === "cushion");
    if (layout.spot) {
      expect(away(layout.approach[0], layout.spot)).toBeLessThan(1e-9);
      expect(layout.spot.y).toBeCloseTo(RADIUS + shot.spotDistance, 12);
    }
    expect(layout.cueBallHits === undefined).toBe(origin !== "stroke");
    if (layout.cueBallHits) expect(away(layout.cueBallHits, layout.spot!)).toBeCloseTo(2 * RADIUS, 12);
    expect(away(layout.cueBall ?? { x: 0, y: 0 }, layout.cueBallHits ?? { x: 0, y: 0 })).toBeCloseTo(
      origin === "stroke" ? shot.cueRun : 0,
      12,
    );
    expect(layout.marked!.gates[0].y).toBeCloseTo(RADIUS, 12);
  });

  it("says what happens before the cushion", () => {
    const said = (shot: ShotSettings) =>
      beforeSentence(shot, computeShot(shot, DEFAULT_CONDITIONS), DEFAULT_CONDITIONS);
    expect(toText(said(at("cushion")))).toBe("");
    expect(toText(said(at("spot")))).toMatch(
      /^It is at the cushion after 0\.\d+ s with 4\.\d+ mph, angle 20°, roll 1, side 0\.$/,
    );
    expect(toText(said(at("stroke")))).toMatch(
      /^The cue ball leaves the tip at .* mph and hits the object ball at .* mph\. The object ball leaves its spot at .* mph, without throw\. It is at the cushion/,
    );
    expect(toText(said(at("stroke", { cut: 0.4 })))).toMatch(/thrown [\d.]+° to [+−]x of the line of centres/);
  });

  it("warns of balls off the table, of a miscue and of a ball that never gets to the cushion", () => {
    const warned = (shot: ShotSettings) =>
      toText(
        joinTexts(shotWarnings(shot, computeShot(shot, DEFAULT_CONDITIONS), layoutOf(shot), DEFAULT_CONDITIONS), " "),
      );
    expect(warned(at("spot", { roll: 0 }))).toBe("");
    expect(warned(at("spot", { along: 3 * INCH, angle: 0.6, spotDistance: 1 }))).toContain(
      "The object ball's spot is off the table",
    );
    expect(warned(at("stroke", { cueRun: 2, spotDistance: 1 }))).toContain("The cue ball would stand off the table");
    expect(warned(at("stroke", { tipUp: 0.45, tipRight: 0.45 }))).toContain("The tip is 0.64 of the radius off centre");
    const short = at("spot", { speed: 0.23, roll: 0, spotDistance: 1.1 });
    expect(warned(short)).toContain("The object ball never reaches the cushion");
    expect(
      toText(bendSentence(computeShot(short, DEFAULT_CONDITIONS), bendRange(short, [DEFAULT_CONDITIONS]), "us")),
    ).toContain("never reaches the cushion");
    expect(layoutOf(short).path).toEqual([]);
    expect(warned(at("stroke", { cueSpeed: 0.3, cueRun: 2, tipUp: -0.5 }))).toMatch(
      /The cue ball never reaches the object ball|The object ball never reaches the cushion/,
    );
  });

  it("never throws nor gives a number that is not one, whatever the sliders say", () => {
    const names = [...bendSettings(at("spot")), ...bendSettings(at("stroke"))];
    const any = fc.record({
      origin: fc.constantFrom(...ORIGINS),
      ...Object.fromEntries(
        names.map((name) => [
          name,
          fc.double({ min: bounds(name, "long").low, max: bounds(name, "long").high, noNaN: true }),
        ]),
      ),
    });
    fc.assert(
      fc.property(any, (part) => {
        const shot = shotOf(part as Partial<ShotSettings>);
        const layout = layoutOf(shot);
        const places = [
          ...layout.approach,
          ...layout.path,
          ...(layout.spot ? [layout.spot] : []),
          ...(layout.cueBall ? [layout.cueBall] : []),
        ];
        expect(places.filter(({ x, y }) => !Number.isFinite(x + y))).toEqual([]);
        shotWarnings(shot, computeShot(shot, DEFAULT_CONDITIONS), layout, DEFAULT_CONDITIONS);
      }),
      { numRuns: 2000 },
    );
  });

  it("is kept, with a curve that counts there", () => {
    for (const origin of ORIGINS) {
      const shot = fromOrigin(shotOf({ against: "roll" }), origin);
      expect(bendSettings(shot)).toContain(shot.against);
      expect(parseShot(JSON.parse(JSON.stringify(shot)))).toEqual(shot);
    }
    expect(parseShot({ ...DEFAULT_SHOT, origin: "stroke", against: "roll" }).against).toBe("cueSpeed");
  });

  it("is searched by what the stroke sets, on the table and within the tip's limit", () => {
    const asked = at("stroke", { wanted: "long" });
    const best = bestShot(asked, DEFAULT_CONDITIONS)!;
    const computed = computeShot(best.shot, DEFAULT_CONDITIONS);
    expect(soundBend(best.shot, computed, DEFAULT_CONDITIONS)).toBe(best.bend);
    expect(best.bend).toBeLessThan(Math.min(0, bendOfShot(asked, DEFAULT_CONDITIONS)));
    const { spot, cueBall } = ballStarts(best.shot, computed, RADIUS);
    expect(offTable(spot, asked, RADIUS) + offTable(cueBall, asked, RADIUS)).toBe(0);
    for (const name of searched(asked))
      expect(best.shot[name] >= asked.limits[name].low && best.shot[name] <= asked.limits[name].high).toBe(true);
  });

  it("says where the ball arrives against the pocket", () => {
    const shot = shotOf({ across: (50 - 2.25) * INCH, angle: 0, roll: 0, along: 49 * INCH });
    // Straight across from 49 in; the side pocket is at 50 in.
    expect(layoutOf(shot).marked!.offPocket / INCH).toBeCloseTo(-1, 9);
    expect(toText(arrivalSentence(shot, layoutOf(shot)))).toBe(
      "At the rail opposite, its centre is 1 in to the left of the centre of the nearest pocket on the rail opposite, as drawn. Its line goes into the far side pocket, with 0.375 in to the nearer jaw.",
    );
    expect(toText(arrivalSentence(shotOf({ across: 45 * INCH }), layoutOf(shotOf({ across: 45 * INCH }))))).toMatch(
      /^On the line across, 2\.75 in before/,
    );
  });
});

describe("the band", () => {
  it("spans the line, and shrinks to nothing when the constants are certain", () => {
    const sets = constantSets(DEFAULT_SHOT);
    expect(sets[0]).toEqual(DEFAULT_CONDITIONS);
    const curve = bendCurve(DEFAULT_SHOT, "speed", sets, 9);
    expect(curve.bend.filter((bend) => !Number.isNaN(bend)).length).toBeGreaterThan(2);
    curve.bend.forEach((bend, i) => {
      if (Number.isNaN(bend)) return;
      expect(curve.low[i]).toBeLessThanOrEqual(bend);
      expect(curve.high[i]).toBeGreaterThanOrEqual(bend);
    });
    expect(Math.max(...curve.high.map((high, i) => high - curve.low[i] || 0))).toBeGreaterThan(0.5 * INCH);
    const exact = <T extends object>(ranges: T) =>
      Object.fromEntries(
        Object.entries(ranges).map(([name, { value }]) => [name, { low: value, value, high: value }]),
      ) as T;
    const certain = { ...DEFAULT_SHOT, constants: exact(DEFAULT_SHOT.constants), others: exact(DEFAULT_SHOT.others) };
    expect(constantSets(certain)).toHaveLength(1);
    const { low, high } = bendRange(DEFAULT_SHOT, constantSets(certain));
    expect(low).toBe(high);
    expect(pathBand(DEFAULT_SHOT, constantSets(certain))).toEqual([]);
    expect(toText(bandSentence(certain))).toMatch(/^No band: the set-up gives no range\./);
  });

  it("says what it holds: every constant with a range, the ball's and the nose's among them", () => {
    expect(toText(bandSentence(DEFAULT_SHOT))).toBe(
      "In the band, each over its range in the set-up and together: slip friction 0.15 to 0.25, nose friction 0.1 to 0.2, restitution 0.75 to 0.98, nose height 0.625 to 0.645, roll friction 0.005 to 0.015, ball diameter 2.245 in to 2.255 in and ball mass 5.499 oz to 6 oz. Side friction is taken as exact.",
    );
    const nose = { low: 0.6, value: 0.635, high: 0.67 };
    const wide = { ...DEFAULT_SHOT, others: { ...DEFAULT_SHOT.others, noseHeight: nose } };
    const [before, after] = [DEFAULT_SHOT, wide].map((shot) => bendRange(shot, constantSets(shot)));
    expect(after.high - after.low).toBeGreaterThan(before.high - before.low);
    for (const noseHeight of [nose.low, nose.high]) {
      const bend = bendOfShot(wide, { ...DEFAULT_CONDITIONS, noseHeight });
      expect(bend).toBeGreaterThan(after.low);
      expect(bend).toBeLessThan(after.high);
    }
  });

  it("holds nearly every bend of constants drawn at random within the ranges", () => {
    // Where a slip stops the bend is not monotone in the constants, so a few may lie outside; the text says how it is
    // made.
    let seed = 5;
    const uniform = () => (seed = (seed * 48271) % 2147483647) / 2147483647;
    const { low, high } = bendRange(DEFAULT_SHOT, constantSets(DEFAULT_SHOT));
    const { slipFriction, noseFriction, restitution } = DEFAULT_SHOT.constants;
    const within = (range: { low: number; high: number }) => range.low + uniform() * (range.high - range.low);
    const outside = Array.from({ length: 400 }, () =>
      bendOfShot(DEFAULT_SHOT, {
        ...DEFAULT_CONDITIONS,
        slipFriction: within(slipFriction),
        noseFriction: within(noseFriction),
        restitution: within(restitution),
        ...Object.fromEntries(Object.entries(DEFAULT_SHOT.others).map(([name, range]) => [name, within(range)])),
      }),
    ).filter((bend) => bend < low || bend > high);
    expect(outside.length).toBeLessThan(8);
  });

  it("is broken where the ball never arrives", () => {
    const curve = bendCurve(shotOf({ across: 1.2, rail: "short" }), "speed", constantSets(DEFAULT_SHOT), 9);
    expect(curve.bend[0]).toBeNaN();
    expect(curve.low[0]).toBeNaN();
    expect(curve.bend[8]).not.toBeNaN();
  });
});

describe("sensitivities", () => {
  it("are what the curve itself says a step away, at a kink as well", () => {
    for (const shot of [shotOf({ roll: 0.6, side: 0.1 }), DEFAULT_SHOT, shotOf({ angle: 0.01, roll: 0, side: 0.001 })])
      for (const { setting, up, down } of sensitivities(shot, DEFAULT_CONDITIONS)) {
        const step = changeOf(setting, "us");
        const bend = (by: number) => bendOfShot({ ...shot, [setting]: shot[setting] + by }, DEFAULT_CONDITIONS);
        if (!Number.isNaN(up)) expect(up).toBe(bend(step) - bend(0));
        if (!Number.isNaN(down)) expect(down).toBe(bend(-step) - bend(0));
      }
    // Nobody can make a ball roll faster than it goes.
    expect(sensitivities(DEFAULT_SHOT, DEFAULT_CONDITIONS).find(({ setting }) => setting === "roll")!.up).toBeNaN();
    expect(sensitivities(DEFAULT_SHOT, DEFAULT_CONDITIONS).map(({ setting }) => setting)).toEqual(AT_CUSHION);
  });
});

describe("the best shot", () => {
  it("beats eight thousand random ones, more than it tries itself, whichever way is wanted", () => {
    // What is wanted changes what counts, not which shots there are: they are drawn once.
    const asked = shotOf({});
    const pocket = aimedPocket(asked, computeShot(asked, DEFAULT_CONDITIONS))!;
    let seed = 9;
    const uniform = () => (seed = (seed * 48271) % 2147483647) / 2147483647;
    const bends: number[] = [];
    for (let i = 0; i < 8_000; i++) {
      const place = Object.fromEntries(
        searched(asked).map((name) => [
          name,
          asked.limits[name].low + uniform() * (asked.limits[name].high - asked.limits[name].low),
        ]),
      ) as Partial<ShotSettings>;
      const set = { ...asked, ...place };
      const computed = computeShot(set, DEFAULT_CONDITIONS);
      const shot = putInto(pocket, set, computed, RADIUS);
      const bend = soundBend(shot, computed, DEFAULT_CONDITIONS);
      if (bend !== undefined) bends.push(bend);
    }
    expect(bends.length).toBeGreaterThan(1000);
    const scores = { short: (bend: number) => bend, long: (bend: number) => -bend, either: Math.abs };
    for (const wanted of ["short", "long", "either"] as const) {
      const best = bestShot(shotOf({ wanted }), DEFAULT_CONDITIONS)!;
      const score = scores[wanted];
      expect(score(best.bend), wanted).toBeGreaterThanOrEqual(Math.max(...bends.map(score)));
      expect(best.tried).toBeLessThan(6000);
      for (const name of searched(asked)) {
        expect(best.shot[name]).toBeGreaterThanOrEqual(asked.limits[name].low);
        expect(best.shot[name]).toBeLessThanOrEqual(asked.limits[name].high);
      }
    }
  });

  it("holds a setting whose limits meet, and is the same each time", () => {
    const asked = shotOf({ limits: { ...DEFAULT_SHOT.limits, roll: { low: 0.5, high: 0.5 } } });
    const best = bestShot(asked, DEFAULT_CONDITIONS)!;
    expect(best.shot.roll).toBe(0.5);
    expect(bestShot(asked, DEFAULT_CONDITIONS)).toEqual(best);
  });

  it("says so when nothing within the limits is sound, and refuses reversed ones", () => {
    const slow = { ...DEFAULT_SHOT.limits, speed: { low: 0.23, high: 0.24 } };
    expect(bestShot(shotOf({ limits: slow }), DEFAULT_CONDITIONS)).toBeUndefined();
    expect(() => bestShot(shotOf({ limits: { ...slow, angle: { low: 1, high: 0 } } }), DEFAULT_CONDITIONS)).toThrow(
      "the limits of angle are reversed",
    );
  });
});

describe("words", () => {
  const say = (shot: ShotSettings) => {
    const computed = computeShot(shot, DEFAULT_CONDITIONS);
    return {
      warnings: toText(joinTexts(shotWarnings(shot, computed, layoutOf(shot), DEFAULT_CONDITIONS), " ")),
      bend: bendSentence(computed, bendRange(shot, [DEFAULT_CONDITIONS]), shot.units),
    };
  };

  it("warn of speed, of a ball that falls short, of the side rail and of too much spin", () => {
    expect(say(DEFAULT_SHOT).warnings).toBe("");
    expect(say(shotOf({ speed: 4 })).warnings).toContain("faster than 2.5 m/s");
    expect(say(shotOf({ speed: 0.25 })).warnings).toContain("stops before it reaches the line");
    expect(toText(say(shotOf({ speed: 0.25 })).bend)).toContain("never reaches the line");
    expect(say(shotOf({ along: 2.4 })).warnings).toContain("side rail");
    expect(say(shotOf({ roll: 1, side: 1.2 })).warnings).toContain("Nobody can shoot this");
    expect(say(shotOf({ origin: "spot", roll: 0.2, side: 0.1 })).warnings).toContain(
      "leaves its spot with at most 0.2",
    );
    expect(say(shotOf({ origin: "spot", roll: 0.15, side: 0.1 })).warnings).toBe("");
  });

  it("give the bend its way and its unit", () => {
    expect(toText(say(DEFAULT_SHOT).bend)).toBe("Bends 1.093 in long.");
    expect(toText(say(shotOf({ units: "si" })).bend)).toBe("Bends 27.8 mm long.");
    expect(toText(say(shotOf({ angle: 0, roll: 0 })).bend)).toBe("Bends 0.000 in neither short nor long.");
  });

  it("say what is cleared and the one change", () => {
    expect(toText(clearanceSentence(DEFAULT_SHOT, layoutOf(DEFAULT_SHOT)))).toMatch(
      /^With a gap of 0\.250 in it clears the obstacle by 0\.21\d in\. The least gap .* is 0\.032 in\.$/,
    );
    expect(toText(clearanceSentence(shotOf({ gap: 0 }), layoutOf(shotOf({ gap: 0 }))))).toContain("hits the obstacle");
    const rows = changeRows(
      sensitivities(DEFAULT_SHOT, DEFAULT_CONDITIONS),
      bendOfShot(DEFAULT_SHOT, DEFAULT_CONDITIONS),
      "us",
    );
    expect(rows.map(({ change }) => Math.abs(change))).toEqual(
      rows.map(({ change }) => Math.abs(change)).sort((a, b) => b - a),
    );
    const steps = sensitivities(DEFAULT_SHOT, DEFAULT_CONDITIONS);
    expect(toText(oneChange(steps, bendOfShot(DEFAULT_SHOT, DEFAULT_CONDITIONS), "us"))).toMatch(
      /^The one change that bends it most: (more|less) \w+, about 0\.\d+ in for [\d.]+/,
    );
  });
});

describe("the sheet", () => {
  it("holds one row under headings with units, and blanks where the ball never arrives", () => {
    const sent = (shot: ShotSettings) => {
      const computed = computeShot(shot, DEFAULT_CONDITIONS);
      const { headings, cells } = shotRow(
        shot,
        computed,
        DEFAULT_CONDITIONS,
        layoutOf(shot),
        bendRange(shot, [DEFAULT_CONDITIONS]),
        new Date(2026, 0, 11, 12, 0),
        "0",
      );
      expect(cells).toHaveLength(headings.length);
      expect(new Set(headings).size).toBe(headings.length);
      return (heading: string) => cells[headings.indexOf(heading)].value;
    };
    const cell = sent(DEFAULT_SHOT);
    // 2026-01-11 is day 46033 of every spreadsheet; noon is half a day.
    expect(cell("Sent")).toBe(46033.5);
    expect(cell("Speed at cushion (mph)")).toBe(5);
    expect(cell("Angle at cushion (°)")).toBe(20);
    expect(cell("Predicted bend (in)")).toBeCloseTo(-1.0929, 4);
    expect(cell("Set at")).toBe("the cushion");
    expect(cell("Cue's speed (mph)")).toBeNull();
    expect(cell("Speed at spot (mph)")).toBeNull();
    const struck = shotOf({ origin: "stroke", cut: 0.2 });
    const stroke = sent(struck);
    expect(stroke("Cue's speed (mph)")).toBeCloseTo(6, 9);
    expect(stroke("Speed at cushion (mph)")).toBeCloseTo(
      motionAtCushion(computeShot(struck, DEFAULT_CONDITIONS), DEFAULT_CONDITIONS)!.speed / 0.44704,
      8,
    );
    expect(stroke("Speed at spot (mph)")).toBeGreaterThan(stroke("Speed at cushion (mph)") as number);
    const short = sent(shotOf({ speed: 0.25 }));
    expect(short("Predicted bend (in)")).toBeNull();
    expect(short("Arrives")).toBe("never");
  });
});
