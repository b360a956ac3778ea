/** Consistency by groups, and scatter that goes with a driver, where rows come in sessions. */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../scripts/samples/random";
import { regress } from "../../../src/statistics/fit/regression";
import { spreadByLevel, unequalSpread } from "../../../src/statistics/checks/residualChecks";

describe("consistency by groups", () => {
  it("is not called different where sessions merely lie apart, when rows of a session are taken together", () => {
    const { normal } = seededRandom(17);
    const samples = 400;
    const sessions = Array.from({ length: 120 }, (_, row) => Math.floor(row / 10));
    const together = { name: "Session", groups: sessions, levels: Array.from({ length: 12 }, (_, s) => `s${s}`) };
    const by = { name: "Humidity", groups: sessions.map((session) => session % 3), levels: ["dry", "middle", "damp"] };
    let alone = 0;
    let aware = 0;
    for (let sample = 0; sample < samples; sample++) {
      const shift = together.levels.map(() => normal());
      const values = sessions.map((session) => shift[session] + normal());
      if ((spreadByLevel(values, by).test.p ?? 1) < 0.05) alone++;
      if ((spreadByLevel(values, by, together).test.p ?? 1) < 0.05) aware++;
    }
    // 5 % of 400 is 20 with a standard error of 4.4; a limit of four of them above.
    expect(aware).toBeLessThan(38);
    expect(alone).toBeGreaterThan(100);
  });

  it("still sees a difference that the sessions bear out", () => {
    const { normal } = seededRandom(18);
    const sessions = Array.from({ length: 120 }, (_, row) => Math.floor(row / 10));
    const values = sessions.map((session) => (session % 2 ? 1 : 0.2) * normal());
    const { test, levels } = spreadByLevel(
      values,
      { name: "Cloth", groups: sessions.map((session) => session % 2), levels: ["new", "old"] },
      { name: "Session", groups: sessions, levels: sessions.map(String) },
    );
    expect(test.p).toBeLessThan(0.001);
    expect(levels[1].sd).toBeGreaterThan(3 * (levels[0].sd ?? NaN));
  });

  it("refuses a single session", () => {
    expect(() =>
      spreadByLevel(
        [1, 2, 3, 5],
        { name: "Cloth", groups: [0, 0, 1, 1], levels: ["new", "old"] },
        { name: "Session", groups: [0, 0, 0, 0], levels: ["s"] },
      ),
    ).toThrow("Session has one group only (s)");
  });
});

describe("scatter that goes with a driver", () => {
  it("is not seen where sessions merely lie apart, when rows of a session are taken together", () => {
    const { normal } = seededRandom(19);
    const samples = 300;
    const sessions = Array.from({ length: 120 }, (_, row) => Math.floor(row / 10));
    const together = { name: "Session", groups: sessions, levels: Array.from({ length: 12 }, (_, s) => `s${s}`) };
    const humidity = {
      kind: "number",
      name: "Humidity",
      values: sessions.map((session) => 40 + ((5 * session) % 12)),
      degree: 1,
    } as const;
    let alone = 0;
    let aware = 0;
    for (let sample = 0; sample < samples; sample++) {
      const shift = together.levels.map(() => normal());
      const fit = regress({ response: sessions.map((session) => shift[session] + normal()), drivers: [humidity] });
      if ((unequalSpread(fit)?.p ?? 1) < 0.05) alone++;
      const found = unequalSpread(fit, together);
      expect(found?.together).toBe("Session");
      if ((found?.p ?? 1) < 0.05) aware++;
    }
    // 5 % of 300 is 15 with a standard error of 3.8; a limit of four of them above.
    expect(aware).toBeLessThan(31);
    expect(alone).toBeGreaterThan(60);
  });
});
