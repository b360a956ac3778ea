/** npm run evidence [-- NAME… --replicates N]: simulates what is claimed and writes docs/evidence.md. */
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import type { NumberClaim } from "./evidence/claim";
import { cellsOf, pageWith, section } from "./evidence/page";
import { simulate, type Found } from "./evidence/simulate";

const folder = join(import.meta.dirname, "evidence", "claims");
const page = join(import.meta.dirname, "..", "docs", "evidence.md");
const there = readdirSync(folder)
  .filter((file) => file.endsWith(".ts"))
  .map((file) => file.slice(0, -3))
  .sort();

/** What was asked for; a mistake is said and ends the run. */
function asked(): { names: readonly string[]; times: number | undefined } {
  const { values, positionals } = parseArgs({
    args: process.argv.slice(2),
    allowPositionals: true,
    options: { replicates: { type: "string" } },
  });
  const unknown = positionals.find((name) => !there.includes(name));
  if (unknown !== undefined) throw new RangeError(`there is no claim "${unknown}"; there are: ${there.join(", ")}`);
  const times = values.replicates === undefined ? undefined : Number(values.replicates);
  if (times !== undefined && !(Number.isInteger(times) && times > 0))
    throw new RangeError(`--replicates is "${values.replicates}": give a whole number above 0`);
  return { names: positionals.length > 0 ? positionals : there, times };
}

const { names, times } = asked();
let missed = 0;
for (const name of names) {
  const { claim } = (await import(pathToFileURL(join(folder, `${name}.ts`)).href)) as { claim: NumberClaim };
  process.stdout.write(`${name}: ${claim.claim}\n`);
  const found: Found[] = [];
  for (const ofCell of simulate(claim, times)) {
    found.push(...ofCell);
    for (const one of ofCell) process.stdout.write(`  ${cellsOf(one).join(" · ")}\n`);
  }
  missed += found.filter(({ met }) => met === "no").length;
  // Fewer replicates are for trying; the page holds what can be relied on.
  if (times === undefined) {
    const before = existsSync(page) ? readFileSync(page, "utf8") : "";
    writeFileSync(page, pageWith(before, new Map([[name, section(name, claim, found)]])));
  }
}
if (missed > 0) {
  process.stdout.write(`${missed} goals missed.\n`);
  process.exitCode = 1;
}
