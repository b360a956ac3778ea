/** The shot's worksheet functions through their own doors: units, labels, shapes, and what goes wrong. */
import { describe, expect, it } from "vitest";
import {
  ABSHUMIDITY,
  CAUTION,
  DEWPOINT,
  IMPACT,
  MIXINGRATIO,
  PATH,
  PATHCLEARANCE,
  PREDICT,
  REBOUND,
  RELHUMIDITY,
  ROLLING,
  RUN,
  SLIDING,
  SPEED,
  SPIN,
  SWING,
  TRACKBEND,
  VAPOUR,
} from "../../src/functions/functions";
import { at, failure } from "./calls";

const si = at("si");
const predict = (
  speed: unknown,
  angle: unknown,
  roll: unknown,
  side: unknown,
  across: unknown,
  conditions?: unknown[][],
  units?: unknown[][],
) => PREDICT(at(speed), at(angle), at(roll), at(side), at(across), conditions, units);

describe("the cushion model of earlier workbooks", () => {
  it("is passed over where it is the one that there is", () => {
    expect(predict(5, 30, 1, 0, 20, [["cushion model", "Nose and  bed"]])).toEqual(predict(5, 30, 1, 0, 20));
    expect(predict(5, 30, 1, 0, 20, [["cushion model", null]])).toEqual(predict(5, 30, 1, 0, 20));
  });
});

describe("RUN", () => {
  it("a stunned ball rolls at 5/7 of its speed just where it should", () => {
    const conditions = [
      ["slip friction", 0.2],
      ["roll friction", 0],
    ];
    const distance = (12 * 4) / (49 * 0.2 * 9.80665);
    const [[speed, roll, side]] = RUN(at(2), at(0), at(0), at(distance), conditions, si);
    expect(speed).toBeCloseTo(10 / 7, 9);
    expect(roll).toBeCloseTo(1, 9);
    expect(side).toBe(0);
  });
  it("gives one row, the same in both units", () => {
    const us = RUN(at(5), at(-0.5), at(0.6), at(20));
    const metric = RUN(at(5 * 0.44704), at(-0.5), at(0.6), at(20 * 0.0254), undefined, si);
    expect(us).toHaveLength(1);
    expect(us[0][0] * 0.44704).toBeCloseTo(metric[0][0], 12);
    expect(us[0].slice(1)).toEqual(metric[0].slice(1).map((one: number) => expect.closeTo(one, 12)));
    expect(RUN(at(5), at(0.3), at(0.2), at(0))).toEqual([
      [expect.closeTo(5, 12), expect.closeTo(0.3, 12), expect.closeTo(0.2, 12)],
    ]);
  });
  it("says where a ball rests or turns that does not get there", () => {
    expect(failure(() => RUN(at(1), at(1), at(0), at(5000)))).toMatch(
      /^#N\/A the ball never gets to distance 5000 in: it rests after \d/,
    );
    expect(failure(() => RUN(at(5), at(-2), at(0), at(500), [["slip friction", 0.3]]))).toMatch(
      /never gets to distance 500 in: it (rests|turns) after/,
    );
    expect(failure(() => RUN(at(1), at(1), at(0), at(-1)))).toMatch(/distance is -1: give 0 in or more/);
  });
});

describe("IMPACT", () => {
  it("without friction gives e times the speed square to the rail and leaves the spin", () => {
    const conditions = [
      ["nose friction", 0],
      ["slip friction", 0],
      ["restitution", 0.5],
      ["Nose  Height ", 0.635],
    ];
    const [[speed, angle, , side]] = IMPACT(at(2), at(45), at(0), at(0.5), conditions, si);
    expect(speed).toBeCloseTo(2 * Math.SQRT1_2 * Math.hypot(1, 0.5), 12);
    expect(angle).toBeCloseTo((Math.atan2(1, 0.5) * 180) / Math.PI, 12);
    expect(side * speed).toBeCloseTo(0.5 * 2, 12);
  });
  it("mirrors", () => {
    const [[speed, angle, roll, side, swerve]] = IMPACT(at(4), at(30), at(1), at(0.4));
    expect(IMPACT(at(4), at(-30), at(1), at(-0.4))[0]).toEqual(
      [speed, -angle, roll, -side, -swerve].map((one) => expect.closeTo(one, 9)),
    );
    expect(angle).toBeGreaterThan(0);
  });
});

describe("PREDICT, SWING, PATH and CAUTION", () => {
  it("lift over rows, errors stay in their row", () => {
    const [[one], [bad], [blank]] = PREDICT([[4], [-1], [null]], at(30), at(0.5), at(0), at(20));
    expect(one).toBe(predict(4, 30, 0.5, 0, 20)[0][0]);
    expect(bad).toMatchObject({ code: "#VALUE!", message: "speed is -1: give a number above 0 in mph." });
    expect(blank).toMatchObject({ code: "#N/A" });
  });
  it("tell one story", () => {
    const cells = [at(5), at(35), at(0.7), at(0.3), at(40)] as const;
    const [[bend]] = PREDICT(...cells);
    const [heads, row] = SWING(...cells);
    const swing = Object.fromEntries(heads.map((head: string, i: number) => [head, row[i]]));
    expect(swing.bend).toBe(bend);
    const [header, ...path] = PATH(...cells);
    expect(header).toEqual(["time", "x", "y", "phase"]);
    expect(path[0]).toEqual([0, 0, expect.closeTo(0, 12), "slip"]);
    const last = path[path.length - 1];
    expect(last[2]).toBeCloseTo(-40, 9);
    expect(last[1]).toBeCloseTo(swing["arrival x"], 9);
    const most = Math.max(...path.map(([, x, y]) => Math.abs(x * -40 - y * last[1]) / Math.hypot(40, last[1])));
    expect(Math.abs(bend)).toBeCloseTo(most, 9);
    expect(path.some(([, x, y]) => Math.abs(x - swing.x) < 1e-9 && Math.abs(y - swing.y) < 1e-9)).toBe(true);
    expect(CAUTION(...cells)).toEqual([[""]]);
    expect(CAUTION(at(9), at(0), at(1), at(0), at(40))[0][0]).toMatch(/faster than 2.5 m\/s/);
  });
  it("are the same in both units", () => {
    expect(predict(5, 30, 1, 0.2, 30)[0][0] * 0.0254).toBeCloseTo(
      predict(5 * 0.44704, 30, 1, 0.2, 30 * 0.0254, undefined, si)[0][0],
      12,
    );
    const ounces = predict(5, 30, 1, 0.2, 30, [
      ["ball mass", 5.75],
      ["ball diameter", 2.25],
    ]);
    expect(ounces[0][0]).toBeCloseTo(predict(5, 30, 1, 0.2, 30)[0][0], 12);
  });
  it.each([
    [() => predict(0, 30, 1, 0, 20), /speed is 0: give a number above 0 in mph/],
    [() => predict("fast", 30, 1, 0, 20), /speed is "fast", which is no number/],
    [() => predict(5, 90, 1, 0, 20), /angle is 90: the angle is from square/],
    [() => predict(5, -90, 1, 0, 20), /angle is -90/],
    [() => predict(5, 30, 1, 3, 20), /side is 3: no ball has that; a stroke gives at most 1.25/],
    [() => predict(5, 30, -2.1, 0, 20), /roll is -2.1/],
    [() => predict(5, 30, 1, 0, 0), /across is 0/],
    [() => predict(NaN, 30, 1, 0, 20), /speed is NaN/],
    [() => predict(5, 30, { error: "#REF!" }, 0, 20), /roll holds the error #REF!/],
    [() => predict(5, 30, null, 0, 20), /^#N\/A roll is blank/],
    [() => predict(5, 30, 1, 0, 20, undefined, at("mm")), /units is "mm": give "us"/],
    [
      () => predict(5, 30, 1, 0, 20, [["nose hight", 0.6]]),
      /conditions has the label "nose hight": the labels are "slip friction"/,
    ],
    [
      () => predict(5, 30, 1, 0, 20, [["nose height", 0.4]]),
      /nose height is 0.4: the nose is at or above the ball's centre/,
    ],
    [() => predict(5, 30, 1, 0, 20, [["slip friction", -0.1]]), /slip friction is -0.1: a friction is between 0 and 1/],
    [() => predict(5, 30, 1, 0, 20, [["restitution", 1.2]]), /restitution is 1.2/],
    [() => predict(5, 30, 1, 0, 20, [["restitution", "x"]]), /restitution is "x", which is no number/],
    [
      () =>
        predict(5, 30, 1, 0, 20, [
          ["restitution", 0.9],
          ["restitution", 0.8],
        ]),
      /"restitution" twice/,
    ],
    [() => predict(5, 30, 1, 0, 20, [[null, 0.9]]), /value 0.9 without a label/],
    [
      () => predict(5, 30, 1, 0, 20, [["cushion model", "rubber"]]),
      /cushion model is "rubber": there is one model, "nose and bed"; clear the row/,
    ],
    [
      () => predict(5, 30, 1, 0, 20, [["Cushion  model", "nose alone"]]),
      /cushion model is "nose alone": that model was taken out.*clear the row/,
    ],
    [
      () =>
        IMPACT(at(3), at(20), at(0), at(0), [
          ["restitution", 0],
          ["nose friction", 0],
        ]),
      /the ball never gets to the table again: with this nose/,
    ],
    [() => predict(5, 30, 1, 0, 20, [["restitution", 0.9, 1]]), /conditions is 1 × 3/],
    [() => predict(5, 30, 1, 0, 20, [["ball diameter", 57]]), /ball diameter is 57: no ball has that diameter in in/],
    [() => predict(5, 30, 1, 0, 20, [["restitution", 0]]), /never gets to the line across 20 in/],
    [() => predict(0.5, 30, 1, 0, 200), /it gets [\d.]+ in from the cushion/],
  ])("%#: the right error", (call, message) => expect(failure(call)).toMatch(message));
  it("takes a blank condition as left out, and friction 0", () => {
    expect(
      predict(5, 30, 1, 0, 20, [
        ["restitution", null],
        [null, null],
      ]),
    ).toEqual(predict(5, 30, 1, 0, 20));
    expect(
      predict(5, 30, 0, 0, 20, [
        ["slip friction", 0],
        ["nose friction", 0],
      ])[0][0],
    ).toBeCloseTo(0, 12);
  });
});

describe("measures", () => {
  it("speed", () => {
    expect(SPEED(at(88), at(5))[0][0]).toBeCloseTo(1, 12);
    expect(SPEED(at(1), at(60), at(240), si)[0][0]).toBeCloseTo(4, 12);
    expect(failure(() => SPEED(at(1), at(0)))).toMatch(/time is 0/);
  });
  it("spin of a tip and what is left of it", () => {
    expect(SPIN(at(0.45))[0]).toEqual([expect.closeTo(1, 12), 0]);
    expect(SPIN(at(0), at(0.45), at(5), at(30))[0][1]).toBeGreaterThan(0.9);
    expect(failure(() => SPIN(at(0), at(0.6)))).toMatch(/right is 0.6: a tip more than half a radius \(0.5625 in\)/);
    expect(failure(() => SPIN(at(0), at(0.4), at(null), at(10)))).toMatch(/^#N\/A speed is blank/);
  });
  it("frictions with their uncertainty", () => {
    expect(ROLLING(at(0.5 * 0.01 * 9.80665 * 36), at(6), si)[1]).toEqual([expect.closeTo(0.01, 12), "", "", "", 1]);
    const [header, row] = ROLLING([[1.7], [1.8], [null], [1.75]], [[6], [6.1], [null], [6.02]], si);
    expect(header).toEqual(["roll friction", "standard uncertainty", "low", "high", "n"]);
    expect(row[4]).toBe(3);
    const values = [
      [1.7, 6],
      [1.8, 6.1],
      [1.75, 6.02],
    ].map(([d, t]) => (2 * d) / (9.80665 * t * t));
    const mean = (values[0] + values[1] + values[2]) / 3;
    expect(row[0]).toBeCloseTo(mean, 14);
    expect(row[1]).toBeCloseTo(Math.sqrt(values.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 6), 12);
    expect(SLIDING(at(2), at((12 * 4) / (49 * 0.2 * 9.80665)), si)[1][0]).toBeCloseTo(0.2, 12);
    expect(failure(() => ROLLING([[1], [2]], at(1)))).toMatch(/distance has 2 values and time has 1/);
    expect(failure(() => ROLLING([[1], [2]], [[1], ["x"]]))).toMatch(/time, row 2, is "x"/);
  });
  it("restitution of a lag", () => {
    const back = IMPACT(at(3), at(0), at(1), at(0), [["restitution", 0.8]])[0][0];
    const [header, row] = REBOUND(at(3), at(back));
    expect(header[0]).toBe("restitution");
    expect(row[0]).toBeCloseTo(0.8, 8);
    expect(row[5]).toBeCloseTo(back / 3, 12);
    expect(failure(() => REBOUND([[3], [3]], [[2], [4]]))).toMatch(
      /row 2: after is 4 mph and before 3 mph: no restitution/,
    );
  });
  it("air", () => {
    expect(DEWPOINT(at(20), at(50), si)[0][0]).toBeCloseTo(9.26, 2);
    expect(DEWPOINT(at(68), at("50%"))[0][0]).toBeCloseTo((DEWPOINT(at(20), at(0.5), si)[0][0] * 9) / 5 + 32, 10);
    expect(VAPOUR(at(0), undefined, si)).toEqual([[6.112]]);
    expect(ABSHUMIDITY(at(20), at(50), si)[0][0]).toBeCloseTo(8.62, 2);
    expect(MIXINGRATIO(at(20), at(50), undefined, si)[0][0]).toBeCloseTo(7.24, 2);
    expect(RELHUMIDITY(at(20), at(20), si)[0][0]).toBe(100);
    expect(failure(() => DEWPOINT(at(20), at(0), si))).toMatch(/humidity is 0/);
    expect(failure(() => DEWPOINT(at(200), at(50)))).toMatch(/temperature is 200: give °F from -49 to 140/);
    expect(failure(() => RELHUMIDITY(at(10), at(20), si))).toMatch(/dewPoint is 20: a dew point is at or below/);
  });
});

describe("TRACKBEND", () => {
  const circle = (n: number, noise: (i: number) => number) =>
    Array.from({ length: n }, (_, i) => [(40 * i) / (n - 1), 1 - ((i / (n - 1)) * 2 - 1) ** 2 + noise(i)]);
  const track = (points: number[][]) => {
    const [heads, row] = TRACKBEND(
      points.map(([x]) => [x]),
      points.map(([, y]) => [y]),
    );
    return Object.fromEntries(heads.map((head: string, i: number) => [head, row[i]]));
  };
  it("of an exact parabola is exact, whichever way it lies", () => {
    const points = circle(20, () => 0);
    const flat = track(points);
    expect(flat).toMatchObject({
      bend: expect.closeTo(1, 9),
      x: expect.closeTo(20, 5),
      turns: "right",
      "points left out": 0,
    });
    const turned = track(points.map(([x, y]) => [0.6 * x - 0.8 * y + 5, 0.8 * x + 0.6 * y - 3]));
    expect(turned.bend).toBeCloseTo(1, 9);
  });
  it("of noisy points is no biased single point, and a bad point changes little", () => {
    // Fixed pseudo-noise of standard deviation 0.035.
    const noise = (i: number) => 0.05 * Math.sin(12.9898 * i * i + 1);
    const clean = track(circle(40, noise));
    expect(Math.abs(clean.bend - 1)).toBeLessThan(4 * clean["standard error"]);
    expect(clean["standard error"]).toBeGreaterThan(0.002);
    expect(clean["standard error"]).toBeLessThan(0.05);
    const bad = track(circle(40, (i) => noise(i) + (i === 17 ? 4 : 0)));
    expect(Math.abs(bad.bend - clean.bend)).toBeLessThan(clean["standard error"]);
    expect(bad["points left out"]).toBeGreaterThanOrEqual(1);
  });
  it("its standard error is honest", () => {
    // Sixty tracks of seeded noise: the spread of the bends against the mean of the standard errors. How often the
    // interval covers is simulated at length in the evidence.
    const TRACKS = 60;
    let seed = 1;
    const random = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
    const gauss = () => Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random());
    const found = Array.from({ length: TRACKS }, () => track(circle(30, () => 0.05 * gauss())));
    const mean = found.reduce((sum, one) => sum + one.bend, 0) / TRACKS;
    const spread = Math.sqrt(found.reduce((sum, one) => sum + (one.bend - mean) ** 2, 0) / (TRACKS - 1));
    const said = found.reduce((sum, one) => sum + one["standard error"], 0) / TRACKS;
    // Sixty tracks know the spread to 9 %; robust weights and the choice of where the straight begins cost some more.
    expect(said / spread).toBeGreaterThan(0.7);
    expect(said / spread).toBeLessThan(1.4);
    expect(Math.abs(mean - 1)).toBeLessThan(0.02);
  });
  it("of a straight line is about 0, and bad input is named", () => {
    expect(track(Array.from({ length: 12 }, (_, i) => [i, 2 * i])).bend).toBeCloseTo(0, 9);
    expect(failure(() => TRACKBEND([[1], [2]], [[1], [2]]))).toMatch(/x has 2 usable values: give at least 6/);
    expect(failure(() => TRACKBEND([[1], [2]], [[1]]))).toMatch(/x has 2 values and y has 1/);
    expect(failure(() => TRACKBEND([[1], [null]], [[1], [2]]))).toMatch(/row 2 has only one of x and y/);
    expect(failure(() => TRACKBEND(Array(8).fill([1]), Array(8).fill([1])))).toMatch(/do not travel/);
  });
});

describe("PATHCLEARANCE", () => {
  const path = [
    [0, 0],
    [20, 0],
  ];
  it("takes radii, or diameters by the header, and names the obstacle", () => {
    expect(PATHCLEARANCE(path, [[5, 4, 1], [10, -3, 1, "cup"].slice(0, 3)])[1]).toEqual([0.875, 2, 10, 0]);
    expect(
      PATHCLEARANCE(path, [
        ["x", "y", "diameter", "label"],
        [5, 4, 1, "can"],
        [10, -3, 2, "cup"],
      ])[1],
    ).toEqual([0.875, "cup", 10, 0]);
    expect(PATHCLEARANCE(path, [[5, 1, 1]], at(2))[1][0]).toBe(-1);
  });
  it("takes what PATH gives", () => {
    const table = PATH(at(5), at(35), at(0.7), at(0.3), at(40));
    const [, end] = PATHCLEARANCE(table, [[0, 0, 1]]);
    expect(end[0]).toBeCloseTo(-1 - 1.125, 12);
  });
  it("names what is wrong", () => {
    expect(failure(() => PATHCLEARANCE([[1, 2, 3]], [[1, 1, 1]]))).toMatch(/path is 1 × 3/);
    expect(failure(() => PATHCLEARANCE(path, [[1, 1]]))).toMatch(/obstacles is 1 × 2/);
    expect(failure(() => PATHCLEARANCE(path, [[1, 1, -1]]))).toMatch(/obstacles, row 1, radius is -1/);
    expect(failure(() => PATHCLEARANCE(path, [[1, 1, 1]], at(0)))).toMatch(/ballDiameter is 0/);
  });
});
