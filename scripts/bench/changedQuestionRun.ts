/**
 * A driver more in the panel at 100,000 rows in 2,000 sessions, from the cells to the sentences of the answer: prints
 * the processor times of each of some drivers, and that of the same question from scratch, in ms.
 */
import { answerSentences } from "../../src/experiment/question/answer";
import { asDriver } from "../../src/experiment/question/choice";
import { panelView, type PanelView } from "../../src/panel/frame/view";
import { NO_SETTINGS } from "../../src/panel/frame/settings";
import { termTests } from "../../src/statistics/fit/wholeTerms";
import type { CellValue } from "../../src/workbook/book";
import type { SheetData } from "../../src/workbook/port";
import { leastProcessorTime, processorTime, seededRandom, sized } from "./measure";

const ROWS = sized(100_000);
const SPARE = 5;

function cells(): SheetData {
  const random = seededRandom(5);
  const values: CellValue[][] = [
    [
      "Bend (in)",
      "Cloth",
      "Humidity (%)",
      "Speed (mph)",
      "Spin",
      "Session",
      ...Array.from({ length: SPARE }, (_, j) => `Reading ${j + 1}`),
    ],
  ];
  for (let row = 0; row < ROWS; row++) {
    const [humidity, speed, spin] = [
      Math.round(40 + 20 * random.uniform()),
      Math.round(400 + 600 * random.uniform()) / 100,
      Math.round(20 * random.normal()) / 10,
    ];
    const spare = Array.from({ length: SPARE }, () => Math.round(1000 * random.uniform()) / 10);
    const bend =
      1 +
      0.01 * humidity -
      0.05 * speed +
      0.1 * spin +
      spare.reduce((total, value, j) => total + 0.001 * (j + 1) * value, 0) +
      0.2 * random.normal();
    values.push([
      Math.round(1000 * bend) / 1000,
      row % 3 ? "new" : "worn",
      humidity,
      speed,
      spin,
      `s${Math.floor(row / 50)}`,
      ...spare,
    ]);
  }
  return { sheet: "Log", firstRow: 0, firstColumn: 0, values, formats: [], hiddenRows: [], merged: [], tables: [] };
}

const data = cells();
const answered = (view: PanelView) => {
  if (!view.analysis) throw new Error(view.problem);
  return [answerSentences(view.analysis), termTests(view.analysis.regression)];
};
const first = panelView(data, NO_SETTINGS);
answered(first);
let choice = first.choice!;
const times: number[] = [];
for (let j = 0; j < SPARE; j++) {
  choice = {
    ...choice,
    drivers: [
      ...choice.drivers,
      asDriver(first.log!.columns.find(({ heading }) => heading.text === `Reading ${j + 1}`)!),
    ],
  };
  times.push(processorTime(() => answered(panelView(data, { ...NO_SETTINGS, choice }))));
}
// The same cells in another object: nothing is known of them yet.
const scratch = leastProcessorTime(3, () => answered(panelView({ ...data }, { ...NO_SETTINGS, choice })));
console.log(JSON.stringify({ times, scratch }));
