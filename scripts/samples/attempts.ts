/** A log of attempts: the obstacle comes closer until it is hit. Invented, drawn from a stated model with a seed. */
import { OUTCOMES } from "../../src/experiment/log/outcome";
import { columnLetters } from "../../src/workbook/address";
import type { Book } from "../../src/workbook/book";
import { guarded, looks, makeBook, type Draft, type SheetDraft } from "./book";
import { seededRandom } from "./random";
import { attemptHeadings } from "../../src/experiment/shoot/attemptSheet";

const SEED = 20260309;
const SESSIONS = [
  { table: "North", cloth: "worn", humidity: 38 },
  { table: "Window", cloth: "new", humidity: 57 },
  { table: "North", cloth: "worn", humidity: 61 },
  { table: "Window", cloth: "new", humidity: 44 },
  { table: "North", cloth: "new", humidity: 52 },
  { table: "Window", cloth: "new", humidity: 66 },
  { table: "North", cloth: "new", humidity: 41 },
  { table: "Window", cloth: "worn", humidity: 49 },
] as const;
const PER_SESSION = 24;
const FIRST_DAY = 46090; // 2026-03-09
const MODEL =
  "bend of an attempt = 0.80 in + 0.12 in on new cloth − 0.004 in per point of humidity above 50 % + a session's own shift (normal, sd 0.06 in) + scatter (normal, sd 0.12 in); an attempt whose bend is at least the required bend gets by, 2 in 5 of these are pocketed; 1 in 20 misses for another reason; after getting by the obstacle comes 1/16 in closer, after a hit it goes 1/16 in back; a camera measures every eighth attempt";
/** The model in words, with its seed. */
export const ATTEMPTS_MODEL = `a model with seed ${SEED}: ${MODEL}`;

const HEADINGS = attemptHeadings("us");
const letter = (heading: string) => columnLetters(HEADINGS.indexOf(heading));
const NAME = "Attempts";
const GAP = `${NAME}[[#This Row],[Gap (in)]]`;
const REQUIRED = `IF(${GAP}="","",BANK.BEND(${GAP}))`;

function rows(): Draft[][] {
  const random = seededRandom(SEED);
  return SESSIONS.flatMap(({ table, cloth, humidity }, session) => {
    const shift = 0.06 * random.normal();
    let gap = 0.5;
    return Array.from({ length: PER_SESSION }, (_, i): Draft[] => {
      const bend = 0.8 + (cloth === "new" ? 0.12 : 0) - 0.004 * (humidity - 50) + shift + 0.12 * random.normal();
      const missed = random.uniform() < 0.05;
      const by = bend >= 1.125 - gap;
      const outcome = missed ? "missed" : by ? (random.uniform() < 0.4 ? "made" : "cleared") : "hit obstacle";
      const row: Draft[] = [
        session * PER_SESSION + i + 1,
        { value: FIRST_DAY + 2 * session, look: "date" },
        `S${session + 1}`,
        table,
        cloth,
        humidity,
        { value: gap, look: "fraction" },
        { value: `=${REQUIRED}`, look: "decimal3" },
        outcome,
        { value: !missed && i % 8 === 5 ? Math.round(1000 * bend) / 1000 : null, look: "decimal3" },
        null,
      ];
      if (!missed) gap += by ? -1 / 16 : 1 / 16;
      return row;
    });
  });
}

/** The sheet of attempts. */
export function attemptsSheet(body: readonly (readonly Draft[])[] = rows()): SheetDraft {
  return {
    name: NAME,
    rows: [looks("heading", HEADINGS), ...body],
    widths: [8, 13, 10, 11, 10, 17, 12, 21, 14, 16, 40],
    frozenRows: 1,
    table: {
      name: NAME,
      area: { row: 0, column: 0, rows: body.length + 1, columns: HEADINGS.length },
      calculated: HEADINGS.map((heading) => (heading === "Required bend (in)" ? REQUIRED : undefined)),
    },
    validations: [
      {
        areas: [{ row: 1, column: HEADINGS.indexOf("Outcome"), rows: body.length, columns: 1 }],
        choices: OUTCOMES,
      },
    ],
  };
}

/** 192 attempts in 8 sessions, with how far it bends and where to set the obstacle next. */
export function attemptsLog(): Book {
  const body = rows();
  const range = (heading: string) => `${NAME}!${letter(heading)}2:${letter(heading)}${body.length + 1}`;
  const both = `${guarded(range("Required bend (in)"))},${guarded(range("Outcome"))}`;
  const answers: SheetDraft = {
    name: "Answers",
    rows: [
      looks("title", ["How far does it bend, and how surely?"]),
      looks("note", [
        "By BANK functions, every attempt on its own; the panel and bendbook reach know the sessions too.",
      ]),
      [],
      looks("heading", ["Bend that half of the attempts get at least (in)", null, null, null]),
      [`=BANK.REACH(${both})`],
      [],
      [],
      looks("heading", ["Bend that nine in ten get at least (in)", null, null, null]),
      [`=BANK.REACH(${both},0.9)`],
      [],
      [],
      looks("heading", ["Gap to set next (in)", null, null, null]),
      [`=BANK.NEXTGAP(${both})`],
    ],
    widths: [44, 18, 18, 20],
  };
  const guide: SheetDraft = {
    name: "Guide",
    rows: [
      looks("title", ["A log of attempts"]),
      ...[
        `Everything in this workbook is invented: the hall, its tables and all ${body.length} attempts. They were drawn from ${ATTEMPTS_MODEL}.`,
        "One row is one attempt. Gap (in) is where the obstacle stood: from its edge to the centre of the near mark. Required bend = ball radius − gap is what getting by asks for.",
        "Outcome: made (got by and pocketed), cleared (got by, not pocketed), hit obstacle, or missed (nothing about the bend). Film bend is there where a camera saw it.",
        "Care: a hard bank can leave the table. Nobody's face goes on the shot line at bed height while a ball is moving; whoever sights the line wears eye protection; no bystanders behind the pocket.",
      ].map((line) => looks("text", [line])),
    ],
    widths: [100],
  };
  return makeBook([attemptsSheet(body), answers, guide], "A log of attempts, invented");
}
