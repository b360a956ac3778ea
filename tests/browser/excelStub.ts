/**
 * Stands in for Microsoft's hosted script in the task pane's browser test: Office, CustomFunctions and an Excel with a
 * trial log.
 */
import type { BookCell } from "../../src/workbook/book";
import { FakeExcel } from "../workbook/excel/fakeExcel";

type Body = (...given: unknown[]) => unknown;
class HostError {
  constructor(
    readonly code: string,
    readonly message?: string,
  ) {}
}

const HEADINGS = ["Bend (in)", "Cloth", "Humidity (%)", "Speed (mph)", "Spin"];

/**
 * Forty trials: bend falls by 0.01 in per point of humidity and is 0.1 in more on slow cloth; a small rest stands for
 * scatter.
 */
function trials(): (BookCell | undefined)[][] {
  return Array.from({ length: 40 }, (_, i) => {
    const humidity = 35 + ((i * 7) % 31);
    const speed = 6 + (i % 5);
    const slow = i % 2 === 1;
    const bend = 1.2 - 0.01 * humidity + 0.02 * speed + (slow ? 0.1 : 0) + 0.01 * Math.sin(i * 12.9898);
    return [bend, slow ? "Heath" : "Moor", humidity, speed, i % 3].map((value) => ({ value }));
  });
}

const excel = FakeExcel.of({
  sheets: [
    {
      name: "Bo's log",
      rows: [[], HEADINGS.map((value) => ({ value })), ...trials()],
      hiddenRows: [5],
      merged: [],
      tables: [{ name: "Trials", area: { row: 1, column: 0, rows: 41, columns: 5 } }],
      validations: [],
      columnWidths: [],
    },
  ],
  styles: [],
  names: [],
});

const bodies = new Map<string, Body>();
const asked = new URLSearchParams(location.search);
const background = { light: "#ffffff", dark: "#262626" }[asked.get("theme") ?? ""];

Object.assign(window, {
  Office: {
    HostType: { Excel: "Excel" },
    onReady: async () => ({ host: asked.get("host") ?? "Excel", platform: "PC" }),
    context: { officeTheme: background === undefined ? undefined : { bodyBackgroundColor: background } },
  },
  CustomFunctions: { associate: (id: string, body: Body) => bodies.set(id, body), Error: HostError },
  Excel: { run: excel.run },
  stub: {
    excel,
    ids: () => [...bodies.keys()],
    /** Calls a function as Excel does; what it throws is given back as an error. */
    call(id: string, ...given: unknown[]) {
      try {
        return bodies.get(id)!(...given, { functionName: id });
      } catch (problem) {
        return problem instanceof HostError
          ? { code: problem.code, message: problem.message }
          : { unforeseen: String(problem) };
      }
    },
  },
});
