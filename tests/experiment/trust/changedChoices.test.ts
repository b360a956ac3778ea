/** What each choice changed: the answer holds or hangs on a choice, and the words follow the intervals. */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../scripts/samples/random";
import { completed } from "../../../src/experiment/language/completed";
import { analyse } from "../../../src/experiment/question/analysis";
import {
  changedChoices,
  changedMade,
  changedSentences,
  type ChangedChoices,
} from "../../../src/experiment/trust/changedChoices";
import { leading } from "../../../src/experiment/question/sessionAware";
import { leadingMade } from "../../../src/experiment/question/madeSessions";
import { analyseMade } from "../../../src/experiment/question/madeAnalysis";
import { pickRows } from "../../../src/statistics/fit/pickRows";
import { regress } from "../../../src/statistics/fit/regression";
import type { CellValue } from "../../../src/workbook/book";
import { logOf } from "../logs";
import { toText, joinTexts } from "../../../src/experiment/language/said";

const driver = (heading: string, as: "number" | "category" = "number") => ({ heading, as, degree: 1 });
const plain = { joint: [], constant: true, confidence: 0.95 };

/**
 * Bend goes with speed; humidity is the same all session and sessions differ; one shot has no spin and one an odd
 * speed.
 */
function log() {
  const { normal, uniform } = seededRandom(21);
  const shift = [-0.1, 0.1, -0.1, 0.15, 0, 0.1];
  const rows: CellValue[][] = [["Session", "Humidity (%)", "Speed (mph)", "Spin", "Cloth", "Bend (in)", "Made"]];
  for (let i = 0; i < 72; i++) {
    const speed = Math.round(60 + 60 * uniform()) / 10;
    rows.push([
      `W${i % 6}`,
      40 + 4 * (i % 6),
      speed,
      i === 5 ? null : Math.round(10 * uniform()) / 10,
      ["new", "worn", "old"][i % 3],
      0.5 + 0.05 * speed + shift[i % 6] + 0.05 * normal(),
      uniform() < 0.5 ? "yes" : "no",
    ]);
  }
  return logOf(rows);
}

const changed = completed(
  changedChoices(
    analyse(log(), {
      ...plain,
      response: "Bend (in)",
      drivers: [driver("Humidity (%)"), driver("Speed (mph)"), driver("Spin"), driver("Cloth", "category")],
    }),
  ),
);
const indexOf = (part: string) => changed.effects.findIndex(({ name }) => toText(name).includes(part));
const row = (change: string) => changed.rows.find((one) => one.change === change)!;

describe("what each choice changed", () => {
  it("has a row for each choice, with the rows that come back when a driver is left out", () => {
    expect(changed.rows.map(({ change }) => change)).toEqual([
      "As asked",
      "Without Humidity",
      "Without Speed",
      "Without Spin",
      "Without Cloth",
      "Humidity with a bow",
      "Speed with a bow",
      "Spin with a bow",
      "Some shots scattering more than others",
      "Each Session shifted by a random amount",
      "Shots of one Session together in any way",
      "Without the row that pulls hardest",
    ]);
    expect(row("As asked").rows).toBe(71);
    expect(row("Without Spin").rows).toBe(72);
    expect(row("Without the row that pulls hardest").rows).toBe(70);
    expect(row("Without Speed").effects[indexOf("speed")]).toBeUndefined();
  });

  it("compares three levels pair by pair, and gives the same effect as the fit itself", () => {
    expect(
      changed.effects
        .filter(({ heading }) => heading === "Cloth")
        .map(({ name }) => name)
        .map((one) => toText(one)),
    ).toEqual(['Cloth "worn" in place of "new"', 'Cloth "old" in place of "new"', 'Cloth "old" in place of "worn"']);
    const robust = analyse(log(), {
      ...plain,
      response: "Bend (in)",
      drivers: [driver("Humidity (%)"), driver("Speed (mph)"), driver("Spin"), driver("Cloth", "category")],
      scatter: { as: "robust" },
    });
    const { from, to } = changed.effects[indexOf("speed")];
    const term = robust.regression.terms.find(({ label }) => label === "Speed (mph)")!;
    const step = Number(to) - Number(from);
    expect(row("Some shots scattering more than others").effects[indexOf("speed")]!.low).toBeCloseTo(
      step * term.low!,
      10,
    );
  });

  it("says that speed holds, and does not say more of humidity than its intervals do", () => {
    expect(toText(changedSentences(changed, indexOf("speed"))[0])).toMatch(
      /^1 mph more speed: with every other choice the interval stays on the same side of 0\. That there is an effect does not hang on these choices/,
    );
    const ways = changed.rows.slice(1).map(({ effects }) => effects[indexOf("humidity")]);
    expect(ways.some((found) => found && found.low! < 0 && found.high! > 0)).toBe(true);
    expect(toText(changedSentences(changed, indexOf("humidity"))[0])).not.toContain("stays on the same side");
  });

  const given = (...effects: [number, number][]): ChangedChoices => ({
    effects: [{ name: "speed", heading: "Speed", from: 0, to: 1 }],
    none: 0,
    unit: "in",
    rows: effects.map(([low, high], index) => ({
      change: index ? `choice ${index}` : "As asked",
      rows: 9,
      effects: [{ value: (low + high) / 2, low, high }],
    })),
  });
  it.each([
    ["hangs on a choice", given([1, 2], [1, 3], [-1, 2]), 'Under "choice 2" the interval leaves the direction open'],
    ["turns round", given([1, 2], [-2, -1]), 'turns round under "choice 1"'],
    ["is found only by choosing", given([-1, 2], [1, 3]), "take it as a question for new shots, not as an answer"],
    ["stays open", given([-1, 2], [-1, 3]), "none of the other choices tells the direction either"],
  ])("an answer that %s is said to", (_, given, words) => {
    expect(toText(joinTexts(changedSentences(given, 0), " "))).toContain(words);
  });

  it("says why a choice has no answer in place of leaving it out", () => {
    const few = completed(
      changedChoices(
        analyse(
          logOf([
            ["Session", "Speed (mph)", "Bend (in)"],
            ["a", 6, 0.5],
            ["a", 7, 0.6],
            ["b", 8, 0.65],
            ["b", 9, 0.72],
          ]),
          { ...plain, response: "Bend (in)", drivers: [driver("Speed (mph)")] },
        ),
      ),
    );
    expect(few.rows.every(({ effects, problem }) => effects.length > 0 || problem)).toBe(true);
  });

  it("follows ratios of odds for shots made", () => {
    const made = analyseMade(log(), {
      ...plain,
      response: "Made",
      drivers: [driver("Speed (mph)"), driver("Cloth", "category")],
    });
    const found = completed(changedMade(made));
    const term = made.logistic.terms.find(({ label }) => label === "Speed (mph)")!;
    const { from, to } = found.effects[0];
    expect(found.rows[0].effects[0]!.value).toBeCloseTo(Math.exp(term.estimate! * (Number(to) - Number(from))), 10);
    expect(found.rows.map(({ change }) => change)).toContain("With Humidity too");
    expect(found.none).toBe(1);
  });
});

describe("picked rows", () => {
  it("give the fit that those rows give by themselves, without levels that are gone", () => {
    const question = {
      response: [1, 2, 4, 5, 9, 7],
      drivers: [
        { kind: "category" as const, name: "cloth", values: [0, 0, 1, 2, 2, 2], levels: ["new", "old", "worn"] },
      ],
      weights: [1, 2, 1, 1, 2, 1],
    };
    const picked = pickRows(question, [0, 1, 3, 4, 5]);
    expect(picked.drivers[0]).toMatchObject({ levels: ["new", "worn"], values: [0, 0, 1, 1, 1] });
    const alone = regress({
      response: [1, 2, 5, 9, 7],
      drivers: [{ kind: "category", name: "cloth", values: [0, 0, 1, 1, 1], levels: ["new", "worn"] }],
      weights: [1, 2, 1, 2, 1],
    });
    expect(regress(picked).terms).toEqual(alone.terms);
  });
});

describe("sessions that allow no interval", () => {
  const rows: CellValue[][] = [["Session", "Cloth", "Speed (mph)", "Bend (in)", "Made"]];
  const { normal, uniform } = seededRandom(5);
  for (let i = 0; i < 24; i++) {
    const cloth = i < 12 ? "new" : "worn";
    rows.push([`S${cloth}`, cloth, 4 + 4 * uniform(), (i < 12 ? 0.5 : 0.8) + 0.05 * normal(), i % 3 ? "yes" : "no"]);
  }
  const drivers = [driver("Cloth", "category"), driver("Speed (mph)")];
  it("get none back from a choice that counts every shot on its own", () => {
    const asked = leading(analyse(logOf(rows), { ...plain, response: "Bend (in)", drivers }));
    const found = completed(changedChoices(asked));
    const cloth = found.effects.findIndex(({ heading }) => heading === "Cloth");
    const alone = found.rows.filter(({ change }) => /on its own|scattering more/.test(change));
    expect(alone.length).toBe(2);
    for (const { effects } of [...alone, found.rows[0]!])
      expect(effects[cloth]).toMatchObject({ low: null, high: null });
    // Speed changes within sessions, so it keeps its interval throughout.
    for (const { effects } of alone) expect(effects[cloth + 1]!.low).not.toBeNull();
    expect(toText(changedSentences(found, cloth)[0])).toContain("gives no interval");
    const made = completed(changedMade(leadingMade(analyseMade(logOf(rows), { ...plain, response: "Made", drivers }))));
    const own = made.rows.find(({ change }) => change === "Every shot on its own")!;
    expect([made.rows[0]!.effects[0]!.low, own.effects[0]!.low]).toEqual([null, null]);
  });
});
