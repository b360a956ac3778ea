/** What makes a session: named, noticed, and said. */
import { describe, expect, it } from "vitest";
import { analyse } from "../../../src/experiment/question/analysis";
import { answerSentences } from "../../../src/experiment/question/answer";
import { sessionAware } from "../../../src/experiment/question/sessionAware";
import { logOf } from "../logs";
import { randomOf } from "../../../src/statistics/numeric/drawer";
import { toText } from "../../../src/experiment/language/said";

const question = {
  response: "Bend (mm)",
  drivers: [{ heading: "Humidity (%)", as: "number" as const, degree: 1 }],
  joint: [],
  constant: true,
  confidence: 0.95,
};

/**
 * Invented: two sessions on each of four days, six shots each, each session shifted; labels 1 and 2 come again every
 * day.
 */
function days(headings: readonly [string, string] = ["Date", "Session"], seed = 4) {
  const random = randomOf(seed);
  const rows = [0, 1, 2, 3].flatMap((day) =>
    [0, 1].flatMap((session) => {
      const shift = random.normal();
      return Array.from({ length: 6 }, (_, shot) => [
        `2026-03-0${day + 1}`,
        session + 1,
        40 + 5 * day + 2 * session,
        shot % 2 ? "one" : "other",
        `b${2 * day + session}`,
        20 + shift + 0.5 * random.normal(),
      ]);
    }),
  );
  return logOf([[...headings, "Humidity (%)", "Observer", "Rack", "Bend (mm)"], ...rows]);
}

const texts = (log: ReturnType<typeof days>, choice: Parameters<typeof analyse>[1]) =>
  answerSentences(analyse(log, choice)).map(({ text }) => toText(text));

describe("a session named by several columns", () => {
  const both = { ...question, scatter: { as: "random" as const, heading: "Date", also: ["Session"] } };

  it("is each distinct combination, like a column that holds them", () => {
    const found = analyse(days(), both).regression;
    const single = analyse(days(), { ...question, scatter: { as: "random", heading: "Rack" } }).regression;
    expect(found.question.errors).toMatchObject({ by: { levels: { length: 8 } } });
    expect(found.terms.map(({ estimate, standardError }) => [estimate, standardError])).toEqual(
      single.terms.map(({ estimate, standardError }) => [estimate, standardError]),
    );
    expect(texts(days(), both)).toContain(
      "A session is each distinct combination of date and session: 8 in these rows, because the same session comes again under another date.",
    );
  });

  it("leaves out a row where one of them is blank, and refuses one that is named twice or is the response", () => {
    const log = days();
    const date = log.columns[0];
    const holed = {
      ...log,
      columns: [
        { ...date, readings: date.readings.map((one, i) => (i === 3 ? { kind: "blank" as const } : one)) },
        ...log.columns.slice(1),
      ],
    };
    expect(
      analyse(holed, both)
        .check.leftOut.map(({ reason }) => reason)
        .map((one) => toText(one)),
    ).toEqual(["Date is blank"]);
    const also = (heading: string) => ({
      ...both,
      scatter: { as: "random" as const, heading: "Date", also: [heading] },
    });
    expect(() => analyse(log, also("Date"))).toThrow('"Date" is named twice as what makes a session');
    expect(() => analyse(log, also("Bend (mm)"))).toThrow("both as the response and as what groups the rows");
  });

  it("may have a driver among them, as where sessions are counted anew on each table", () => {
    const log = days(["Table", "Session"]);
    const found = analyse(log, {
      ...question,
      drivers: [{ heading: "Table", as: "category", degree: 1 }],
      scatter: { as: "random", heading: "Table", also: ["Session"] },
    });
    expect(found.regression.question.errors).toMatchObject({ by: { levels: { length: 8 } } });
  });
});

describe("what is noticed", () => {
  it.each([
    [["Date", "Session"], "Date and Session", 8],
    [["Evening", "Session"], "Evening and Session", 8],
    [["Evening", "Shot"], "Evening", 4],
  ] as const)("%j: %s", (headings, column, groups) => {
    const found = sessionAware(analyse(days(headings), { ...question, drivers: [] }));
    expect(found?.column.heading.text).toBe(column);
    expect(found?.groups).toBe(groups);
  });

  it("is an observer where nothing else groups the rows", () => {
    const found = sessionAware(analyse(days(["Shot", "Go"]), { ...question, drivers: [] }));
    expect(found?.column.heading.text).toBe("Observer");
  });

  it("gives way to what is named", () => {
    const found = sessionAware(analyse(days(), { ...question, sessions: ["Date"] }));
    expect(found).toMatchObject({ groups: 4 });
  });

  it("asks about a column within which a driver never changes, whatever its heading", () => {
    const asked = "Humidity never changes within one rack (8 racks). If the shots of one rack were taken together";
    expect(texts(days(["Shot", "Go"]), question).some((text) => text.startsWith(asked))).toBe(true);
    expect(
      texts(days(["Shot", "Go"]), { ...question, sessions: ["Observer"] }).some((text) => text.startsWith(asked)),
    ).toBe(false);
  });
});

describe("which structure was taken", () => {
  const by = (heading: string) => ({ ...question, scatter: { as: "random" as const, heading } });

  it("says of what is within, around and across the sessions", () => {
    const said = texts(days(["Table", "Shot"]), by("Rack")).join("\n");
    expect(said).toContain("Each rack lies within one table. The rack is taken as what is shifted");
    expect(said).toContain("Rack and observer are crossed: one observer is met in several racks.");
    expect(texts(days(["Session", "Date"]), by("Observer")).join("\n")).toContain("Observer and session are crossed");
    const around = logOf([
      ["Table", "Session", "Humidity (%)", "Bend (mm)"],
      ...Array.from({ length: 24 }, (_, i) => [`t${i >> 3}`, `s${i >> 2}`, 40 + i, 20 + ((7 * i) % 5)]),
    ]);
    expect(texts(around, by("Table")).join("\n")).toContain("Each session lies within one table. The table is taken");
  });
});
