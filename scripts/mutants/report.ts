/** docs/mutants.md: what was tried, what lived, and why it is let live. */
import type { Drawn } from "./draw";
import { explained, type Explained } from "./explained";

export interface Outcome {
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
  /** What the seed draws of the room as it is now. */
  readonly drawn: readonly Drawn[];
}

interface Sample {
  readonly seed: number;
  /** Faults of each room. */
  readonly size: number;
  readonly rooms: readonly Room[];
  /** What each fault of the sample met when it was first tried; with those whose line is there no more. */
  readonly firstTry: Readonly<Record<string, "noticed" | "lived">>;
}

interface Counts {
  /** Seconds of tests for a fault. */
  readonly budget: number;
  readonly samples: readonly Sample[];
  readonly outcomes: Readonly<Record<string, Outcome>>;
  readonly named: readonly { readonly what: string; readonly outcome: Outcome | undefined }[];
}

export function report({ budget, samples, outcomes, named }: Counts): string {
  return [
    "# Faults put into the sources, and whether the tests notice",
    "",
    "Written by `npm run mutants`, never by hand.",
    "",
    `A fault is one change: an operator, a comparison or its bound, a sign, a constant, a condition, a result left out. Some of each room are drawn for a seed, without regard to the tests. A fault is run against the quick tests that come to its place, the nearest first, up to ${budget} s of processor time; those that call the command line run a bundle with the fault in it. A test that takes five times its usual processor time and 20 s more counts as failed. Tests in a browser and those that start processes do not take part.`,
    "",
    "The first share is what the tests noticed when the sample was drawn, before any was written for it; later seeds were drawn after the tests had been mended for the earlier ones. The last share leaves out faults that change nothing that can be seen; each is explained below.",
    "",
    ...togetherLines(samples, outcomes),
    ...samples.flatMap((sample) => sampleLines(sample, outcomes)),
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
  ].join("\n");
}

const HEADS = [
  "room",
  "faults there are",
  "noticed when first tried",
  "noticed now",
  "live: equivalent",
  "live: harmless",
  "noticed of those not equivalent",
];

function togetherLines(samples: readonly Sample[], outcomes: Counts["outcomes"]): string[] {
  const [first] = samples;
  if (!first) return [];
  const rooms = first.rooms.map(({ room, faults }, i) => ({
    room,
    faults,
    drawn: samples.flatMap((sample) => sample.rooms[i]?.drawn ?? []),
  }));
  const firstTry = Object.assign({}, ...samples.map((sample) => sample.firstTry)) as Sample["firstTry"];
  return [
    "## All samples together",
    "",
    table(
      HEADS,
      [...rooms, allOf(rooms)].map((room) => countsOf(room, firstTry, outcomes)),
    ),
    "",
  ];
}

function allOf(rooms: readonly Room[]): Room {
  return {
    room: "all",
    faults: rooms.reduce((sum, { faults }) => sum + faults, 0),
    drawn: rooms.flatMap(({ drawn }) => drawn),
  };
}

function sampleLines({ seed, size, rooms, firstTry }: Sample, outcomes: Counts["outcomes"]): string[] {
  const all = allOf(rooms);
  const alive = all.drawn.filter(({ key }) => outcomes[key]?.killed === false);
  const mended = Object.keys(firstTry).filter((key) => firstTry[key] === "lived" && outcomes[key]?.killed !== false);
  return [
    `## Seed ${seed}, ${size} faults of each room`,
    "",
    table(
      HEADS,
      [...rooms, all].map((room) => countsOf(room, firstTry, outcomes)),
    ),
    "",
    `### What lives of seed ${seed}`,
    "",
    ...(alive.length === 0
      ? ["Nothing."]
      : [
          table(
            ["where", "line", "change", "tests run", "why it is let live"],
            alive.map((drawn) => rowOf(drawn, outcomes)),
          ),
        ]),
    "",
    `### What lived of seed ${seed} when first tried and does not now`,
    "",
    ...(mended.length === 0
      ? ["Nothing."]
      : [
          table(
            ["fault", "noticed by"],
            mended.map((key) => [code(key), cell(outcomes[key]?.by ?? GONE)]),
          ),
        ]),
    "",
  ];
}

const GONE = "The line is there no more.";

function countsOf({ room, faults, drawn }: Room, firstTry: Sample["firstTry"], outcomes: Counts["outcomes"]): string[] {
  const first = Object.entries(firstTry).filter(([key]) => room === "all" || key.startsWith(`${room}/`));
  const tried = drawn.filter(({ key }) => outcomes[key]);
  const killed = tried.filter(({ key }) => outcomes[key]?.killed).length;
  const lives = (kind: Explained["kind"]) =>
    tried.filter((one) => !outcomes[one.key]?.killed && explained(one)?.kind === kind).length;
  const equivalent = lives("equivalent");
  return [
    room,
    String(faults),
    shareOf(first.filter(([, what]) => what === "noticed").length, first.length),
    shareOf(killed, tried.length),
    String(equivalent),
    String(lives("harmless")),
    shareOf(killed, tried.length - equivalent),
  ];
}

function shareOf(some: number, of: number): string {
  return of === 0 ? "" : `${some} of ${of}, ${Math.floor((100 * some) / of)} %`;
}

function rowOf(drawn: Drawn, outcomes: Counts["outcomes"]): string[] {
  const { key, mutant, words } = drawn;
  const found = explained(drawn);
  return [
    `${mutant.file}:${mutant.line}`,
    code(words),
    `${code(mutant.from)} → ${code(mutant.to)}`,
    String(outcomes[key]?.ran ?? 0),
    found ? `${KINDS[found.kind]} ${found.why}` : "Not looked at yet: no reason is known why it should live.",
  ];
}

const KINDS: Record<Explained["kind"], string> = { equivalent: "Equivalent.", harmless: "Harmless." };

const cell = (text: string) => text.replaceAll("|", "\\|").replaceAll("\n", " ");
const code = (text: string) => `\`${cell(text).replaceAll("`", "'")}\``;

function table(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(heads), line(heads.map(() => "---")), ...rows.map(line)].join("\n");
}
