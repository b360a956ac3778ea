/** docs/mutants.md: what was tried, what lived, and why it is let live. */
import { EXPLAINED } from "./explained";
import type { Mutant } from "./mutate";

export interface Outcome {
  readonly mutant: Mutant;
  /** The line that the fault stands in. */
  readonly words: string;
  readonly killed: boolean;
  /** The test that noticed it. */
  readonly by?: string;
  /** Test files that were there to notice it. */
  readonly ran: number;
}

interface Room {
  readonly room: string;
  /** Places and ways in which the room can be changed. */
  readonly faults: number;
  readonly outcomes: readonly Outcome[];
}

interface MutantCounts {
  readonly seed: number;
  readonly sample: number;
  readonly budget: number;
  readonly rooms: readonly Room[];
  readonly named: readonly { readonly what: string; readonly outcome: Outcome | undefined }[];
}

export function report({ seed, sample, budget, rooms, named }: MutantCounts): string {
  const tried = rooms.flatMap(({ outcomes }) => outcomes);
  const alive = tried.filter(({ killed }) => !killed);
  return [
    "# Faults put into the sources, and whether the tests notice",
    "",
    `Written by \`npm run mutants\`, never by hand. Seed ${seed}, ${sample} faults of each room, drawn without regard to the tests.`,
    `A fault is one change: an operator, a comparison or its bound, a sign, a constant, a condition, a result left out. It is run against the quick tests that import the file, the nearest first, up to ${budget} s of them; a test that takes five times as long as usual and 20 s more counts as failed. Tests in a browser and those of other processes do not take part.`,
    "",
    table(
      ["room", "faults there are", "tried", "killed", "share"],
      [
        ...rooms.map(countsOf),
        countsOf({ room: "all", faults: sum(rooms.map(({ faults }) => faults)), outcomes: tried }),
      ],
    ),
    "",
    "## Faults that once lived and must not again",
    "",
    table(
      ["fault", "noticed by"],
      named.map(({ what, outcome }) => [
        what,
        outcome?.killed ? cell(outcome.by ?? "") : outcome ? "nothing" : "not tried",
      ]),
    ),
    "",
    "## What lives",
    "",
    ...(alive.length === 0
      ? ["Nothing."]
      : [table(["where", "line", "change", "tests run", "why it is let live"], alive.map(rowOf))]),
    "",
  ].join("\n");
}

function countsOf({ room, faults, outcomes }: Room): string[] {
  const killed = outcomes.filter((outcome) => outcome.killed).length;
  const share = outcomes.length === 0 ? "" : `${Math.round((100 * killed) / outcomes.length)} %`;
  return [room, String(faults), String(outcomes.length), String(killed), share];
}

function rowOf({ mutant: { file, line, from, to }, words, ran }: Outcome): string[] {
  const found = EXPLAINED.find(
    (one) => one.file === file && one.from === from && one.to === to && words.includes(one.line),
  );
  return [
    `${file}:${line}`,
    code(words),
    `${code(from)} → ${code(to)}`,
    String(ran),
    found?.why ?? "Not looked at yet: no reason is known why it should live.",
  ];
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

const cell = (text: string) => text.replaceAll("|", "\\|").replaceAll("\n", " ");
const code = (text: string) => `\`${cell(text).replaceAll("`", "'")}\``;

function table(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(heads), line(heads.map(() => "---")), ...rows.map(line)].join("\n");
}
