import { describe, expect, it } from "vitest";
import { parseSettings, settingsText, NO_SETTINGS, type PanelSettings } from "../../src/panel/settings";
import { panelView } from "../../src/panel/view";
import { figures } from "../../src/panel/plots/figures";
import { figureSvg } from "../../src/panel/plots/savePicture";
import { resultsSheet } from "../../src/experiment/resultsSheet";
import type { CellValue } from "../../src/workbook/book";
import type { SheetData } from "../../src/workbook/port";

function sheet(rows: CellValue[][]): SheetData {
  const width = Math.max(0, ...rows.map((row) => row.length));
  const values = rows.map((row) => Array.from({ length: width }, (_, c) => row[c] ?? null));
  return { sheet: "Log", firstRow: 0, firstColumn: 0, values, formats: values.map((row) => row.map(() => "General")), hiddenRows: [], merged: [], tables: [] };
}
const rows: CellValue[][] = [["Cloth", "Speed (mph)", "Bend (in)"]];
for (let i = 0; i < 24; i++) rows.push([i % 3 === 0 ? '<i>"new"</i>' : "worn", 6 + (i % 7), 0.4 + 0.05 * (i % 7) + (i % 5) / 50]);

describe("settings kept with the workbook", () => {
  it("come back as they went", () => {
    const settings: PanelSettings = {
      sheet: "Log", table: "Trials", headingRow: 3, units: { "Speed (mph)": "km/h" },
      choice: { response: "Bend (in)", drivers: [{ heading: "Cloth", as: "category", degree: 1 }], joint: [["a", "b"]], constant: true, confidence: 0.9 },
      calibration: { columns: { bend: "Bend (in)", speed: "Speed (mph)" }, signed: true },
    };
    expect(parseSettings(settingsText(settings))).toEqual(settings);
  });
  it("of the calibration keep only columns that are text", () => {
    expect(parseSettings('{"form":1,"calibration":{"columns":{"bend":3,"speed":"v","luck":"x"},"signed":"yes"}}').calibration).toEqual({ columns: { speed: "v" } });
  });
  it.each([null, "", "no json", "[]", "3", '{"form":99,"sheet":"x"}', '{"form":1,"choice":{"response":3},"units":[1],"headingRow":"x"}'])("are guessed again when they are %j", (text) => {
    expect(parseSettings(text)).toEqual(NO_SETTINGS);
  });
});

describe("what the panel shows", () => {
  it("says what to do on an empty sheet, a sheet without headings, a table without numbers", () => {
    expect(panelView(sheet([]), NO_SETTINGS).problem).toContain('Sheet "Log" is empty');
    expect(panelView(sheet([[1, 2], [3, 4]]), NO_SETTINGS).problem).toContain("no headings with rows of trials below them");
    expect(panelView(sheet([["Cloth", "Table"], ["new", "A"]]), NO_SETTINGS).problem).toContain("No column holds numbers");
    expect(panelView(sheet(rows), { units: {}, headingRow: 40 }).problem).toContain("Row 41");
  });

  it("invites to type where the log has headings and numbered rows only", () => {
    const view = panelView(sheet([["Trial", "Speed (mph)", "Bend (in)"], [1], [2], [3]]), NO_SETTINGS);
    expect(view.problem).toContain("no trials under the headings yet");
    expect(view.log?.columns.map(({ heading }) => heading.name)).toEqual(["Trial", "Speed", "Bend"]);
    // A question that was kept from a fuller log meets the same empty one.
    const kept = panelView(sheet([["Trial", "Speed (mph)", "Bend (in)"], [1], [2], [3]]), { units: {}, choice: { response: "Bend (in)", drivers: [{ heading: "Speed (mph)", as: "number", degree: 1 }], joint: [], constant: true, confidence: 0.95 } });
    expect(kept.problem).toContain("no trials under the headings yet");
  });

  it("keeps a driver whose column went away, leaves it out of the question, and says so", () => {
    const settings: PanelSettings = { units: {}, choice: { response: "Bend (in)", drivers: [{ heading: "Humidity (%)", as: "number", degree: 1 }, { heading: "Cloth", as: "category", degree: 1 }], joint: [["Humidity (%)", "Cloth"]], constant: true, confidence: 0.95 } };
    const view = panelView(sheet(rows), settings);
    expect(view.missing).toEqual(["Humidity (%)"]);
    expect(view.analysis?.choice.drivers.map(({ heading }) => heading)).toEqual(["Cloth"]);
    expect(view.analysis?.choice.joint).toEqual([]);
  });

  it("one row, all-equal driver: an answer that says what it cannot say", () => {
    const one = panelView(sheet([["Speed", "Bend"], [8, 0.5]]), NO_SETTINGS);
    expect(one.analysis?.regression.residual.df).toBe(0);
    const equal = panelView(sheet([["Speed", "Bend"], [8, 0.5], [8, 0.6], [8, 0.7]]), NO_SETTINGS);
    expect(equal.analysis?.regression.unestimated[0].reason).toBe("Speed is the same in every row (8)");
  });

  it("leads with the session-aware fit where a driver never changes within a session, and lets the user turn back", () => {
    const log: CellValue[][] = [["Session", "Humidity (%)", "Bend (in)"]];
    for (let i = 0; i < 48; i++) log.push([`W${i % 6}`, 40 + 5 * (i % 6), 0.6 + 0.05 * Math.sin(3 * (i % 6)) - 0.002 * (i % 6) + (i % 5) / 100]);
    const led = panelView(sheet(log), NO_SETTINGS);
    expect(led.aware?.sentences[0].text).toContain("Humidity never changes within one session");
    expect(led.analysis?.choice.scatter).toEqual({ as: "random", heading: "Session" });
    const plain = panelView(sheet(log), { units: {}, plainFirst: true });
    expect(plain.analysis?.choice.scatter).toBeUndefined();
    expect(led.analysis!.regression.terms[1].standardError!).toBeGreaterThan(2 * plain.analysis!.regression.terms[1].standardError!);
  });

  it("a unit that the user gives is used", () => {
    const view = panelView(sheet(rows), { units: { "Speed (mph)": "km/h" } });
    expect(view.log?.columns[1].heading.unit).toBe("km/h");
  });
});

describe("plots and results", () => {
  const analysis = panelView(sheet(rows), NO_SETTINGS).analysis!;

  it("one figure per driver and four of the residuals", () => {
    expect(figures(analysis).map(({ title }) => title)).toEqual(["Bend against Cloth", "Bend against Speed", "Residuals against fitted", "Residual quantiles", "Rows that pull hardest"]);
    for (const figure of figures(analysis)) expect(figure.make().points.length).toBe(24);
  });

  it("adjusted means of a table that was not asked for, with its rows", () => {
    const tabled = rows.map((row, i) => [...row, i === 0 ? "Table" : `T${i % 2}`]);
    const wide = panelView(sheet(tabled), NO_SETTINGS).analysis!;
    const figure = figures(wide).find(({ title }) => title === "Bend by Table")!.make();
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
    expect(text).toContain("Driver|Cloth, as a category");
    expect(text).toContain(`Speed (mph)|${analysis.regression.terms[2].estimate}`);
    const made = content.rows.find(([cell]) => cell?.value === "Made")!;
    expect(made[1]).toEqual({ value: 46056.4375, format: "yyyy-mm-dd hh:mm" });
    for (const chart of content.charts!) expect(content.rows[chart.y.row][chart.y.column].value).toBeTypeOf("number");
  });
});
