/**
 * docs/evidence.md: what is said, what is compared, then a section for each claim, in the order of their names; a run
 * of some sections leaves the others as they are.
 */
import type { NumberClaim } from "./claim";
import type { Found } from "./simulate";

const HEAD = `# What the numbers rest on

Made by \`npm run evidence\`; see scripts/evidence/README.md. First what is said and what holds it, then what was compared with sources outside the project, then what was simulated. Every simulated number can be made again from the seed beside it. "Got" is a share, or a mean where it says so, with the standard error of the simulation itself.
`;

/**
 * The page with these sections put in or replaced.
 * @param before the page as it is; empty when there is none
 */
export function pageWith(before: string, sections: ReadonlyMap<string, string>): string {
  const known = before.split(/^(?=## )/m).flatMap((text) => {
    const name = /^## (\S+)\n/.exec(text)?.[1];
    return name === undefined ? [] : [[name, text.trim()] as const];
  });
  const all = [...new Map([...known, ...sections])].sort(([a], [b]) => placeOf(a) - placeOf(b) || (a < b ? -1 : 1));
  return `${[HEAD.trim(), ...all.map(([, text]) => text.trim())].join("\n\n")}\n`;
}

/** Sections that are no simulation come first. */
const FIRST = ["said", "outside"];

function placeOf(name: string): number {
  return FIRST.includes(name) ? FIRST.indexOf(name) : FIRST.length;
}

export function section(name: string, { claim, how }: NumberClaim, found: readonly Found[]): string {
  return [
    `## ${name}`,
    "",
    claim,
    "",
    how,
    "",
    "| cell | measure | goal | got | met | answered | seed | replicates |",
    "| --- | --- | --- | --- | --- | --- | --- | --- |",
    ...found.map((one) => `| ${cellsOf(one).join(" | ")} |`),
  ].join("\n");
}

/** A row of the table. */
export function cellsOf({ cell, measure, goal, got, error, met, answered, seed, replicates }: Found): string[] {
  const wanted = [
    ...(goal?.least === undefined ? [] : [`≥ ${goal.least}`]),
    ...(goal?.most === undefined ? [] : [`≤ ${goal.most}`]),
  ].join(", ");
  const value = got === null ? "no answer" : `${Number(got.toPrecision(4))} ± ${Number(error.toPrecision(1))}`;
  const share = answered === replicates ? "all" : `${Number(((100 * answered) / replicates).toPrecision(3))} %`;
  return [cell, measure, wanted, value, met, share, String(seed), String(replicates)];
}
