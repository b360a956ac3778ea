/**
 * npm run bench [-- NAME…]: measures, as ratios against a named reference of the same run, and writes docs/bench.md.
 * Without names everything is measured; --list names what there is; --quick tries them on a tenth of their rows.
 */
import { gatheringBench } from "./bench/gathering";
import { commandLineBench } from "./bench/commandLine";
import { bigLogPageBench } from "./bench/bigLogPage";
import { changedQuestionBench } from "./bench/changedQuestion";
import { largeFitBench } from "./bench/largeFit";
import { QUICK, type Measurement } from "./bench/measure";
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

/** Runs one; one that fails is told, and the others go on. */
async function measured(name: string, bench: () => Promise<readonly Measurement[]>, names: readonly string[]) {
  const began = performance.now();
  try {
    const found = await bench();
    if (!QUICK) keep(name, found, names);
    for (const one of found) process.stdout.write(line(one));
  } catch (problem) {
    process.exitCode = 1;
    process.stderr.write(
      `${name} failed: ${problem instanceof Error ? (problem.stack ?? problem.message) : problem}\n`,
    );
  }
  process.stdout.write(`${name}: ${Math.round((performance.now() - began) / 1000)} s\n`);
}

const names = Object.keys(BENCHES);
const asked = process.argv.slice(2).filter((name) => name !== "--quick");
const unknown = asked.filter((name) => name !== "--list" && !names.includes(name));
if (asked.includes("--list")) process.stdout.write(`${names.join("\n")}\n`);
else if (unknown.length > 0) {
  process.stderr.write(`There is no benchmark ${unknown.join(", ")}; there are ${names.join(", ")}.\n`);
  process.exitCode = 1;
} else {
  for (const [name, bench] of Object.entries(BENCHES))
    if (asked.length === 0 || asked.includes(name)) await measured(name, bench, names);
  process.stdout.write(
    QUICK ? "A tenth of the rows says nothing of the goals: nothing is kept.\n" : "docs/bench.md is up to date.\n",
  );
}
