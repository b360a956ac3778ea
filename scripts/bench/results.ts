/**
 * What the benchmarks found last, kept in results.json beside this file and shown as docs/bench.md. A run of some
 * benchmarks replaces what they measure and leaves the rest with its own date and machine.
 */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { arch, cpus, platform, totalmem } from "node:os";
import { join } from "node:path";
import { root } from "../install.mjs";
import type { Measurement } from "./measure";

export interface Result extends Measurement {
  /** The benchmark that measures it. */
  readonly bench: string;
  /** Day of the run, as 2026-01-31. */
  readonly date: string;
  readonly machine: string;
}

const KEPT = join(import.meta.dirname, "results.json");
const PAGE = join(root, "docs", "bench.md");

/** Processor, cores, memory and Node, in a few words. */
function machine(): string {
  const cores = cpus();
  const name = (cores[0]?.model ?? "unknown processor").replace(/\s+/g, " ").trim();
  return `${name}, ${cores.length} cores, ${Math.round(totalmem() / 2 ** 30)} GB, ${platform()} ${arch()}, Node ${process.versions.node}`;
}

/** Puts what a benchmark measured into the place of what it measured before. */
export function keep(bench: string, measured: readonly Measurement[], names: readonly string[]): Result[] {
  const before: Result[] = existsSync(KEPT) ? JSON.parse(readFileSync(KEPT, "utf8")) : [];
  const stamp = { bench, date: new Date().toISOString().slice(0, 10), machine: machine() };
  const now = measured.map((one) => ({ ...one, ...stamp }));
  const place = (one: Result) => names.indexOf(one.bench);
  const results = [...before.filter((one) => one.bench !== bench && place(one) >= 0), ...now].sort(
    (a, b) => place(a) - place(b),
  );
  writeFileSync(KEPT, `${JSON.stringify(results, null, 2)}\n`);
  writeFileSync(PAGE, benchPage(results));
  return results;
}

export function isMet({ ours, referenceTime, goal }: Measurement): boolean {
  return (goal.of === "ratio" ? ours / referenceTime : ours) <= goal.atMost;
}

/** The goal in words. @example goalWords({ goal: { atMost: 0.8, of: "ratio" } }) === "ratio at most 0.8" */
export function goalWords({ goal, unit = "ms" }: Pick<Measurement, "goal" | "unit">): string {
  return goal.of === "ratio" ? `ratio at most ${goal.atMost}` : `at most ${shown(goal.atMost, unit)}`;
}

export function shown(value: number, unit = "ms"): string {
  if (unit === "ms" && value >= 1000) return `${(value / 1000).toPrecision(3)} s`;
  return `${value >= 100 ? value.toFixed(0) : Number(value.toPrecision(3))} ${unit}`;
}

/** The page: every measurement in one table, and below it why the missed goals are missed. */
function benchPage(results: readonly Result[]): string {
  const machines = [...new Set(results.map((one) => one.machine))];
  const rows = results.map((one) => {
    const { name, ours, reference, referenceTime, unit } = one;
    const ratio = Number((ours / referenceTime).toPrecision(3));
    return [
      name,
      shown(ours, unit),
      `${reference}: ${shown(referenceTime, unit)}`,
      String(ratio),
      goalWords(one),
      isMet(one) ? "met" : "**missed**",
      machines.length === 1 ? one.date : `${one.date}, ${machines.indexOf(one.machine) + 1}`,
    ];
  });
  const missed = results.filter((one) => !isMet(one));
  const many = machines.length > 1;
  return [
    "# How quick it is",
    "",
    "Made by `npm run bench`; `npm run bench -- NAME…` measures some of it anew. Each line is a ratio against a reference of the same run, because times alone say more of the machine. Times are the best of several runs.",
    "",
    "| what | ours | against | ratio | goal | met | date |",
    "| --- | ---: | --- | ---: | --- | --- | --- |",
    ...rows.map((row) => `| ${row.map((cell) => cell.replace(/\|/g, "\\|")).join(" | ")} |`),
    "",
    `## Missed goals`,
    "",
    ...(missed.length === 0
      ? ["None."]
      : missed.map(
          (one) =>
            `- ${one.name}: ${one.goal.of === "ours" ? shown(one.ours, one.unit) : Number((one.ours / one.referenceTime).toPrecision(3))}, wanted ${goalWords(one)}. ${one.why ?? "Nobody has found out why yet."}`,
        )),
    "",
    `## ${many ? "Machines" : "Machine"}`,
    "",
    ...machines.map((one, i) => (many ? `${i + 1}. ${one}` : one)),
    "",
  ].join("\n");
}
