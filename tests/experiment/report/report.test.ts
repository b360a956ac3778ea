/**
 * The report: everything in its place, both systems of units, the reader's language, a command that repeats the fit.
 */
import { describe, expect, it } from "vitest";
import { analyse } from "../../../src/experiment/question/analysis";
import type { Choice } from "../../../src/experiment/question/choice";
import { compareLevels } from "../../../src/experiment/question/comparison";
import { claimsOf, FIRST_RULES } from "../../../src/experiment/evidence/evidence";
import { decimalSign, shownNumber, usableLanguage } from "../../../src/experiment/language/locale";
import { analyseMade } from "../../../src/experiment/question/madeAnalysis";
import { makePlan } from "../../../src/experiment/plan/plan";
import type { ReportBlock } from "../../../src/experiment/report/reportBlock";
import { figureSvg } from "../../../src/panel/plots/savePicture";
import { reportOf, type ReportParts } from "../../../src/experiment/report/report";
import { reportSheet } from "../../../src/experiment/report/reportSheet";
import { say, toText, type Figured } from "../../../src/experiment/language/said";
import { FIRST_MEASURE } from "../../../src/experiment/measure/measureForm";
import { targetSentences } from "../../../src/experiment/evidence/targetVerdict";
import { decimalsFor } from "../../../src/experiment/language/wording";
import { comparedSubject, explainedSubject, madeSubject } from "../../../src/experiment/report/reportSubject";
import { reportPage } from "../../../src/panel/report/reportPage";
import { parseReport } from "../../../src/experiment/report/reportForm";
import type { CellValue } from "../../../src/workbook/book";
import { logOf } from "../logs";

const log = logOf(
  [
    ["Date", "Cloth", "Speed (mph)", "Made", "Bend (in)"],
    ...Array.from({ length: 12 }, (_, i): CellValue[] => [
      46055 + i,
      i % 2 ? "worn" : "new",
      4 + (i % 5),
      i % 3 ? "yes" : "no",
      0.5 + 0.05 * (i % 5) + (i % 2 ? 0.1 : 0) + 0.01 * (i % 4),
    ]),
    [46070, "worn", null, "yes", 1],
  ],
  ["yyyy-mm-dd"],
);
const choice: Choice = {
  response: "Bend (in)",
  drivers: [
    { heading: "Cloth", as: "category", degree: 1 },
    { heading: "Speed (mph)", as: "number", degree: 1 },
  ],
  joint: [],
  constant: true,
  confidence: 0.95,
};

function parts(change: Partial<ReportParts> = {}): ReportParts {
  return {
    title: "",
    purpose: "Does the <worn> cloth bend more?",
    subject: explainedSubject(analyse(log, choice)),
    line: "The answer in a line.",
    sessions: [],
    trust: ["A trust sentence."],
    target: [],
    plan: undefined,
    measurement: [],
    evidence: undefined,
    figures: [{ id: "f", caption: say`A plot, ${1.5} in wide.` }],
    made: new Date(Date.UTC(2026, 2, 1, 12)),
    version: "0.1.0",
    host: "a test",
    settings: '{"form":1.5}',
    ...change,
  };
}
const words = (report: ReturnType<typeof reportOf>, heading: string) =>
  JSON.stringify(report.sections.find((section) => section.heading === heading)!.blocks.map(asRead));
/** A block with its texts as they are read. */
const asRead = (block: ReportBlock): unknown =>
  block.kind === "text" || block.kind === "verdict"
    ? { ...block, text: toText(block.text) }
    : block.kind === "list"
      ? { ...block, items: block.items.map((item) => toText(item)) }
      : block;

describe("a report's first page", () => {
  it("has why it was asked, the question, the verdict, its picture, at most three sentences more, and ranges", () => {
    const sessions = ["First sentence.", "Second sentence.", "Third.", "Fourth."];
    const figures = [
      { id: "answer", caption: "The answer's picture." },
      { id: "other", caption: "Another." },
    ];
    const { sections } = reportOf(parts({ sessions, figures, target: ["Not shown to be reached.", "And why."] }));
    expect(sections.filter(({ front }) => front)).toEqual([sections[0]]);
    const [front] = sections;
    const blocks = front.blocks.map(asRead);
    expect(front.blocks.map(({ kind }) => kind)).toEqual([
      "text",
      "text",
      "verdict",
      "verdict",
      "figure",
      "list",
      "list",
    ]);
    expect(blocks[1]).toMatchObject({ text: expect.stringMatching(/^What goes with Bend \(in\), from 12 rows/) });
    expect(front.blocks[2]).toMatchObject({ text: "The answer in a line." });
    expect(front.blocks[3]).toMatchObject({ text: "Not shown to be reached." });
    expect(front.blocks[5]).toMatchObject({ items: sessions.slice(0, 3) });
    expect(blocks[6]).toMatchObject({
      items: expect.arrayContaining(["Cloth: new (6 rows), worn (6 rows)", "Speed (mph): 4 to 8"]),
    });
    // The answer's picture stands once.
    expect(words({ sections } as never, "Plots")).not.toContain('"answer"');
    expect(words({ sections } as never, "Plots")).toContain('"other"');
  });
});

describe("a report", () => {
  it("has every section, and says of what is missing that it is", () => {
    const report = reportOf(parts());
    expect(report.title).toBe("Bend: a report");
    expect(report.sections.map(({ heading }) => heading)).toEqual([
      "The answer",
      "Question",
      "Table and conditions",
      "Plan",
      "Method",
      "Rows",
      "Results",
      "Target",
      "Plots",
      "Evidence",
      "Limits",
      "To repeat it",
    ]);
    expect(words(report, "Plan")).toContain("is not known here");
    expect(words(report, "Evidence")).toContain("No claims");
    expect(words(report, "Method")).toContain("No uncertainty budget");
    expect(words(report, "Rows")).toContain("13 rows read, 12 counted in, 1 left out");
    expect(words(report, "Rows")).toContain("Speed (mph) is blank");
    expect(words(report, "Limits")).toContain("A trust sentence.");
  });

  it("gives ranges and results in both systems of units", () => {
    const report = reportOf(parts());
    const ranges = report.sections[2].blocks.find((block) => block.kind === "table")!;
    expect(ranges.kind === "table" && ranges.rows.map((row) => row[0])).toEqual([
      "Speed (mph)",
      "Speed (m/s)",
      "Bend (in)",
      "Bend (mm)",
    ]);
    const [coefficients] = report.sections[6].blocks.filter((block) => block.kind === "table");
    if (coefficients.kind !== "table") throw new Error("no table");
    const [term] = coefficients.rows;
    expect(toText(coefficients.head[4])).toBe("Estimate (mm)");
    const [inches, millimetres] = [term[1], term[4]] as Figured[];
    expect(millimetres.value).toBeCloseTo(25.4 * inches.value, 10);
    // As many digits as the standard error leaves: two of its own, in each unit.
    const [error] = analyse(log, choice).regression.terms.map(({ standardError }) => standardError!);
    expect([inches, millimetres]).toEqual([
      { value: inches.value, decimals: decimalsFor(error) },
      { value: millimetres.value, decimals: decimalsFor(25.4 * error) },
    ]);
    const html = reportPage(report, new Map(), "en-US", "A4");
    for (const [, shown] of html.matchAll(/<td class="number">([^<]*)<\/td>/g))
      expect(shown.replace(/^-?[0.,]*|E.*|[.,]/g, "").length, shown).toBeLessThanOrEqual(5);
    expect(html).toContain(`<td class="number">${inches.value.toFixed(decimalsFor(error))}</td>`);
  });

  it("tells plan, measurement and evidence where they are kept", () => {
    const plan = makePlan({
      kind: "all",
      factors: [{ heading: "Speed (mph)", levels: [4, 8] }],
      replicates: 2,
      tables: ["N"],
      sessions: 1,
      warmUps: 0,
      seed: 77,
    });
    const claims = logOf([
      ["Claim", "Bend (in)", "Mark spacing (in)"],
      ["First", 1, 2.4],
    ]);
    const report = reportOf(
      parts({
        plan: { plan, sheet: "Plan", shot: 1, planned: 4 },
        measurement: ["Bend 1 in ± 0.1 in."],
        evidence: { log: claims, claims: claimsOf(claims, FIRST_RULES), rules: FIRST_RULES, certainty: 0.95 },
      }),
    );
    expect(words(report, "Plan")).toContain("1 of 4 planned shots measured");
    expect(words(report, "To repeat it")).toContain('["Seed of the plan",77]');
    expect(words(report, "Method")).toContain("Bend 1 in ± 0.1 in.");
    expect(words(report, "Evidence")).toContain("First (row 2) does not stand: the marks are 2.4 in apart");
  });

  it("goes on a sheet with its numbers as numbers", () => {
    const rows = reportSheet(reportOf(parts()), "de").rows.map((row) => row.map(({ value }) => value));
    expect(rows.find(([name]) => name === "Speed (mph)")).toEqual([
      "Speed (mph)",
      4,
      expect.any(Number),
      8,
      "12 of 12",
    ]);
    // Whole numbers behind sensible digits.
    const term = reportSheet(reportOf(parts()), "de").rows.find(([cell]) => cell?.value === "Cloth: worn")!;
    expect(term[1]).toEqual({
      value: analyse(log, choice).regression.terms[1].estimate,
      format: expect.stringMatching(/^0\.0{2,4}$/),
    });
    expect(rows.flat()).toContain("Plot, on the printable page: A plot, 1,5 in wide.");
  });

  it("says a reason once, with how many rows and which", () => {
    const many = logOf([
      ["Speed (mph)", "Bend (in)"],
      ...Array.from({ length: 200 }, (_, i): CellValue[] => [
        i < 192 && i !== 5 ? null : 4 + (i % 5),
        0.5 + (i % 7) / 20,
      ]),
      ["fast", 1],
    ]);
    const report = reportOf(
      parts({ subject: explainedSubject(analyse(many, { ...choice, drivers: [choice.drivers[1]] })) }),
    );
    const [table] = report.sections
      .find(({ heading }) => heading === "Rows")!
      .blocks.filter((block) => block.kind === "table");
    expect(table).toEqual({
      kind: "table",
      head: ["Left out because", "Rows", "Which"],
      rows: [
        ["Speed (mph) is blank", 191, "2 to 6, 8 to 193"],
        ['Speed (mph) is "fast", which is no number', 1, "202"],
      ],
    });
    expect(reportPage(report, new Map(), "en", "A4").split("Speed (mph) is blank").length - 1).toBe(1);
  });

  it("goes on a page that runs nothing of what users typed", () => {
    const html = reportPage(
      reportOf(parts({ title: "<script>x</script>" })),
      new Map([["f", "<svg></svg>"]]),
      "de-DE",
      "A4",
    );
    expect(html).not.toContain("<script>");
    expect(html).toContain("Does the &#60;worn&#62; cloth bend more?");
    expect(html).toContain("<figure><svg></svg><figcaption>A plot, 1,5 in wide.</figcaption></figure>");
    expect(html).toContain("@page { size: A4;");
    expect(html).toContain("Date: 02.02.2026 to 13.02.2026");
    const points = [0.25, 1.75].map((y, row) => ({ x: row, y, row }));
    const plot = { id: "f", title: "Bends", caption: "", xLabel: "Shot 1.5", yLabel: "Bend (in)", points };
    const [plain, german] = [figureSvg(plot), figureSvg(plot, "de-DE")];
    expect(german).toMatch(/>1,5</);
    // Nothing but its numbers differs.
    expect(german.replace(/>(−?\d+),(\d+)</g, ">$1.$2<")).toBe(plain);
    expect(plain).toContain(">Shot 1.5<");
    expect(reportPage(reportOf(parts()), new Map(), "en-US", "Letter")).toContain("@page { size: letter;");
  });
});

describe("the verdict on a target", () => {
  const INCH = 0.0254;
  const head = [
    "Claim",
    "Bend (in)",
    "Standard uncertainty (in)",
    "Mark spacing (in)",
    "Off the line (in)",
    "Obstacle moved (in)",
    "One unbroken recording",
    "Both views",
  ];
  const evidence = (...rows: CellValue[][]) => ({
    rules: FIRST_RULES,
    claims: claimsOf(logOf([head, ...rows.map((row) => [...row, 2.25, 0, 0, "yes", "yes"])]), FIRST_RULES),
  });
  const said = (rows: readonly number[], found: ReturnType<typeof evidence> | undefined) =>
    targetSentences(FIRST_MEASURE, { rows: rows.map((bend) => bend * INCH), evidence: found });

  it("is what the claims that stand show, each by its own uncertainty", () => {
    // (1.2 − 1)/0.05 = 4 standard uncertainties; (1.05 − 1)/0.05 = 1, 84.1 % of a normal; the long one is short of the
    // target by 2.
    expect(
      said([], evidence(["A", 1.2, 0.05], ["B", 1.05, 0.05], ["C", -0.9, 0.05])).map((one) => toText(one)),
    ).toEqual([
      "The target of 1.000 in was beaten, at the 95 % that were asked for.",
      "Of 3 claims that stand, 1 beats it: A (1.200 in short, number of tries not recorded) with a probability of more than 99.9 %.",
    ]);
    expect(said([], evidence(["B", 1.05, 0.05])).map((one) => toText(one))).toEqual([
      "The target of 1.000 in was not shown to be beaten, at the 95 % that were asked for.",
      "Of 1 claim that stands none beats it; the nearest is B (1.050 in short, number of tries not recorded) with a probability of 84.1 %.",
    ]);
    expect(toText(said([], evidence(["C", -0.8, 0.05]))[0])).toContain("was not reached");
    // What does not stand speaks for nothing.
    expect(toText(said([], evidence(["A", 1.2, -1]))[1])).toContain("No claim of a single bend stands");
  });

  it("counts rows that reach it by a guard band, names the largest as partly luck, and is never surer for them", () => {
    // Ruler (1/16)/√12, mark (1/32)/√3, ball 0.0025/√3, line (1/64)/√3 in: 0.02716 together; 1.6449 of them above the
    // target.
    const bar =
      1 +
      1.644854 *
        Math.hypot(1 / 16 / Math.sqrt(12), 1 / 32 / Math.sqrt(3), 0.0025 / Math.sqrt(3), 1 / 64 / Math.sqrt(3));
    const sentences = said([0.5, 1.02, bar + 0.0005], undefined);
    expect(toText(sentences[0])).toContain("was not shown to be beaten");
    expect(toText(sentences[2])).toMatch(
      new RegExp(
        `^Of 3 rows with a bend 1 reached ${bar.toFixed(3)} in, which one reading must show .*; the largest was ${(bar + 0.0005).toFixed(3)} in, the mean 0\\.8\\d\\d in\\. The largest of many is partly luck`,
      ),
    );
    expect(toText(said([0.5, bar - 0.0005], undefined)[2])).toContain("none reached");
    expect(toText(said([0.5], undefined)[0])).toContain("was not reached");
  });

  it("is missing, and said to be, where no target is kept", () =>
    expect(words(reportOf(parts()), "Target")).toContain("No target is kept with this workbook"));
});

describe("other questions", () => {
  it("of levels: means, pairs, and the command", () => {
    const subject = comparedSubject(
      compareLevels(log, {
        response: "Bend (in)",
        drivers: [choice.drivers[1]],
        among: "Cloth",
        confidence: 0.9,
        margin: 0.05,
      }),
    );
    expect(subject.command).toBe(
      "npx bendbook compare WORKBOOK.xlsx --sheet 'Log' --response 'Bend (in)' --among 'Cloth' --driver 'Speed (mph)' --confidence 0.9 --margin 0.05",
    );
    expect(JSON.stringify(subject.tables)).toContain("new less worn");
    expect(words(reportOf(parts({ subject })), "Question")).toContain(
      "How Bend (in) differs among the levels of Cloth, the same to 0.05 in counting as none",
    );
  });
  it("of made and missed: rates and the command", () => {
    const subject = madeSubject(analyseMade(log, { ...choice, response: "Made", drivers: [choice.drivers[1]] }));
    expect(subject.command).toContain("regress WORKBOOK.xlsx --sheet 'Log' --made 'Made' --driver 'Speed (mph)'");
    expect(JSON.stringify(subject.tables)).toContain("Fitted rate");
  });
  it("of a number: the command names every choice", () => {
    const subject = explainedSubject(
      analyse(log, {
        ...choice,
        drivers: [{ heading: "Speed (mph)", as: "number", degree: 2 }],
        constant: true,
        scatter: { as: "robust" },
      }),
    );
    expect(subject.command).toContain("--curve 'Speed (mph)' 2 --confidence 0.95 --robust");
  });
});

describe("languages", () => {
  it.each([
    ["de", ","],
    ["en", "."],
    ["fr-CA", ","],
  ])("%s parts decimals by %s", (language, sign) => expect(decimalSign(language)).toBe(sign));
  it("change numbers and days that a text carries, and nothing else", () => {
    const inches: Figured = { value: 0.25, decimals: 2 };
    const text = say`${inches} in of ${"Gap 1.5"} in 2.0, ${3} shots, ${1.5}, ${{ value: 3.21e-12, digits: 2 }} on ${{ day: "2026-02-03" }}; ${-0.5}.`;
    expect(toText(text, "de")).toBe("0,25 in of Gap 1.5 in 2.0, 3 shots, 1,5, 3,2e−12 on 03.02.2026; −0,5.");
    expect(toText(text)).toBe("0.25 in of Gap 1.5 in 2.0, 3 shots, 1.5, 3.2e−12 on 2026-02-03; −0.5.");
    expect(shownNumber(3.2123456e-12, 4, "de")).toBe("3,212e−12");
  });
  it("are found in whatever a system says", () =>
    expect(["en-US@posix", "de_AT.UTF-8", "", "?"].map(usableLanguage)).toEqual(["en-US", "de-AT", "en", "en"]));
  it("a kept form survives, and anything else in its place", () => {
    expect(parseReport({ title: "A", purpose: "B", paper: "Letter" })).toEqual({
      title: "A",
      purpose: "B",
      paper: "Letter",
    });
    expect(parseReport([3])).toEqual({ title: "", purpose: "", paper: "A4" });
  });
});
