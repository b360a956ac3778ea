/**
 * npm run mutants: puts small faults into sources, one at a time, and runs the tests that reach them. A fault that no
 * test notices is a gap in the tests, or no fault. Writes docs/mutants.md.
 *
 * A seeded sample of each room is tried; "npm run mutants -- survivors" tries again what lived, once tests were added.
 * Stryker does this for whole projects: its version of today asks for a newer Node than this project does, and it tries
 * every fault, some ten thousand here at several seconds each.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { drawer, shuffled } from "../src/statistics/numeric/drawer";
import { root } from "./install.mjs";
import { mutantsOf, mutated, type Mutant } from "./mutants/mutate";
import { NAMED } from "./mutants/named";
import { sourcesIn, testsBySource } from "./mutants/related";
import { report, type Outcome } from "./mutants/report";
import { Runner } from "./mutants/runner";

const ROOMS = ["src/bank", "src/statistics", "src/experiment/log", "src/workbook/file"];
const SEED = 2026;
/** Faults of each room; a smaller sample, MUTANTS=12, is the beginning of the whole one. */
const SAMPLE = Number(process.env["MUTANTS"] ?? 60);
/** Tests are taken the nearest first, until they would take this long, in seconds. */
const BUDGET = 60;
/** A test may take this many times as long as without a fault, and this long besides, in seconds. */
const PATIENCE = { times: 5, seconds: 20 };

const folder = join(root, ".cache", "mutants");
mkdirSync(folder, { recursive: true });

function kept<T>(name: string): Record<string, T> {
  const path = join(folder, name);
  return existsSync(path) ? (JSON.parse(readFileSync(path, "utf8")) as Record<string, T>) : {};
}
function keep(name: string, what: object): void {
  writeFileSync(join(folder, name), JSON.stringify(what, null, 1));
}

const textOf = (file: string) => readFileSync(join(root, file), "utf8");
const runner = new Runner();

const all = ROOMS.map((room) => sourcesIn(root, room).flatMap((file) => mutantsOf(file, textOf(file))));
const drawn = all.map((mutants) => shuffled(mutants, drawer(SEED)).slice(0, SAMPLE));
/** The rooms by turns, so that what is done after a while says something of each. */
const byTurns = Array.from({ length: SAMPLE }, (_, i) => drawn.flatMap((mutants) => mutants[i] ?? [])).flat();
const named = NAMED.map((one) => one.mutant(textOf));
const asked: readonly Mutant[] = [...named, ...byTurns];

const tests = testsBySource(root);
const baseline = kept<{ readonly passed: boolean; readonly seconds: number }>("baseline.json");
const outcomes = kept<Outcome>("outcomes.json");
const keyOf = ({ file, line, column, from, to }: Mutant) => `${file}:${line}:${column} ${from} → ${to}`;

/** How long a test takes without a fault, and whether it passes at all; found out when first asked. */
async function withoutFault(test: string, anew = false) {
  const known = anew ? undefined : baseline[test];
  if (known) return known;
  const found = await runner.run({ test }, 3 * BUDGET);
  baseline[test] = found;
  keep("baseline.json", baseline);
  return found;
}

/**
 * Runs a test with the fault. One that takes too long is tried again where it now takes longer without the fault, too.
 */
async function withFault(test: string, source: { path: string; text: string }) {
  const limit = async (anew: boolean) => PATIENCE.times * (await withoutFault(test, anew)).seconds + PATIENCE.seconds;
  const first = await limit(false);
  const ran = await runner.run({ test, source }, first);
  if (!ran.late) return ran;
  const now = await limit(true);
  return now > 1.5 * first ? runner.run({ test, source }, now) : ran;
}

/** The tests that reach a file, the nearest first and among those the quickest. */
function testsFor(file: string): string[] {
  const known = (test: string) => baseline[test]?.seconds ?? 0;
  return [...(tests.get(file) ?? [])]
    .sort(([one, near], [other, far]) => near - far || known(one) - known(other))
    .map(([test]) => test);
}

async function tried(mutant: Mutant): Promise<Outcome> {
  const source = textOf(mutant.file);
  const text = mutated(source, mutant);
  const path = join(root, mutant.file);
  const words = source.split("\n")[mutant.line - 1]?.trim() ?? "";
  let ran = 0;
  let sum = 0;
  for (const test of testsFor(mutant.file)) {
    const { passed: usable, seconds } = await withoutFault(test);
    if (!usable || sum + seconds > BUDGET) continue;
    sum += seconds;
    ran++;
    const { passed, failure } = await withFault(test, { path, text });
    if (!passed) return { mutant, words, killed: true, by: `${test}: ${failure}`, ran };
  }
  return { mutant, words, killed: false, ran };
}

function write(): void {
  writeFileSync(
    join(root, "docs", "mutants.md"),
    report({
      seed: SEED,
      sample: SAMPLE,
      budget: BUDGET,
      rooms: ROOMS.map((room, i) => ({
        room,
        faults: all[i]!.length,
        outcomes: drawn[i]!.flatMap((mutant) => outcomes[keyOf(mutant)] ?? []),
      })),
      named: NAMED.map(({ what }, i) => ({ what, outcome: outcomes[keyOf(named[i]!)] })),
    }),
  );
}

const again = process.argv.includes("survivors");
for (const [i, mutant] of asked.entries()) {
  const before = outcomes[keyOf(mutant)];
  if (before && (before.killed || !again)) continue;
  const outcome = await tried(mutant);
  outcomes[keyOf(mutant)] = outcome;
  keep("outcomes.json", outcomes);
  process.stdout.write(`${i + 1} of ${asked.length} ${outcome.killed ? "killed" : "LIVES "} ${keyOf(mutant)}\n`);
}
runner.end();
write();
