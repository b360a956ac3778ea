/**
 * npm run evidence [-- NAME… --replicates N]: says what each claim rests on, compares, simulates, and writes
 * docs/evidence.md.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import type { NumberClaim } from "./evidence/claim";
import { outsideSection } from "./evidence/outside";
import { cellsOf, pageWith, section } from "./evidence/page";
import { saidSection } from "./evidence/said";
import { simulate, type Found } from "./evidence/simulate";

const folder = join(import.meta.dirname, "evidence", "claims");
const page = join(import.meta.dirname, "..", "docs", "evidence.md");
const there = readdirSync(folder)
  .filter((file) => file.endsWith(".ts"))
  .map((file) => file.slice(0, -3))
  .sort();

const all = ["said", "outside", ...there];

/** What was asked for; a mistake is said and ends the run. */
function asked(): { names: readonly string[]; times: number | undefined } {
  const { values, positionals } = parseArgs({
    args: process.argv.slice(2),
    allowPositionals: true,
    options: { replicates: { type: "string" } },
  });
  const unknown = positionals.find((name) => !all.includes(name));
  if (unknown !== undefined) throw new RangeError(`there is no claim "${unknown}"; there are: ${all.join(", ")}`);
  const times = values.replicates === undefined ? undefined : Number(values.replicates);
  if (times !== undefined && !(Number.isInteger(times) && times > 0))
    throw new RangeError(`--replicates is "${values.replicates}": give a whole number above 0`);
  return { names: positionals.length > 0 ? positionals : all, times };
}

const { names, times } = asked();
let missed = 0;
for (const name of names) {
  const text = name === "said" ? saidSection(there) : name === "outside" ? compared() : await simulated(name);
  // Fewer replicates are for trying; the page holds what can be relied on.
  if (times === undefined) {
    const before = existsSync(page) ? readFileSync(page, "utf8") : "";
    writeFileSync(page, pageWith(before, new Map([[name, text]])));
  }
}
if (missed > 0) {
  process.stdout.write(`${missed} goals missed.\n`);
  process.exitCode = 1;
}

function compared(): string {
  process.stdout.write("outside: running tests/outside\n");
  const { text, failed } = outsideSection();
  missed += failed;
  return text;
}

async function simulated(name: string): Promise<string> {
  const { claim } = (await import(pathToFileURL(join(folder, `${name}.ts`)).href)) as { claim: NumberClaim };
  process.stdout.write(`${name}: ${claim.claim}\n`);
  const found: Found[] = [];
  for (const ofCell of simulate(claim, times)) {
    found.push(...ofCell);
    for (const one of ofCell) process.stdout.write(`  ${cellsOf(one).join(" · ")}\n`);
  }
  missed += found.filter(({ met }) => met === "no").length;
  return section(name, claim, found);
}
