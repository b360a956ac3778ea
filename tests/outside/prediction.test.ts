/** Predictions at settings against R's predict, and with sessions against the matrix formulas written out in R. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { analyse } from "../../src/experiment/question/analysis";
import { predictAt } from "../../src/experiment/question/predictAt";
import { randomOf } from "../../src/statistics/numeric/drawer";
import { logOf } from "../experiment/logs";
import { startR, vector, type R } from "./r";
import { toText } from "../../src/experiment/language/said";

let r: R;
beforeAll(async () => {
  r = await startR();
});
afterAll(() => r.close());

// Invented: six sessions of five shots, each session shifted; a curve of speed and two cloths.
const random = randomOf(8);
const rows = Array.from({ length: 6 }, (_, s) => {
  const shift = 2 * random.normal();
  return Array.from({ length: 5 }, (_row, i) => {
    const speed = 4 + ((3 * i + s) % 7) + 0.25 * s;
    return [`s${s}`, speed, i % 2 ? "new" : "worn", 20 + shift + 0.8 * speed - 0.05 * speed ** 2 + random.normal()];
  });
}).flat() as [string, number, string, number][];
const log = logOf([["Session", "Speed (mph)", "Cloth", "Bend (mm)"], ...rows]);
const question = {
  response: "Bend (mm)",
  drivers: [
    { heading: "Speed (mph)", as: "number" as const, degree: 2 },
    { heading: "Cloth", as: "category" as const, degree: 1 },
  ],
  joint: [],
  constant: true,
  confidence: 0.9,
};
const column = (place: number) => rows.map((row) => row[place]);
const data = () => `
  x <- ${vector(column(1) as number[])}; y <- ${vector(column(3) as number[])}
  cloth <- factor(c(${column(2).map((one) => `"${one}"`)}), levels = c("worn", "new"))
  session <- rep(1:6, each = 5)`;
const at = { "Speed (mph)": "7.5", Cloth: "new" };

describe("the mean and a single shot at settings", () => {
  it.each(["confidence", "prediction"])("R, predict.lm: %s", async (interval) => {
    // Sessions are left out of the log here, so that every shot is on its own.
    const plain = logOf([["Speed (mph)", "Cloth", "Bend (mm)"], ...rows.map((row) => row.slice(1))]);
    const found = predictAt(analyse(plain, question), at);
    const [value, low, high] = await r.numbers(`${data()}
      c(predict(lm(y ~ x + I(x^2) + cloth), data.frame(x = 7.5, cloth = "new"), interval = "${interval}", level = 0.9))`);
    const ours = interval === "confidence" ? found.mean! : { value: found.mean!.value, ...found.single! };
    for (const [mine, theirs] of [
      [ours.value, value],
      [ours.low!, low],
      [ours.high!, high],
    ])
      expect(mine).toBeCloseTo(theirs, 8);
    expect(found.newSession).toBeUndefined();
  });

  it("with sessions the average one by generalised least squares at the variances found", async () => {
    const analysis = analyse(log, { ...question, scatter: { as: "random", heading: "Session" } });
    const { mean, single, newSession } = predictAt(analysis, at);
    const { between, within } = analysis.regression.spread!;
    const [value, error] = await r.numbers(`${data()}
      X <- cbind(1, x, x^2, cloth == "new"); at <- c(1, 7.5, 7.5^2, 1)
      V <- ${within ** 2} * diag(30) + ${between ** 2} * outer(session, session, "==")
      C <- solve(t(X) %*% solve(V) %*% X)
      c(sum(at * (C %*% t(X) %*% solve(V) %*% y)), sqrt(sum(at * (C %*% at))))`);
    expect(mean!.value).toBeCloseTo(value, 7);
    // The correction for few sessions (Kenward and Roger) moves it, by little with six.
    expect(mean!.standardError! / error).toBeGreaterThan(0.95);
    expect(mean!.standardError! / error).toBeLessThan(1.2);
    // Half-widths are the roots of sums of squares of the parts' own: mean, shot, session.
    const t = async (df: number) => (await r.numbers(`qt(0.95, ${df})`))[0];
    // A session to come lies off as the sessions' own levels do, with what happens within them taken out.
    const [levels] = await r.numbers(`${data()}
      sd(coef(lm(y ~ 0 + factor(session) + x + I(x^2) + I(cloth == "new")))[1:6])`);
    const [ofMean, ofShot, ofSession] = [
      mean!.standardError! * (await t(mean!.df!)),
      within * (await t(analysis.regression.residual.df)),
      levels * (await t(5)),
    ];
    const half = ({ low, high }: { low: number; high: number }) => (high - low) / 2;
    // Parts are put together at 0.95 and asked at 0.9, so the ends agree to a hundredth of the width only.
    for (const [found, wanted] of [
      [single!, Math.hypot(ofMean, ofShot)],
      [newSession!.mean, Math.hypot(ofMean, ofSession)],
      [newSession!.single, Math.hypot(ofMean, ofSession, ofShot)],
    ] as const)
      expect(Math.abs(half(found) / wanted - 1)).toBeLessThan(0.02);
  });

  it("says what lies beyond the rows, and what cannot be read", () => {
    const plain = analyse(log, question);
    const far = predictAt(plain, { "Speed (mph)": "30" });
    expect(far.beyond).toEqual(["speed"]);
    expect(toText(far.sentence!)).toContain("No shot was taken so far out in speed");
    const wrong = predictAt(plain, { Cloth: "silk" });
    expect([wrong.mean, wrong.sentence]).toEqual([undefined, undefined]);
    expect(wrong.read[1]).toMatchObject({ problem: 'Cloth is "silk": choose one of "worn" and "new".' });
  });
});
