/** Checks on an answer: found where something was put in, silent where nothing was, never a proof. */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../scripts/samples/random";
import { completed } from "../../../src/experiment/language/completed";
import { analyse } from "../../../src/experiment/question/analysis";
import {
  bootstrapSentences,
  bootstrapSteps,
  permutationSentences,
  permutationSteps,
} from "../../../src/experiment/trust/drawnChecks";
import { groupings } from "../../../src/experiment/question/groupings";
import { analyseMade } from "../../../src/experiment/question/madeAnalysis";
import { madeTrust } from "../../../src/experiment/trust/madeTrust";
import { consistencyByDriver, consistencySentence } from "../../../src/experiment/trust/consistency";
import { trustChecks, trustSentences } from "../../../src/experiment/trust/trustChecks";
import { trustAnswer } from "../../../src/experiment/trust/trustWords";
import { collinearity } from "../../../src/statistics/checks/collinearity";
import { logOf } from "../logs";
import { toText, joinTexts } from "../../../src/experiment/language/said";

const driver = (heading: string, as: "number" | "category" = "number") => ({ heading, as, degree: 1 });
const choice = {
  response: "Bend (in)",
  drivers: [driver("Speed (mph)"), driver("Humidity (%)"), driver("Cloth", "category")],
  joint: [],
  constant: true,
  confidence: 0.95,
};

/** 60 shots in 6 sessions; what is wrong with them is put in by the caller. */
function shots(
  change: (
    row: { speed: number; humidity: number; cloth: string; noise: number; bend: number },
    index: number,
  ) => void = () => {},
) {
  const { normal, uniform } = seededRandom(8);
  return logOf([
    ["Session", "Speed (mph)", "Humidity (%)", "Cloth", "Bend (in)"],
    ...Array.from({ length: 60 }, (_, i) => {
      const row = {
        speed: Math.round(60 + 60 * uniform()) / 10,
        humidity: Math.round(40 + 20 * uniform()),
        cloth: i % 2 ? "new" : "worn",
        noise: normal(),
        bend: 0,
      };
      row.bend = 0.5 + 0.04 * row.speed + 0.05 * row.noise;
      change(row, i);
      return [`W${i % 6}`, row.speed, row.humidity, row.cloth, row.bend];
    }),
  ]);
}
const remarks = (log: ReturnType<typeof logOf>) =>
  Object.fromEntries(completed(trustAnswer(analyse(log, choice))).remarks.map((remark) => [remark.title, remark]));

describe("the checks", () => {
  it("find nothing in sound rows, and say that this proves nothing where it could be misread", () => {
    const found = remarks(shots());
    expect(found["Do all shots scatter alike?"]).toMatchObject({ standing: "good" });
    expect(toText(found["Do all shots scatter alike?"].means)).toContain("does not show that the scatter is alike");
    expect(found["Does the fit miss something?"].standing).toBe("untold");
    expect(toText(found["Do drivers go along with each other?"].found[0])).toMatch(/^Hardly: most of all/);
    expect(toText(found["Does it hang on single rows?"].found[0])).toMatch(
      /^No: the row that pulls hardest is row \d+/,
    );
    expect(toText(found["How well does it predict?"].found[0])).toMatch(
      /^A shot predicted from all others is off by 0\.0\d+ in \(root mean square over 60 shots\), which takes up \d+ % of the variation\.$/,
    );
  });

  it("find scatter that goes with the cloth, drivers that go along, and a row far off", () => {
    const uneven = remarks(shots((row) => (row.bend += row.cloth === "new" ? 0.4 * row.noise : 0)));
    expect(uneven["Do all shots scatter alike?"]).toMatchObject({ standing: "look" });
    expect(toText(joinTexts(uneven["Do all shots scatter alike?"].found, " "))).toContain(
      "Consistency differs by cloth",
    );
    expect(uneven["Do all shots scatter alike?"].mend).toContain("Choose a question");
    const along = remarks(shots((row) => (row.humidity = 10 * row.speed + row.noise)));
    expect(toText(along["Do drivers go along with each other?"].found[0])).toMatch(
      /^99\.\d % of the variation of speed goes with the other drivers; its interval is \d+ times as wide/,
    );
    const far = remarks(shots((row, index) => (row.bend += index === 20 ? 2 : 0)));
    expect(toText(joinTexts(far["Does it hang on single rows?"].found, " "))).toMatch(
      /Bend of row 22 is \d+ standard errors above the fit/,
    );
  });

  it("tell by thirds of a number whether shots are as consistent there, with cuts and units", () => {
    const { found, standing } = remarks(shots((row) => (row.bend += row.speed > 10 ? 0.4 * row.noise : 0)))[
      "Do all shots scatter alike?"
    ];
    expect(standing).toBe("look");
    expect(toText(joinTexts(found, "\n"))).toMatch(
      /Consistency differs by speed \(p = [\de.−]+, test of Brown and Forsythe, 1974\): 0\.0\d+ in at 6 to 8\.1 mph, 0\.0\d+ in at 8\.2 to 9\.8 mph and 0\.[23]\d* in at 9\.9 to 11\.9 mph, as standard deviations about the fit\.$/m,
    );
    expect(toText(joinTexts(found, "\n"))).toMatch(
      /No sign that consistency differs by humidity \(p = .*\): 0\.\d+ in at 41 to 46 %, /,
    );
    const sound = analyse(shots(), choice);
    expect(
      trustSentences(sound, trustChecks(sound))
        .map(({ text }) => toText(text))
        .join("\n"),
    ).toMatch(/No sign that consistency differs by speed .*: 0\.0\d+ in at 6 to 8\.1 mph, /);
  });

  it("take the shots of a session together for a driver that never changes within one", () => {
    const still = analyse(
      shots((row, index) => (row.humidity = 40 + 5 * (index % 6))),
      choice,
    );
    const said = trustSentences(still, trustChecks(still))
      .map(({ text }) => toText(text))
      .join("\n");
    expect(said).toMatch(
      /onsistency differs by humidity \(p = .*, test of Brown and Forsythe, 1974, all shots of one session taken together\): /,
    );
    expect(said).toMatch(/Breusch and Pagan, 1979, all shots of one session taken together\)/);
    expect(said).toMatch(/onsistency differs by speed \(p = [\d.]+, test of Brown and Forsythe, 1974\): /);
  });

  it("refuse to tell it from parts with fewer than three rows, with the reason", () => {
    const speeds = [5, 5, 5, 5, 5, 5, 5, 5, 9];
    const log = logOf([["Speed (mph)", "Bend (in)"], ...speeds.map((speed, i) => [speed, 0.5 + ((7 * i) % 5) / 50])]);
    const analysis = analyse(log, { ...choice, drivers: [driver("Speed (mph)")] });
    expect(trustSentences(analysis, trustChecks(analysis)).map(({ text }) => toText(text))).toContain(
      "Whether consistency differs by speed cannot be told: its 9 rows cut into 2 parts leave a single row in one of them, and 3 are needed.",
    );
  });

  it("write as many digits of the cuts as part them", () => {
    const log = logOf([
      ["Speed (mph)", "Bend (in)"],
      ...Array.from({ length: 12 }, (_, i) => [1000 + i / 100, 0.5 + ((7 * i) % 5) / 50]),
    ]);
    const analysis = analyse(log, { ...choice, drivers: [driver("Speed (mph)")] });
    expect(toText(consistencySentence(consistencyByDriver(analysis)[0], analysis).text)).toMatch(
      / in at 1000 to 1000\.03 mph, .* in at 1000\.04 to 1000\.07 mph and .* in at 1000\.08 to 1000\.11 mph/,
    );
  });

  it("find a curve that shots at the same settings betray", () => {
    const found = remarks(
      shots((row, index) =>
        Object.assign(row, {
          speed: 6 + (index % 4),
          humidity: 50,
          cloth: "new",
          bend: 0.05 * (index % 4) ** 2 + 0.01 * row.noise,
        }),
      ),
    );
    expect(found["Does the fit miss something?"].standing).toBe("look");
  });

  it("say of a driver that others determine that it cannot be told apart", () => {
    const x = [1, 2, 3, 4];
    const found = completed(
      collinearity({
        question: {
          response: x,
          drivers: [
            { kind: "number", name: "a", values: x, degree: 1 },
            { kind: "number", name: "b", values: x.map((v) => 2 * v), degree: 1 },
          ],
        },
      }),
    );
    expect(found.map(({ widening }) => widening)).toEqual([Infinity, Infinity]);
    // Two drivers with correlation r: the variance is inflated by 1 / (1 − r²); here r = 0.8.
    const y = [-2, -1, 1, 2];
    const z = [-1, -2, 2, 1];
    const [one] = completed(
      collinearity({
        question: {
          response: y,
          drivers: [
            { kind: "number", name: "y", values: y, degree: 1 },
            { kind: "number", name: "z", values: z, degree: 2 },
          ],
        },
      }),
    );
    expect(one.widening).toBeCloseTo(1 / 0.6, 12);
  });
});

describe("drawn anew", () => {
  const analysis = analyse(shots(), choice);
  const { regression } = analysis;
  const { question } = regression;

  it("agrees with the answer where its assumptions hold, and says how it was drawn", () => {
    const drawn = completed(bootstrapSteps({ question, draws: 2000, seed: 3 }));
    const said = bootstrapSentences(regression, drawn, { seed: 3 }).map(({ text }) => toText(text));
    expect(said[0]).toContain("2,000 draws of 60 single rows with replacement (seed 3)");
    expect(said.join(" ")).toMatch(/The draws (agree with the intervals|do not agree with every interval)/);
    const mixed = completed(permutationSteps({ question, driver: 1, draws: 999, seed: 3 }));
    const spoken = permutationSentences(regression, mixed, { driver: 1, seed: 3 })
      .map(({ text }) => toText(text))
      .join(" ");
    expect(spoken).toContain("999 times (seed 3");
    expect(spoken).toContain("agrees with the answer's p = ");
  });

  it("says so where an interval of the answer does not stand up to draws", () => {
    const drawn = completed(bootstrapSteps({ question, draws: 500, seed: 3 }));
    const wrong = {
      ...drawn,
      terms: drawn.terms.map((term, index) => (index === 1 ? { ...term, low: -1, high: 1 } : term)),
    };
    const said = bootstrapSentences(regression, wrong, { seed: 3 })
      .map(({ text }) => toText(text))
      .join(" ");
    expect(said).toContain("Speed (mph): ");
    expect(said).toContain("one of the two holds 0 and the other does not");
    expect(said).toContain("lean on the wider");
  });

  it("by whole sessions warns that six are few, and refuses to exchange within a session what never changes there", () => {
    const still = analyse(
      shots((row, index) => (row.humidity = 40 + 5 * (index % 6))),
      choice,
    );
    const [{ by }] = groupings(still);
    expect(by.name).toBe("Session");
    const drawn = completed(bootstrapSteps({ question: still.regression.question, draws: 200, seed: 1, by }));
    expect(
      bootstrapSentences(still.regression, drawn, { seed: 1, by })
        .map(({ text }) => toText(text))
        .join(" "),
    ).toMatch(/draws of 6 whole sessions.*With 6 sessions only/);
    expect(() =>
      completed(permutationSteps({ question: still.regression.question, driver: 1, draws: 20, seed: 1, within: by })),
    ).toThrow('"Humidity (%)" never changes within one Session');
  });
});

describe("the checks of what makes a shot", () => {
  const said = (chance: (speed: number) => number, count = 200, drivers = [driver("Speed (mph)")]) => {
    const { uniform } = seededRandom(31);
    const rows: (string | number)[][] = [["Speed (mph)", "Cloth", "Made"]];
    for (let i = 0; i < count; i++) {
      const speed = Math.round(60 + 60 * uniform()) / 10;
      rows.push([speed, i % 3 ? "new" : "worn", uniform() < chance(speed) ? "yes" : "no"]);
    }
    return Object.fromEntries(
      completed(
        madeTrust(analyseMade(logOf(rows), { response: "Made", drivers, joint: [], constant: true, confidence: 0.95 })),
      ).map((remark) => [remark.title, remark]),
    );
  };

  it("find nothing where the rate rises with speed as the fit has it", () => {
    const found = said((speed) => 1 / (1 + Math.exp(-(speed - 9))), 200, [
      driver("Speed (mph)"),
      driver("Cloth", "category"),
    ]);
    expect(found["Does the curve fit?"].standing).toBe("good");
    expect(found["Are there enough shots?"].standing).toBe("good");
    expect(toText(found["How well does it predict?"].found[0])).toMatch(
      /^Predicted with a tenth of the shots at a time \(seed 1\) left out, 200 shots are missed by 0\.1\d+ \(mean square\); the others' overall rate alone misses by 0\.2\d+\. The drivers take up \d+ % of that\.$/,
    );
  });

  it("find a rate that is highest in the middle, and drivers that do not help", () => {
    const bent = said((speed) => (speed > 8 && speed < 10 ? 0.95 : 0.05));
    expect(bent["How well does it predict?"].standing).toBe("look");
    expect(toText(bent["How well does it predict?"].found[0])).toContain("do not help to predict");
    const slanted = said((speed) => (speed < 7 ? 0 : speed < 8 ? 0.9 : speed < 11 ? 0.1 : 0.95), 400);
    expect(slanted["Does the curve fit?"].standing).toBe("look");
    expect(toText(slanted["Does the curve fit?"].found[0])).toMatch(/^Where [\d.]+ % was fitted, \d+ of 80 were made/);
  });

  it("say that few misses are few, and that separated shots are", () => {
    expect(said(() => 0.99, 60)["Are there enough shots?"]).toMatchObject({ standing: "look" });
    const parted = said((speed) => (speed > 9 ? 1 : 0), 40)["Are there enough shots?"];
    expect(toText(joinTexts(parted.found, " "))).toContain("tells made from missed without exception");
  });
});
