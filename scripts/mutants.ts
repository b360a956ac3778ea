/**
 * npm run mutants: puts small faults into sources, one at a time, and runs the tests that come to their places. A fault
 * that no test notices is a gap in the tests, or no fault. Writes docs/mutants.md.
 *
 * Seeded samples of each room are tried. What each fault met when it was first tried is written down for good, in
 * scripts/mutants/firstTry.json: the share that counts is the one of tests that were not written for the sample.
 * "npm run mutants -- survivors" tries again what lived and is not explained, once tests were added; "-- anew" tries
 * everything again.
 *
 * Stryker does this for whole projects: its version of today asks for a newer Node than this project does, and it tries
 * every fault, some ten thousand here at several seconds each.
 */
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "./install.mjs";
import { draw, keyed, type Drawn } from "./mutants/draw";
import { explained } from "./mutants/explained";
import { marked, mutantsOf, mutated } from "./mutants/mutate";
import { NAMED } from "./mutants/named";
import { quickTests, sourcesIn, type Test } from "./mutants/related";
import { report, type Outcome } from "./mutants/report";
import { Runner } from "./mutants/runner";

const ROOMS = ["src/bank", "src/statistics", "src/experiment/log", "src/workbook/file"];
/**
 * Each seed draws a sample of its own, so many faults of each room; the later ones were drawn after the tests were
 * mended for those before.
 */
const SAMPLES = [
  { seed: 2027, size: 30 },
  { seed: 2028, size: 15 },
];
/** Tests are taken the nearest first, until they would take this long, in seconds of processor time. */
const BUDGET = 20;
/** A test may take this many times as long as without a fault, and this long besides, in seconds of processor time. */
const PATIENCE = { times: 5, seconds: 20 };

const folder = join(root, ".cache", "mutants");
mkdirSync(folder, { recursive: true });
const FIRST_TRY = join(root, "scripts", "mutants", "firstTry.json");

function kept<T>(path: string): Record<string, T> {
  return existsSync(path) ? (JSON.parse(readFileSync(path, "utf8")) as Record<string, T>) : {};
}
const keep = (path: string, what: object) => writeFileSync(path, `${JSON.stringify(what, null, 2)}\n`);
const OUTCOMES = join(folder, "outcomes.json");
const COME_TO = join(folder, "comeTo.json");

const textOf = (file: string) => readFileSync(join(root, file), "utf8");
const runner = new Runner();

const all = ROOMS.map((room) => sourcesIn(root, room).flatMap((file) => mutantsOf(file, textOf(file))));
const samples = SAMPLES.map(({ seed, size }) => ({
  seed,
  size,
  rooms: all.map((mutants) => draw(keyed(mutants, textOf), seed, size)),
}));
/** The rooms by turns, so that what is done after a while says something of each. */
const byTurns = samples.flatMap(({ rooms, size }) =>
  Array.from({ length: size }, (_, i) => rooms.flatMap((drawn) => drawn[i] ?? [])).flat(),
);
const named = keyed(
  NAMED.map((one) => one.mutant(textOf)),
  textOf,
);
const asked = [...new Map([...named, ...byTurns].map((drawn) => [drawn.key, drawn])).values()];

/** What a test does without a fault, as long as its own text is the same. */
interface WithoutFault {
  readonly digest: string;
  readonly passed: boolean;
  /** Of processor time. */
  readonly seconds: number;
  /** Which faults were looked for, and to which of them it came. */
  readonly marked: readonly string[];
  readonly reached: readonly string[];
}

const tests = quickTests(root);
const comeTo = kept<WithoutFault>(COME_TO);
const isKnown = ({ file }: Test) => comeTo[file]?.digest === digestOf(file);
/** Of a fault that was not looked for, as it came into the sample later, the imports tell. */
const comesTo = ({ file, sources }: Test, { key, mutant }: Drawn) =>
  comeTo[file]!.marked.includes(key) ? comeTo[file]!.reached.includes(key) : sources.has(mutant.file);
const digestOf = (file: string) => createHash("sha256").update(textOf(file)).digest("hex").slice(0, 16);

/** Each test once, with all places marked that it may come to. */
async function findOut(test: Test): Promise<void> {
  const reached = join(folder, "reached.txt");
  writeFileSync(reached, "");
  const sources = [...new Set(asked.map(({ mutant }) => mutant.file))].map((file) => {
    const here = asked.flatMap(({ mutant }, i) => (mutant.file === file ? [[i, mutant] as const] : []));
    return { path: join(root, file), text: marked(textOf(file), new Map(here)) };
  });
  const ran = await runner.run({ test: test.file, sources, bundle: test.callsBundle, reached }, 30 * BUDGET);
  const numbers = new Set(readFileSync(reached, "utf8").split("\n").filter(Boolean).map(Number));
  comeTo[test.file] = {
    digest: digestOf(test.file),
    passed: ran.passed,
    seconds: ran.seconds,
    marked: asked.map(({ key }) => key),
    reached: asked.flatMap(({ key }, i) => (numbers.has(i) ? [key] : [])),
  };
  keep(COME_TO, comeTo);
  const how = ran.passed ? `${ran.seconds.toFixed(1)} s` : `is of no use: ${ran.failure}`;
  process.stdout.write(`${test.file} ${how}, comes to ${numbers.size} of ${asked.length}\n`);
}

/** The tests that come to a fault, the nearest first and among those the quickest; within the time for a fault. */
function testsFor(drawn: Drawn): Test[] {
  const { mutant } = drawn;
  const far = ({ sources }: Test) => sources.get(mutant.file) ?? Infinity;
  const seconds = ({ file }: Test) => comeTo[file]!.seconds;
  let sum = 0;
  return tests
    .filter((test) => comeTo[test.file]!.passed && comesTo(test, drawn))
    .sort((one, other) => far(one) - far(other) || seconds(one) - seconds(other))
    .filter((test) => {
      const fits = sum + seconds(test) <= BUDGET;
      if (fits) sum += seconds(test);
      return fits;
    });
}

async function tried(drawn: Drawn): Promise<Outcome> {
  const { mutant } = drawn;
  const sources = [{ path: join(root, mutant.file), text: mutated(textOf(mutant.file), mutant) }];
  const there = testsFor(drawn);
  for (const [i, { file: test, callsBundle: bundle }] of there.entries()) {
    const limit = PATIENCE.times * comeTo[test]!.seconds + PATIENCE.seconds;
    const { passed, failure } = await runner.run({ test, sources, bundle }, limit);
    if (!passed) return { killed: true, by: `${test}: ${failure}`, ran: i + 1 };
  }
  return { killed: false, ran: there.length };
}

if (process.argv.includes("anew")) rmSync(OUTCOMES, { force: true });
const outcomes = kept<Outcome>(OUTCOMES);
const firstTry = kept<Record<string, "noticed" | "lived">>(FIRST_TRY);

/**
 * What is written down for good: what a fault met when it was first tried. Those that take the place of faults whose
 * line is there no more come after the tests were mended, and do not count.
 */
function writeFirstTry({ key, mutant: { file } }: Drawn, { killed }: Outcome): void {
  for (const { seed, size, rooms } of samples) {
    const room = ROOMS.find((folder) => file.startsWith(`${folder}/`));
    if (!rooms.some((drawn) => drawn.some((one) => one.key === key))) continue;
    const ofSeed = (firstTry[seed] ??= {});
    const known = Object.keys(ofSeed).filter((one) => one.startsWith(`${room}/`));
    if (known.length < size) ofSeed[key] ??= killed ? "noticed" : "lived";
  }
  keep(FIRST_TRY, firstTry);
}

const again = process.argv.includes("survivors");
for (const test of tests) if (!isKnown(test)) await findOut(test);
for (const [i, drawn] of asked.entries()) {
  const { key } = drawn;
  const before = outcomes[key];
  if (before && (before.killed || !again || explained(drawn))) continue;
  const outcome = await tried(drawn);
  outcomes[key] = outcome;
  keep(OUTCOMES, outcomes);
  writeFirstTry(drawn, outcome);
  process.stdout.write(`${i + 1} of ${asked.length} ${outcome.killed ? "killed" : "LIVES "} ${key}\n`);
}
runner.end();

writeFileSync(
  join(root, "docs", "mutants.md"),
  report({
    budget: BUDGET,
    samples: samples.map(({ seed, size, rooms }) => ({
      seed,
      size,
      firstTry: firstTry[seed] ?? {},
      rooms: ROOMS.map((room, i) => ({ room, faults: all[i]!.length, drawn: rooms[i]! })),
    })),
    outcomes,
    named: named.map(({ key }, i) => ({ what: NAMED[i]!.what, outcome: outcomes[key] })),
  }),
);
