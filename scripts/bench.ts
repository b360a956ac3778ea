/** npm run bench: times as ratios against a named reference of the same run. */
import { gatheringBench } from "./bench/gathering";
import { changedQuestionBench } from "./bench/changedQuestion";
import { largeFitBench } from "./bench/largeFit";
import type { Measurement } from "./bench/measure";
import { openingBench } from "./bench/opening";
import { paneBench } from "./bench/pane";
import { predictBench } from "./bench/predict";
import { recalculationBench } from "./bench/recalculation";
import { regressionBench } from "./bench/regression";
import { sliderBench } from "./bench/slider";
import { workerBootstrapBench } from "./bench/workerBootstrap";

function line({ name, ours, reference, referenceTime, goal, unit = "ms" }: Measurement): string {
  const ms = (time: number) => (time < 10 ? time.toFixed(2) : time.toFixed(0));
  return `${name}\n  ${ms(ours)} ${unit} against ${ms(referenceTime)} ${unit} (${reference}): ratio ${Number((ours / referenceTime).toPrecision(3))}; wanted ${goal}\n`;
}

for (const bench of [
  regressionBench,
  largeFitBench,
  workerBootstrapBench,
  changedQuestionBench,
  openingBench,
  paneBench,
  recalculationBench,
  predictBench,
  sliderBench,
  gatheringBench,
]) {
  for (const measurement of await bench()) process.stdout.write(line(measurement));
}
