import fc from "fast-check";
import { orderAnswer } from "../../src/experiment/trust/order";
import { describe, expect, it } from "vitest";
import { completed } from "../../src/experiment/language/completed";
import { residualEnvelope } from "../../src/statistics/checks/residualEnvelope";
import { FIRST_MEASURE } from "../../src/experiment/measure/measureForm";
import { unitOf } from "../../src/experiment/shot/shotSettings";
import { logName } from "../../src/experiment/log/trialLog";
import { plainText } from "../../src/panel/fields/NumberField";
import { selectCells } from "../../src/panel/frame/selectCells";
import { parseSettings, settingsText, NO_SETTINGS, type PanelSettings } from "../../src/panel/frame/settings";
import { panelView } from "../../src/panel/frame/view";
import { figures } from "../../src/panel/plots/figures";
import { figureSvg } from "../../src/panel/plots/savePicture";
import { madeFigures } from "../../src/panel/plots/madeFigures";
import { pairsFigure } from "../../src/panel/plots/pairsFigure";
import { madeSentences } from "../../src/experiment/question/madeAnalysis";
import { rateAt } from "../../src/experiment/question/madeRates";
import { madeSheet } from "../../src/experiment/report/madeSheet";
import { resultsSheet } from "../../src/experiment/report/resultsSheet";
import type { CellValue } from "../../src/workbook/book";
import type { Port } from "../../src/workbook/port";
import { sheetOf } from "../../scripts/evidence/sheetOf";
import { toText } from "../../src/experiment/language/said";

const rows: CellValue[][] = [["Cloth", "Speed (mph)", "Bend (in)"]];
for (let i = 0; i < 24; i++)
  rows.push([i % 3 === 0 ? '<i>"new"</i>' : "worn", 6 + (i % 7), 0.4 + 0.05 * (i % 7) + (i % 5) / 50]);

describe("settings kept with the workbook", () => {
  it("come back as they went", () => {
    const settings: PanelSettings = {
      sheet: "Log",
      table: "Trials",
      headingRow: 3,
      units: { "Speed (mph)": "km/h" },
      choice: {
        response: "Bend (in)",
        drivers: [{ heading: "Cloth", as: "category", degree: 1 }],
        joint: [["a", "b"]],
        constant: true,
        confidence: 0.9,
      },
      ask: "compare",
      made: { response: "Made", drivers: [], joint: [], constant: true, confidence: 0.95 },
      madeAt: { "Speed (mph)": "9 or so" },
      comparison: {
        response: "Bend (in)",
        drivers: [],
        confidence: 0.95,
        among: "Table",
        margin: "1/16",
        reference: "North",
        slope: "Speed (mph)",
        scatter: { as: "cluster", heading: "Session" },
      },
      order: "Trial",
      twice: { "Humidity (%)": "Hygrometer (%)" },
      calibration: { columns: { bend: "Bend (in)", speed: "Speed (mph)" }, signed: true },
    };
    expect(parseSettings(settingsText(settings))).toEqual(settings);
  });
  it("of the calibration keep only columns that are text", () => {
    expect(
      parseSettings('{"form":1,"calibration":{"columns":{"bend":3,"speed":"v","luck":"x"},"signed":"yes"}}')
        .calibration,
    ).toEqual({ columns: { speed: "v" } });
  });
  it("of the kinds of question keep only what is whole", () => {
    expect(
      parseSettings(
        '{"form":1,"ask":"luck","made":{"response":3},"madeAt":{"Speed":"9","Spin":4},"comparison":{"response":"Bend","drivers":[]}}',
      ),
    ).toEqual({ units: {}, madeAt: { Speed: "9" } });
  });
  it.each([
    null,
    "",
    "no json",
    "[]",
    "3",
    '{"form":99,"sheet":"x"}',
    '{"form":1,"choice":{"response":3},"units":[1],"headingRow":"x"}',
  ])("are guessed again when they are %j", (text) => {
    expect(parseSettings(text)).toEqual(NO_SETTINGS);
  });
});

describe("what the panel shows", () => {
  it("says what to do on an empty sheet, a sheet without headings, a table without numbers", () => {
    expect(panelView(sheetOf([]), NO_SETTINGS).problem).toContain('Sheet "Log" is empty');
    expect(
      panelView(
        sheetOf([
          [1, 2],
          [3, 4],
        ]),
        NO_SETTINGS,
      ).problem,
    ).toContain("no headings with rows of trials below them");
    expect(
      panelView(
        sheetOf([
          ["Cloth", "Table"],
          ["new", "A"],
        ]),
        NO_SETTINGS,
      ).problem,
    ).toContain("No column holds numbers");
    expect(panelView(sheetOf(rows), { units: {}, headingRow: 40 }).problem).toContain("Row 41");
  });

  it("invites to type where the log has headings and numbered rows only", () => {
    const view = panelView(sheetOf([["Trial", "Speed (mph)", "Bend (in)"], [1], [2], [3]]), NO_SETTINGS);
    expect(view.problem).toContain("no trials under the headings yet");
    expect(view.log?.columns.map(({ heading }) => heading.name)).toEqual(["Trial", "Speed", "Bend"]);
    // A question that was kept from a fuller log meets the same empty one.
    const kept = panelView(sheetOf([["Trial", "Speed (mph)", "Bend (in)"], [1], [2], [3]]), {
      units: {},
      choice: {
        response: "Bend (in)",
        drivers: [{ heading: "Speed (mph)", as: "number", degree: 1 }],
        joint: [],
        constant: true,
        confidence: 0.95,
      },
    });
    expect(kept.problem).toContain("no trials under the headings yet");
  });

  it("keeps a driver whose column went away, leaves it out of the question, and says so", () => {
    const settings: PanelSettings = {
      units: {},
      choice: {
        response: "Bend (in)",
        drivers: [
          { heading: "Humidity (%)", as: "number", degree: 1 },
          { heading: "Cloth", as: "category", degree: 1 },
        ],
        joint: [["Humidity (%)", "Cloth"]],
        constant: true,
        confidence: 0.95,
      },
    };
    const view = panelView(sheetOf(rows), settings);
    expect(view.missing).toEqual(["Humidity (%)"]);
    expect(view.analysis?.choice.drivers.map(({ heading }) => heading)).toEqual(["Cloth"]);
    expect(view.analysis?.choice.joint).toEqual([]);
  });

  it("one row, all-equal driver: an answer that says what it cannot say", () => {
    const one = panelView(
      sheetOf([
        ["Speed", "Bend"],
        [8, 0.5],
      ]),
      NO_SETTINGS,
    );
    expect(one.analysis?.regression.residual.df).toBe(0);
    const equal = panelView(
      sheetOf([
        ["Speed", "Bend"],
        [8, 0.5],
        [8, 0.6],
        [8, 0.7],
      ]),
      NO_SETTINGS,
    );
    expect(equal.analysis?.regression.unestimated[0].reason).toBe("Speed is the same in every row (8)");
  });

  it("leads with the session-aware fit where a driver never changes within a session, and lets the user turn back", () => {
    const log: CellValue[][] = [["Session", "Humidity (%)", "Bend (in)"]];
    for (let i = 0; i < 48; i++)
      log.push([`W${i % 6}`, 40 + 5 * (i % 6), 0.6 + 0.05 * Math.sin(3 * (i % 6)) - 0.002 * (i % 6) + (i % 5) / 100]);
    const led = panelView(sheetOf(log), NO_SETTINGS);
    expect(toText(led.aware!.sentences[0].text)).toContain("Humidity never changes within one session");
    expect(led.analysis?.choice.scatter).toEqual({ as: "random", heading: "Session" });
    const plain = panelView(sheetOf(log), { units: {}, plainFirst: true });
    expect(plain.analysis?.choice.scatter).toBeUndefined();
    expect(led.analysis!.regression.terms[1].standardError!).toBeGreaterThan(
      2 * plain.analysis!.regression.terms[1].standardError!,
    );
  });

  it("notices what says the order of the shots, takes another column at a word, and asks for none when told", () => {
    const log: CellValue[][] = [["Shot", "Session", "Speed (mph)", "Clock (s)", "Bend (in)", "Made"]];
    for (let i = 0; i < 40; i++)
      log.push([i + 1, `S${Math.floor(i / 10)}`, 5 + (i % 4), 30 * i, 0.5 + 0.01 * (i % 10), i % 3 ? "yes" : "no"]);
    const order = (settings: Partial<PanelSettings>, rows = log) =>
      panelView(sheetOf(rows), { ...NO_SETTINGS, ...settings }).order;
    expect(order({})).toBe("Shot");
    expect(order({ order: "Clock (s)" })).toBe("Clock (s)");
    expect(order({ order: "" })).toBeNull();
    expect(order({ ask: "made" })).toBe("Shot");
    // A column that is gone, or that became the response, says nothing any more.
    expect(order({ order: "Time of day" })).toBe("Shot");
    expect(
      order({
        order: "Clock (s)",
        choice: { response: "Clock (s)", drivers: [], joint: [], constant: true, confidence: 0.95 },
      }),
    ).toBe("Shot");
    expect(
      order(
        {},
        log.map((row) => row.slice(1)),
      ),
    ).toBeNull();
    // In other units the same rows have the same order, and the drift is told in the response's unit.
    const inMillimetres = panelView(sheetOf(log), { units: { "Bend (in)": "mm" } });
    expect(toText(orderAnswer(inMillimetres.analysis!, "Shot").sentences[0].text)).toMatch(
      /^Within a session bend drifts: from one shot to the next by 0\.01\d* mm/,
    );
  });

  it("a unit that the user gives is used", () => {
    const view = panelView(sheetOf(rows), { units: { "Speed (mph)": "km/h" } });
    expect(view.log?.columns[1].heading.unit).toBe("km/h");
  });
});

describe("plots and results", () => {
  const analysis = panelView(sheetOf(rows), NO_SETTINGS).analysis!;

  it("one figure per driver and four of the residuals", () => {
    expect(figures(analysis).map(({ title }) => title)).toEqual([
      "Bend against Cloth",
      "Bend against Speed",
      "Residuals against fitted",
      "Residual quantiles",
      "Rows that pull hardest",
    ]);
    for (const figure of figures(analysis)) expect(figure.make().points.length).toBe(24);
  });

  it("adjusted means of a table that was not asked for, with its rows", () => {
    const tabled = rows.map((row, i) => [...row, i === 0 ? "Table" : `T${i % 2}`]);
    const wide = panelView(sheetOf(tabled), NO_SETTINGS).analysis!;
    const figure = figures(wide)
      .find(({ title }) => title === "Bend by Table")!
      .make();
    expect([figure.levels, figure.means?.length, figure.points.length]).toEqual([["T1", "T0"], 2, 24]);
  });

  it("save as SVG that is well formed whatever the sheet holds", () => {
    for (const figure of figures(analysis).map((choice) => choice.make())) {
      const parsed = new DOMParser().parseFromString(figureSvg(figure), "image/svg+xml");
      expect(parsed.querySelector("parsererror")).toBeNull();
      expect(parsed.querySelector("i")).toBeNull();
      expect(figureSvg(figure)).not.toMatch(/NaN|undefined/);
    }
  });

  it("the results sheet holds the settings, the counts, the coefficients, the version and the date", () => {
    const content = resultsSheet(analysis, "Results", new Date(2026, 1, 3, 10, 30), "9.9.9");
    const text = content.rows.map((row) => row.map(({ value }) => String(value)).join("|")).join("\n");
    expect(text).toContain("Rows used|24");
    expect(text).toContain("Bendbook|9.9.9");
    expect(text).toMatch(
      /Checks of the plain fit to the rows used\|What was found\nHow well does it predict\?\|A shot predicted from all others is off by .* \(root mean square over 24 shots\)/,
    );
    expect(text).toMatch(/\nDo all shots scatter alike\?\|.*\n\|(No sign that c|C)onsistency differs by /);
    expect(text).toContain("Driver|Cloth, as a category");
    expect(text).toContain(`Speed (mph)|${analysis.regression.terms[2].estimate}`);
    const made = content.rows.find(([cell]) => cell?.value === "Made")!;
    expect(made[1]).toEqual({ value: 46056.4375, format: "yyyy-mm-dd hh:mm" });
    for (const chart of content.charts!) expect(content.rows[chart.y.row][chart.y.column].value).toBeTypeOf("number");
  });
});

describe("the other kinds of question", () => {
  const log: CellValue[][] = [["Session", "Table", "Cloth", "Speed (mph)", "Bend (in)", "Made"]];
  for (let i = 0; i < 60; i++)
    log.push([
      `W${i % 6}`,
      ["North", "Bar", "Window"][i % 3],
      i % 2 ? "new" : "worn",
      6 + (i % 7),
      0.4 + 0.1 * (i % 3 === 0 ? 1 : 0) + 0.05 * (i % 7) + ((i * 7) % 11) / 200,
      (i * 5) % 7 < 3 ? "yes" : "no",
    ]);

  it("compare tables, held alike in what usually drives the bend, as first guess", () => {
    const view = panelView(sheetOf(log), { units: {}, ask: "compare" });
    expect(view.compare).toMatchObject({ response: "Bend (in)", among: "Table", margin: "" });
    expect(view.compare?.drivers.map(({ heading }) => heading)).toEqual(["Cloth", "Speed (mph)"]);
    expect(view.comparison?.comparison.pairs.map(({ a, b }) => `${a}-${b}`)).toEqual([
      "North-Bar",
      "North-Window",
      "Bar-Window",
    ]);
    expect(view.analysis).toBe(view.comparison?.analysis);
    // What explains the number is still at hand for the other views.
    expect(view.choice?.response).toBe("Bend (in)");
  });

  it("read a margin like a ruler, and keep a wrong one with its reason while differences are still told", () => {
    const asked = (margin: string) =>
      panelView(sheetOf(log), {
        units: {},
        ask: "compare",
        comparison: { response: "Bend (in)", drivers: [], confidence: 0.95, among: "Table", margin },
      });
    expect(asked("1/16").comparison?.margin).toBe(0.0625);
    for (const wrong of ["wide", "-1", "0"]) {
      const view = asked(wrong);
      expect(view.problem).toMatch(
        /^The margin is "?(wide|-1|0)"?: give the largest difference that counts as none, above 0, such as 1\/16\./,
      );
      expect(view.compare?.margin).toBe(wrong);
      expect(view.comparison?.comparison.pairs[0].equivalent).toBeNull();
    }
  });

  it("say what is wrong with a reference that no row has, or a column that went away", () => {
    const base = { response: "Bend (in)", drivers: [], confidence: 0.95, margin: "" };
    expect(
      panelView(sheetOf(log), {
        units: {},
        ask: "compare",
        comparison: { ...base, among: "Table", reference: "South" },
      }).problem,
    ).toContain('No row used has the level "South" of "Table"; there are: "North", "Bar" and "Window".');
    expect(
      panelView(sheetOf(log), { units: {}, ask: "compare", comparison: { ...base, among: "Hall" } }).problem,
    ).toContain('The column "Hall" is not on this sheet now. Choose what to compare');
    expect(
      panelView(
        sheetOf([
          ["Speed (mph)", "Bend (in)"],
          [6, 0.5],
          [7, 0.6],
        ]),
        { units: {}, ask: "compare" },
      ).problem,
    ).toContain("There is nothing to compare");
  });

  it("ask what makes a shot, or say what column is missing for it", () => {
    const view = panelView(sheetOf(log), { units: {}, ask: "made" });
    expect(view.makes).toMatchObject({ response: "Made" });
    expect(view.made?.logistic.rows).toBe(60);
    expect(view.analysis).toBeUndefined();
    expect(panelView(sheetOf(rows), { units: {}, ask: "made" }).problem).toContain(
      "No column says how a shot ended. Head one Outcome",
    );
    expect(panelView(sheetOf([["Bend (in)", "Outcome"], [0.5], [0.6]]), { units: {}, ask: "made" }).problem).toContain(
      "Nothing stands under Outcome yet: write made, cleared, hit obstacle or missed for each shot",
    );
    expect(
      panelView(sheetOf(log), {
        units: {},
        ask: "made",
        made: { response: "Sunk", drivers: [], joint: [], constant: true, confidence: 0.95 },
      }).problem,
    ).toContain('The column "Sunk" is not on this sheet now');
  });

  it("find a column that says made or missed whatever its heading", () => {
    const headed = log.map((row, index) =>
      index === 0 ? row.map((cell) => (cell === "Made" ? "In the pocket?" : cell)) : row,
    );
    expect(panelView(sheetOf(headed), { units: {}, ask: "made" }).makes?.response).toBe("In the pocket?");
  });

  it("ask by cell what a word means that can mean two outcomes, and count no such row", () => {
    const outcomes = ["made", "hit", "cleared", "Hit", "missed", "touched"];
    const view = panelView(
      sheetOf([
        ["Speed (mph)", "Bend (in)", "Outcome"],
        ...Array.from({ length: 24 }, (_, i): CellValue[] => [6 + (i % 5), 0.5 + i / 50, outcomes[i % 6]]),
      ]),
      { units: {}, ask: "made" },
    );
    expect([view.made?.logistic.rows, view.made?.logistic.made]).toEqual([12, 4]);
    expect(view.check?.leftOut.slice(0, 3).map(({ address, reason }) => `${address}: ${toText(reason)}`)).toEqual([
      'C3: Outcome is "hit", which can mean made or hit obstacle: write which',
      'C5: Outcome is "Hit", which can mean made or hit obstacle: write which',
      'C7: Outcome is "touched", which can mean hit obstacle or missed: write which',
    ]);
    expect(madeSentences(view.made!).map(({ text }) => toText(text))).toContainEqual(
      expect.stringMatching(
        /^Which is meant by "hit" in 8 cells, C3 the first and C23 the last: made or hit obstacle\?/,
      ),
    );
  });

  it("answer at settings that are typed, name what cannot be used, and say when no shot was so far out", () => {
    const { made } = panelView(sheetOf(log), { units: {}, ask: "made" });
    expect(toText(rateAt(made!, {}).sentence!)).toMatch(
      /^At every cloth with equal weight and speed 8\.\d+ mph the rate of made shots is \d.* %, 95 % interval .* \(of the rate, not of a single shot\)\.$/,
    );
    expect(toText(rateAt(made!, { Cloth: "new", "Speed (mph)": "20" }).sentence!)).toContain(
      "No shot was taken so far out in speed",
    );
    const wrong = rateAt(made!, { Cloth: "felt", "Speed (mph)": "fast" });
    expect(wrong.sentence).toBeUndefined();
    expect(wrong.read.map((one) => ("problem" in one ? one.problem : "")).map((one) => toText(one))).toEqual([
      'Cloth is "felt": choose one of "worn" and "new".',
      'Speed is "fast": give a number in mph; the rows have 6 to 12.',
    ]);
  });

  const view = panelView(sheetOf(log), {
    units: {},
    ask: "compare",
    comparison: {
      response: "Bend (in)",
      drivers: [],
      confidence: 0.95,
      among: "Table",
      margin: "1/16",
      slope: "Speed (mph)",
    },
  });
  const cells = (content: { rows: readonly (readonly { value: unknown }[])[] }) =>
    content.rows.map((row) => row.map(({ value }) => value).join("|")).join("\n");

  it("draw pairs as intervals about no difference, with the margin", () => {
    const figure = pairsFigure(view.comparison!).make();
    expect(figure).toMatchObject({ rule: 0, margin: 0.0625 });
    expect(figure.intervals?.map(({ name, low }) => [name, low])).toEqual(
      view.comparison!.comparison.pairs.map(({ a, b, low }) => [`${a} less ${b}`, low]),
    );
    const svg = figureSvg(figure);
    expect(svg.match(/data-mark="interval"/g)).toHaveLength(3);
    expect(svg).toContain('data-mark="margin"');
    expect(toText(figure.caption)).toContain("95 % intervals that hold for all 3 pairs at once");
  });

  it("draw a line with two bands that the caption tells apart", () => {
    const drawn = figures(panelView(sheetOf(log), NO_SETTINGS).analysis!)
      .find(({ title }) => title === "Bend against Speed")!
      .make();
    expect(drawn.line!.widerLow!.every((low, i) => low < drawn.line!.low![i])).toBe(true);
    expect(toText(drawn.caption)).toContain(
      "its 95 % interval at each place by itself; long dashes: the 95 % band that holds for the whole line at once (after Working and Hotelling, 1929",
    );
    expect(figureSvg(drawn)).toContain('stroke-dasharray="9 5"');
  });

  it("draw rates with shots at made and missed, and say that they are moved", () => {
    const { made } = panelView(sheetOf(log), { units: {}, ask: "made" });
    for (const choice of madeFigures(made!)) {
      const figure = choice.make();
      expect(figure.points).toHaveLength(60);
      expect(
        figure.points.every(({ y, row }) =>
          made!.logistic.question.made[row] === 1 ? y >= 0.95 && y <= 1 : y >= 0 && y <= 0.05,
        ),
      ).toBe(true);
      expect(toText(figure.caption)).toContain("each moved a little toward the middle");
      expect(figureSvg(figure)).not.toContain("NaN");
    }
  });

  it("are kept as a sheet with the pairs, the margin and the effects by level", () => {
    const text = cells(resultsSheet(view.analysis!, "Results", new Date(2026, 1, 3), "9.9.9", view.comparison));
    for (const part of [
      "Compared|Table",
      "With|each other, all pairs",
      "Counts as the same within|0.0625",
      "North less Bar|",
      "Effect of Speed (mph) at|Per unit",
      "Rows used|60",
      "Checks of the plain fit to the rows used|",
    ])
      expect(text).toContain(part);
  });

  it("are kept as a sheet with the rates and the setting that was asked", () => {
    const { made } = panelView(sheetOf(log), { units: {}, ask: "made" });
    const text = cells(madeSheet(made!, { "Speed (mph)": "9" }, "Results", new Date(2026, 1, 3), "9.9.9"));
    for (const part of [
      "Made or not: what the rows say",
      "speed 9 mph the rate of made shots is",
      "Method|logistic regression by maximum likelihood; each Session shifted by a random amount",
      "Checks of the fit to the rows used|What was found\nHow well does it predict?|",
      'Cloth "new"|',
      "Shots|60",
    ])
      expect(text).toContain(part);
  });

  it("draw the line of a joint effect at each level, with that level's rows alone", () => {
    const drawn = figures(view.analysis!).filter(({ id }) => id.startsWith("joint-"));
    expect(drawn.map(({ title }) => title)).toEqual(
      ["North", "Bar", "Window"].map((table) => `Bend against Speed, Table "${table}"`),
    );
    const figure = drawn[1].make();
    expect(figure.points.map(({ row }) => row)).toEqual(Array.from({ length: 20 }, (_, i) => 3 * i + 1));
    const slope = view.comparison!.slope!.found.slopes[1].estimate!.value;
    const { x, y } = figure.line!;
    expect((y[40] - y[0]) / (x[40] - x[0])).toBeCloseTo(slope, 10);
    expect(toText(figure.caption)).toContain('the rows used with Table "Bar"');
  });
});

describe("the numbers beside an axis", () => {
  const labels = (values: readonly number[]) => {
    const figure = {
      id: "f",
      title: "F",
      caption: "",
      xLabel: "",
      yLabel: "",
      points: values.map((y, row) => ({ x: row, y, row })),
    };
    return [...figureSvg(figure).matchAll(/<text[^>]*text-anchor="end"[^>]*>([^<]+)<\/text>/g)].map(([, text]) => text);
  };

  it("show no sixteenth digit of values that differ by rounding only", () => {
    const shown = labels([100.4965625, 100.49656249999999, 100.49656250000001]);
    expect(shown.length).toBeGreaterThan(2);
    for (const text of shown) expect(text).toMatch(/^\d{2,3}$/);
    // What an exact fit leaves over.
    for (const text of labels([1.1e-16, -2.2e-16, 0])) expect(text).toMatch(/^(0|−?\d(\.\d)?e−16)$/);
    expect(labels([-0.4, 0.4])).toEqual(["−0.4", "−0.2", "0", "0.2", "0.4"]);
  });

  it("are short, in order and say where their tick stands, whatever the values", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e9, max: 1e9, noNaN: true }),
        fc.double({ min: -8, max: 9, noNaN: true }),
        (from, power) => {
          const span = 10 ** power;
          fc.pre(span > 1e-7 * Math.abs(from));
          const shown = labels([from, from + span]);
          const numbers = shown.map((text) => Number(text.replaceAll("−", "-")));
          expect(numbers.every(Number.isFinite), shown.join(" ")).toBe(true);
          expect(new Set(shown).size).toBe(shown.length);
          for (const text of shown) expect(text.length, shown.join(" ")).toBeLessThanOrEqual(14);
          // Ticks stand evenly, so what they say must be evenly apart, to the rounding of the numbers themselves.
          const steps = numbers.slice(1).map((value, i) => value - numbers[i]);
          for (const step of steps)
            expect(Math.abs(step - steps[0])).toBeLessThanOrEqual(
              1e-9 * Math.max(...numbers.map(Math.abs)) + 1e-9 * Math.abs(steps[0]),
            );
        },
      ),
      { numRuns: 200, seed: 2 },
    );
  });
});

describe("the envelope of the residuals", () => {
  it("is spoken of where it is drawn, and nowhere else", () => {
    const { analysis } = panelView(sheetOf(rows), NO_SETTINGS);
    const choice = figures(analysis!).find(({ id }) => id === "quantiles")!;
    const drawn = choice.makeWith!(completed(residualEnvelope({ ...choice.simulated!, draws: 199 })));
    expect([
      drawn.envelope !== undefined,
      /envelope/.test(toText(drawn.caption)),
      figureSvg(drawn).includes("stroke-dasharray"),
    ]).toEqual([true, true, true]);
    for (const plain of [choice.make(), choice.makeWith!("not drawn")])
      expect([plain.envelope, /envelope/.test(toText(plain.caption)), figureSvg(plain).includes("envelope")]).toEqual([
        undefined,
        false,
        false,
      ]);
  });
});

describe("what is said once", () => {
  it("names a table that is named like its sheet once", () =>
    expect([
      logName({ sheet: "Trials", title: "Trials" }),
      logName({ sheet: "Log", title: "headings in row 3" }),
    ]).toEqual(["Trials", "Log: headings in row 3"]));

  it("offers round numbers in every field of a first budget", () => {
    const lengths = Object.entries(FIRST_MEASURE).filter(([, value]) => typeof value === "number");
    for (const [name, value] of lengths) {
      const shown = ["confidence", "sure", "seed"].includes(name)
        ? String(value)
        : plainText(
            value as number,
            unitOf(name === "cameraHeight" || name === "cameraOffset" ? "length" : "small", "us"),
          );
      // A fraction of a ruler down to 1/64 has six decimals at most; 59.0551 is none.
      expect(
        (Number(shown) * 64) % 1 === 0 || Number(shown) * 1000 === Math.round(Number(shown) * 1000),
        `${name} ${shown}`,
      ).toBe(true);
    }
  });

  it("takes a failure back once the next attempt works", async () => {
    const said: (string | undefined)[] = [];
    const attempts = [Promise.reject(new Error("the sheet was deleted")), Promise.resolve()];
    const port = { select: () => attempts.shift()! } as unknown as Port;
    const area = { row: 0, column: 0, rows: 1, columns: 1 };
    for (let i = 0; i < 2; i++) {
      selectCells(port, "Log", area, (text) => said.push(text));
      await new Promise((resolve) => setTimeout(resolve));
    }
    expect(said).toEqual(["the sheet was deleted", undefined]);
  });
});
