/**
 * npm run bench [-- NAME…]: measures, as ratios against a named reference of the same run, and writes docs/bench.md.
 * Without names everything is measured; --list names what there is.
 */
import { gatheringBench } from "./bench/gathering";
import { commandLineBench } from "./bench/commandLine";
import { bigLogPageBench } from "./bench/bigLogPage";
import { changedQuestionBench } from "./bench/changedQuestion";
import { largeFitBench } from "./bench/largeFit";
import type { Measurement } from "./bench/measure";
import { openingBench } from "./bench/opening";
import { paneBench } from "./bench/pane";
import { predictBench } from "./bench/predict";
import { recalculationBench } from "./bench/recalculation";
import { regressionBench } from "./bench/regression";
import { goalWords, isMet, keep, shown } from "./bench/results";
import { sliderBench } from "./bench/slider";
import { workerBootstrapBench } from "./bench/workerBootstrap";

/** In the order of the page. A benchmark of a view or a command gets a line of its own here. */
const BENCHES: Readonly<Record<string, () => Promise<readonly Measurement[]>>> = {
  regression: regressionBench,
  largeFit: largeFitBench,
  workerBootstrap: workerBootstrapBench,
  changedQuestion: changedQuestionBench,
  opening: openingBench,
  bigLogPage: bigLogPageBench,
  pane: paneBench,
  recalculation: recalculationBench,
  predict: predictBench,
  slider: sliderBench,
  gathering: gatheringBench,
  commandLine: commandLineBench,
};

function line(one: Measurement): string {
  const { name, ours, reference, referenceTime, unit } = one;
  const ratio = Number((ours / referenceTime).toPrecision(3));
  return `${name}\n  ${shown(ours, unit)} against ${shown(referenceTime, unit)} (${reference}): ratio ${ratio}; wanted ${goalWords(one)}: ${isMet(one) ? "met" : "missed"}\n`;
}

const names = Object.keys(BENCHES);
const asked = process.argv.slice(2);
const unknown = asked.filter((name) => name !== "--list" && !names.includes(name));
if (asked.includes("--list")) process.stdout.write(`${names.join("\n")}\n`);
else if (unknown.length > 0) {
  process.stderr.write(`There is no benchmark ${unknown.join(", ")}; there are ${names.join(", ")}.\n`);
  process.exitCode = 1;
} else {
  for (const [name, bench] of Object.entries(BENCHES)) {
    if (asked.length > 0 && !asked.includes(name)) continue;
    const measured = await bench();
    keep(name, measured, names);
    for (const one of measured) process.stdout.write(line(one));
  }
  process.stdout.write("docs/bench.md is up to date.\n");
}
