/** The report: everything in its place, both systems of units, the reader's language, a command that repeats the fit. */
import { describe, expect, it } from "vitest";
import { analyse } from "../../src/experiment/analysis";
import type { Choice } from "../../src/experiment/choice";
import { compareLevels } from "../../src/experiment/comparison";
import { claimsOf, FIRST_RULES } from "../../src/experiment/evidence";
import { decimalSign, localised, shownNumber, usableLanguage } from "../../src/experiment/locale";
import { analyseMade } from "../../src/experiment/madeAnalysis";
import { makePlan } from "../../src/experiment/plan";
import { reportOf, type ReportParts } from "../../src/experiment/report";
import { reportSheet } from "../../src/experiment/reportSheet";
import { comparedSubject, explainedSubject, madeSubject } from "../../src/experiment/reportSubject";
import { reportPage } from "../../src/panel/report/reportPage";
import { parseReport } from "../../src/panel/report/form";
import type { CellValue } from "../../src/workbook/book";
import { logOf } from "./logs";

const log = logOf(
  [["Date", "Cloth", "Speed (mph)", "Made", "Bend (in)"], ...Array.from({ length: 12 }, (_, i): CellValue[] => [46055 + i, i % 2 ? "worn" : "new", 4 + (i % 5), i % 3 ? "yes" : "no", 0.5 + 0.05 * (i % 5) + (i % 2 ? 0.1 : 0) + 0.01 * (i % 4)]), [46070, "worn", null, "yes", 1]],
  ["yyyy-mm-dd"],
);
const choice: Choice = { response: "Bend (in)", drivers: [{ heading: "Cloth", as: "category", degree: 1 }, { heading: "Speed (mph)", as: "number", degree: 1 }], joint: [], constant: true, confidence: 0.95 };

function parts(change: Partial<ReportParts> = {}): ReportParts {
  return {
    title: "", purpose: "Does the <worn> cloth bend more?", subject: explainedSubject(analyse(log, choice)), sessions: [], trust: ["A trust sentence."], plan: undefined, measurement: [], evidence: undefined,
    figures: [{ id: "f", caption: "A plot, 1.5 in wide." }], made: new Date(Date.UTC(2026, 2, 1, 12)), version: "0.1.0", host: "a test", settings: '{"form":1.5}', ...change,
  };
}
const words = (report: ReturnType<typeof reportOf>, heading: string) => JSON.stringify(report.sections.find((section) => section.heading === heading)!.blocks);

describe("a report", () => {
  it("has every section, and says of what is missing that it is", () => {
    const report = reportOf(parts());
    expect(report.title).toBe("Bend: a report");
    expect(report.sections.map(({ heading }) => heading)).toEqual(["Question", "Table and conditions", "Plan", "Method", "Rows", "Results", "Plots", "Evidence", "Limits", "To repeat it"]);
    expect(words(report, "Plan")).toContain("is not known here");
    expect(words(report, "Evidence")).toContain("No claims");
    expect(words(report, "Method")).toContain("No uncertainty budget");
    expect(words(report, "Rows")).toContain("13 rows read, 12 counted in, 1 left out");
    expect(words(report, "Rows")).toContain("Speed (mph) is blank");
    expect(words(report, "Limits")).toContain("A trust sentence.");
  });

  it("gives ranges and results in both systems of units", () => {
    const report = reportOf(parts());
    const ranges = report.sections[1].blocks.find((block) => block.kind === "table")!;
    expect(ranges.kind === "table" && ranges.rows.map((row) => row[0])).toEqual(["Speed (mph)", "Speed (m/s)", "Bend (in)", "Bend (mm)"]);
    const [coefficients] = report.sections[5].blocks.filter((block) => block.kind === "table");
    if (coefficients.kind !== "table") throw new Error("no table");
    const [term] = coefficients.rows;
    expect(coefficients.head[4]).toBe("Estimate (mm)");
    expect(term[4] as number).toBeCloseTo(25.4 * (term[1] as number), 10);
  });

  it("tells plan, measurement and evidence where they are kept", () => {
    const plan = makePlan({ kind: "all", factors: [{ heading: "Speed (mph)", levels: [4, 8] }], replicates: 2, tables: ["N"], sessions: 1, warmUps: 0, seed: 77 });
    const claims = logOf([["Claim", "Bend (in)", "Mark spacing (in)"], ["First", 1, 2.4]]);
    const report = reportOf(parts({ plan: { plan, sheet: "Plan", shot: 1, planned: 4 }, measurement: ["Bend 1 in ± 0.1 in."], evidence: { log: claims, claims: claimsOf(claims, FIRST_RULES), rules: FIRST_RULES, certainty: 0.95 } }));
    expect(words(report, "Plan")).toContain("1 of 4 planned shots measured");
    expect(words(report, "To repeat it")).toContain('["Seed of the plan",77]');
    expect(words(report, "Method")).toContain("Bend 1 in ± 0.1 in.");
    expect(words(report, "Evidence")).toContain("First (row 2) does not stand: the marks are 2.4 in apart");
  });

  it("goes on a sheet with its numbers as numbers", () => {
    const rows = reportSheet(reportOf(parts()), "de").rows.map((row) => row.map(({ value }) => value));
    expect(rows.find(([name]) => name === "Speed (mph)")).toEqual(["Speed (mph)", 4, expect.any(Number), 8, "12 of 12"]);
    expect(rows.flat()).toContain("Plot, on the printable page: A plot, 1,5 in wide.");
  });

  it("goes on a page that runs nothing of what users typed", () => {
    const html = reportPage(reportOf(parts({ title: "<script>x</script>" })), new Map([["f", "<svg></svg>"]]), "de-DE", "A4");
    expect(html).not.toContain("<script>");
    expect(html).toContain("Does the &#60;worn&#62; cloth bend more?");
    expect(html).toContain("<figure><svg></svg><figcaption>A plot, 1,5 in wide.</figcaption></figure>");
    expect(html).toContain("@page { size: A4;");
    expect(html).toContain("Date: 02.02.2026 to 13.02.2026");
    const drawn = reportPage(reportOf(parts()), new Map([["f", '<svg><path d="M0.5 1.5"/><text x="0.25">0.75</text></svg>']]), "de-DE", "A4");
    expect(drawn).toContain('<path d="M0.5 1.5"/><text x="0.25">0,75</text>');
    expect(reportPage(reportOf(parts()), new Map(), "en-US", "Letter")).toContain("@page { size: letter;");
  });
});

describe("other questions", () => {
  it("of levels: means, pairs, and the command", () => {
    const subject = comparedSubject(compareLevels(log, { response: "Bend (in)", drivers: [choice.drivers[1]], among: "Cloth", confidence: 0.9, margin: 0.05 }));
    expect(subject.command).toBe("npx bendbook compare WORKBOOK.xlsx --sheet 'Log' --response 'Bend (in)' --among 'Cloth' --driver 'Speed (mph)' --confidence 0.9 --margin 0.05");
    expect(JSON.stringify(subject.tables)).toContain("new less worn");
    expect(words(reportOf(parts({ subject })), "Question")).toContain("How Bend (in) differs among the levels of Cloth, the same to 0.05 in counting as none");
  });
  it("of made and missed: rates and the command", () => {
    const subject = madeSubject(analyseMade(log, { ...choice, response: "Made", drivers: [choice.drivers[1]] }));
    expect(subject.command).toContain("regress WORKBOOK.xlsx --sheet 'Log' --made 'Made' --driver 'Speed (mph)'");
    expect(JSON.stringify(subject.tables)).toContain("Fitted rate");
  });
  it("of a number: the command names every choice", () => {
    const subject = explainedSubject(analyse(log, { ...choice, drivers: [{ heading: "Speed (mph)", as: "number", degree: 2 }], constant: true, scatter: { as: "robust" } }));
    expect(subject.command).toContain("--curve 'Speed (mph)' 2 --confidence 0.95 --robust");
  });
});

describe("languages", () => {
  it.each([["de", ","], ["en", "."], ["fr-CA", ","]])("%s parts decimals by %s", (language, sign) => expect(decimalSign(language)).toBe(sign));
  it("change decimals and days, and nothing else", () => {
    expect(localised('0.25 to 1.5 in, 3.2e−12, v0.1.0, Q1.5, "x 1.5", 2026-02-03 and 2026-02-03T12:00; 25.4.', "de")).toBe('0,25 to 1,5 in, 3,2e−12, v0.1.0, Q1.5, "x 1.5", 03.02.2026 and 2026-02-03T12:00; 25,4.');
    expect(shownNumber(3.2123456e-12, 4, "de")).toBe("3,212e−12");
  });
  it("are found in whatever a system says", () => expect(["en-US@posix", "de_AT.UTF-8", "", "?"].map(usableLanguage)).toEqual(["en-US", "de-AT", "en", "en"]));
  it("a kept form survives, and anything else in its place", () => {
    expect(parseReport({ title: "A", purpose: "B", paper: "Letter" })).toEqual({ title: "A", purpose: "B", paper: "Letter" });
    expect(parseReport([3])).toEqual({ title: "", purpose: "", paper: "A4" });
  });
});
