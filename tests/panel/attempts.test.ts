/** The panel and logs of attempts: which question leads, what is drawn, what is said of a target. */
import { describe, expect, it } from "vitest";
import { analyseReach, type ReachQuestion } from "../../src/experiment/attempts/reach";
import type { TrialLog } from "../../src/experiment/log/trialLog";
import { targetSentence } from "../../src/experiment/attempts/targetWords";
import { levelReaches } from "../../src/experiment/attempts/levelReach";
import { NO_SETTINGS, parseSettings, settingsText } from "../../src/panel/frame/settings";
import { panelView, type PanelView } from "../../src/panel/frame/view";
import { reachSteps, targetSteps } from "../../src/panel/worker/reachJob";
import { figureChoices } from "../../src/panel/plots/figureChoices";
import { figureSvg } from "../../src/panel/plots/savePicture";
import type { CellValue } from "../../src/workbook/book";
import { sheetOf } from "../../scripts/evidence/sheetOf";
import { toText } from "../../src/experiment/language/said";

const sheet = (values: CellValue[][]) => sheetOf(values, { sheet: "Attempts" });

const rows: CellValue[][] = [["Gap (in)", "Outcome", "Cloth", "Speed (mph)"]];
for (let i = 0; i < 60; i++) {
  const gap = 0.5 - (i % 12) / 16;
  const bend = 1 + (i % 2) / 8 + [0.11, -0.08, 0.02, -0.14, 0.17, -0.03, 0.06][i % 7]!;
  rows.push([gap, bend >= 1.125 - gap ? "cleared" : "hit", i % 2 === 0 ? "worn" : "new", 8 + (i % 5)]);
}
const asked = {
  ...NO_SETTINGS,
  ask: "reach" as const,
  reach: {
    position: { as: "gap" as const, heading: "Gap (in)" },
    outcome: "Outcome",
    drivers: [
      { heading: "Cloth", as: "category" as const, degree: 1 },
      { heading: "Speed (mph)", as: "number" as const, degree: 1 },
    ],
    sessions: [],
    confidence: 0.95,
    target: "1 1/8",
    tries: "10",
  },
};

/** What the job gives that works it out beside the page. */
function shownOf<Shown>(
  { reachAsked }: PanelView,
  job: (order: { log: TrialLog; question: ReachQuestion }) => Generator<number, Shown>,
): Shown {
  const steps = job({ log: reachAsked!.attempts.log, question: reachAsked!.question });
  for (;;) {
    const { done, value } = steps.next();
    if (done) return structuredClone(value);
  }
}

const answerOf = ({ reachAsked }: PanelView) => analyseReach(reachAsked!.attempts.log, reachAsked!.question);

describe("a log of attempts", () => {
  it("is asked at settings that somebody types, which are kept; a bad one is named", () => {
    const at = (texts: Record<string, string>) => ({ ...asked, reach: { ...asked.reach, at: texts } });
    expect(parseSettings(settingsText(at({ Cloth: "new" })))).toEqual(at({ Cloth: "new" }));
    const half = (texts: Record<string, string>) =>
      shownOf(panelView(sheet(rows), at(texts)), reachSteps).reach[0]!.estimate!;
    expect(half({ Cloth: "new" })).toBeGreaterThan(half({ Cloth: "worn" }));
    expect(half({})).toBeCloseTo(half({ Cloth: "worn" }), 6);
    expect(() => half({ "Speed (mph)": "fast" })).toThrow('Speed is "fast": give a number in mph');
  });

  it("tells the chance of a target beside the page as on it", () => {
    const view = panelView(sheet(rows), asked);
    const told = shownOf(view, (order) => targetSteps({ ...order, target: "1 1/8", tries: "10" }));
    expect(toText(told!)).toBe(toText(targetSentence(answerOf(view), "1 1/8", "10")!));
  });

  it("is first asked how far it bends, and other logs are not", () => {
    const view = panelView(sheet(rows), NO_SETTINGS);
    expect(view.ask).toBe("reach");
    expect(view.reachAsked?.attempts.rows).toHaveLength(60);
    expect(panelView(sheet(rows), { ...NO_SETTINGS, ask: "explain" }).ask).toBe("explain");
    const measured = rows.map((row, i): CellValue[] => [...row, i === 0 ? "Obstacle gap (in)" : 0.5]);
    expect(panelView(sheet(measured), NO_SETTINGS).ask).toBe("explain");
  });

  it("keeps its question with the workbook", () => {
    expect(parseSettings(settingsText(asked))).toEqual(asked);
    const view = panelView(sheet(rows), { ...asked, reach: { ...asked.reach, sessions: ["Evening"] } });
    expect(view.missing).toEqual(["Evening"]);
    expect(view.reachAsked).toBeDefined();
  });

  it("draws the chance with its band and spans, and each driver", () => {
    const view = panelView(sheet(rows), asked);
    const choices = figureChoices({ ...view, reach: shownOf(view, reachSteps) })!;
    expect(choices.map(({ id }) => id)).toEqual(["reach-chance", "reach-0", "reach-1"]);
    for (const { make } of choices) expect(figureSvg(make())).not.toMatch(/NaN|Infinity/);
    const { spans, line, points } = choices[0]!.make();
    expect(spans).toHaveLength(2);
    expect(points).toHaveLength(60);
    line!.y.forEach((y, i) => {
      expect(y).toBeGreaterThanOrEqual(line!.low![i]!);
      expect(y).toBeLessThanOrEqual(line!.high![i]!);
    });
  });

  it("is cautioned about in every plot of what the obstacle asked for, and in no other", () => {
    const withBend = rows.map((row, i): CellValue[] => [...row, i === 0 ? "Bend seen (in)" : 1 + (i % 5) / 10]);
    const explained = (response: string) => {
      const choice = { response, drivers: [], joint: [], constant: true, confidence: 0.95 };
      const drivers = [{ heading: "Speed (mph)", as: "number" as const, degree: 1 }];
      const view = panelView(sheet(withBend), { ...NO_SETTINGS, ask: "explain", choice: { ...choice, drivers } });
      return figureChoices(view)!.map(({ make }) => toText(make().caption).startsWith("In this log of attempts"));
    };
    expect(explained("Gap (in)")).toEqual(explained("Gap (in)").map(() => true));
    expect(explained("Bend seen (in)")).toEqual(explained("Gap (in)").map(() => false));
  });

  it("tells how likely a target is in one try and in several, and asks for what it cannot read", () => {
    const reach = answerOf(panelView(sheet(rows), asked));
    const text = targetSentence(reach, "1 1/8", "10")!;
    expect(toText(text)).toMatch(/one attempt gets by an obstacle that asks for 1.125 in with .* %/);
    expect(toText(text)).toMatch(/one of 10 tries or more with/);
    expect(toText(targetSentence(reach, "far", "")!)).toContain('The target is "far": give a bend in inches');
    expect(toText(targetSentence(reach, "1", "0.5")!)).toContain('The tries are "0.5"');
    expect(targetSentence(reach, "", "")).toBeUndefined();
  });

  it("compares cloths by the bend at one half", () => {
    const [cloth] = levelReaches(answerOf(panelView(sheet(rows), asked)));
    expect(cloth!.levels.map(({ level }) => level)).toEqual(["new", "worn"].sort().reverse());
    const [first, second] = cloth!.levels;
    expect(cloth!.pairs[0]!.difference.estimate).toBeCloseTo(first!.half.estimate! - second!.half.estimate!, 8);
  });
});
