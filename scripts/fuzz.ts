/**
 * npm run fuzz -- --minutes N [--seed S] [--journey NAME]: random workbooks written, opened, edited, saved and reopened
 * for as long as is asked, an hour unless said. The report stands in build/fuzz.md, with the seed of each failure:
 * --seed S --journey NAME --minutes 0 repeats it.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { root } from "./install.mjs";
import { JOURNEYS, travel } from "./fuzz/journeys";

const MOST_TOLD = 50;

interface Tally {
  runs: number;
  readonly failures: { readonly seed: number; readonly why: string }[];
}

function wish(name: string, text: string | undefined, usual: number): number {
  const value = text === undefined ? usual : Number(text);
  if (text?.trim() === "" || !Number.isFinite(value) || value < 0)
    throw new Error(`--${name} is "${text}": give a number from 0.`);
  return value;
}

async function fuzz(): Promise<void> {
  const { values } = parseArgs({
    options: { minutes: { type: "string" }, seed: { type: "string" }, journey: { type: "string" } },
  });
  const minutes = wish("minutes", values.minutes, 60);
  const first = Math.floor(wish("seed", values.seed, Date.now() % 1_000_000_000));
  const names = values.journey === undefined ? Object.keys(JOURNEYS) : [values.journey];
  const tallies = new Map(names.map((name): [string, Tally] => [name, { runs: 0, failures: [] }]));
  process.stdout.write(`Seed ${first}, ${minutes} minutes.\n`);
  const began = Date.now();
  for (let seed = first; ; seed++) {
    for (const [name, tally] of tallies) {
      tally.runs++;
      await travel(name, seed).catch((problem: unknown) => {
        const why = problem instanceof Error ? problem.message : String(problem);
        if (tally.failures.push({ seed, why }) <= MOST_TOLD) process.stdout.write(`${name}, seed ${seed}: ${why}\n`);
      });
    }
    if (Date.now() - began >= minutes * 60_000) break;
  }
  mkdirSync(join(root, "build"), { recursive: true });
  writeFileSync(join(root, "build", "fuzz.md"), report(first, (Date.now() - began) / 60_000, tallies));
  const failed = [...tallies.values()].reduce((sum, { failures }) => sum + failures.length, 0);
  const runs = [...tallies.values()].reduce((sum, tally) => sum + tally.runs, 0);
  process.stdout.write(`${runs} journeys, ${failed} failed. The report is build/fuzz.md.\n`);
  process.exitCode = failed > 0 ? 1 : 0;
}

function report(first: number, minutes: number, tallies: ReadonlyMap<string, Tally>): string {
  const rows = [...tallies].map(([name, { runs, failures }]) => `| ${name} | ${runs} | ${failures.length} |`);
  const told = [...tallies].flatMap(([name, { failures }]) =>
    failures
      .slice(0, MOST_TOLD)
      .map(({ seed, why }) => `- ${name}: ${why}. \`npm run fuzz -- --minutes 0 --seed ${seed} --journey ${name}\``),
  );
  return [
    "# Random workbooks",
    "",
    `${new Date().toISOString().slice(0, 10)}, first seed ${first}, ${minutes.toFixed(1)} minutes, Node ${process.versions.node}. scripts/fuzz/journeys.ts says what each journey is.`,
    "",
    "| journey | runs | failed |",
    "| --- | ---: | ---: |",
    ...rows,
    "",
    ...(told.length > 0 ? ["## Failures", "", ...told, ""] : ["Nothing failed.", ""]),
  ].join("\n");
}

await fuzz().catch((problem: unknown) => {
  process.stderr.write(`${problem instanceof Error ? problem.message : String(problem)}\n`);
  process.exitCode = 1;
});
