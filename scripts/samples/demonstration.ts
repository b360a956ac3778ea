/**
 * The demonstration: an invented hall, invented tables, and trials drawn from a stated model with a seed.
 */
import { OUTCOMES } from "../../src/experiment/log/outcome";
import type { Book } from "../../src/workbook/book";
import { ATTEMPTS_MODEL, attemptsSheet } from "./attempts";
import { guarded, looks, makeBook, type Draft, type SheetDraft } from "./book";
import { conditionsSheet, guideSheet, letters, logSheet, type Trial } from "./log";
import { seededRandom } from "./random";

export const SEED = 20260202;
const TABLES = { North: 0, Window: 0.03, Bar: -0.05 } as const;
type TableName = keyof typeof TABLES;
/** Which cloth lay on which table in weeks 1 to 4: each table is re-covered once, at different times. */
const CLOTH: Record<TableName, readonly ("worn" | "new")[]> = {
  North: ["worn", "worn", "new", "new"],
  Window: ["worn", "new", "new", "new"],
  Bar: ["worn", "worn", "worn", "new"],
};
/** Relative humidity about which each week's sessions lie, in percent: dry, humid, dry, humid. */
const WEEK_HUMIDITY = [40, 62, 45, 58];
const PER_SESSION = 20;
const FIRST_DAY = 46055; // 2026-02-02

const MODEL =
  "bend = 0.50 in + 0.14 in on new cloth − 0.008 in per point of humidity above 50 % + 0.035 in per mph above 9 mph + 0.30 in × spin" +
  " + table (North 0, Window +0.03, Bar −0.05 in) + a session's own shift (normal, sd 0.03 in) + scatter (normal, sd 0.08 in);" +
  " gap = 1.125 in − bend, read to the nearest 1/16 in";

/** 240 trials: 4 weeks × 3 tables × 20 shots, speed and spin drawn at random for each shot. */
export function demonstrationTrials(): Trial[] {
  const random = seededRandom(SEED);
  const trials: Trial[] = [];
  WEEK_HUMIDITY.forEach((humid, week) => {
    (Object.keys(TABLES) as TableName[]).forEach((table, t) => {
      const humidity = humid + 6 * (random.uniform() - 0.5);
      const temperature = Math.round(66 + 6 * random.uniform());
      const shift = 0.03 * random.normal();
      const cloth = CLOTH[table][week];
      for (let shot = 0; shot < PER_SESSION; shot++) {
        const rh = Math.round(humidity + 2 * (random.uniform() - 0.5));
        const speed = Math.round(10 * (6 + 6 * random.uniform())) / 10;
        const spin = Math.round(20 * 0.6 * random.uniform()) / 20;
        const angle = 20 + 5 * Math.floor(4 * random.uniform());
        const bend =
          0.5 +
          (cloth === "new" ? 0.14 : 0) -
          0.008 * (rh - 50) +
          0.035 * (speed - 9) +
          0.3 * spin +
          TABLES[table] +
          shift +
          0.08 * random.normal();
        const gap = Math.round(16 * (1.125 - bend)) / 16;
        const obstacle = 0.625 + 0.0625 * Math.floor(4 * random.uniform());
        trials.push({
          Trial: trials.length + 1,
          Date: FIRST_DAY + 7 * week + t,
          Session: `W${week + 1} ${table}`,
          Table: table,
          Cloth: cloth,
          "Humidity (%)": rh,
          "Speed (mph)": speed,
          Spin: spin,
          "Angle (°)": angle,
          "Temperature (°F)": temperature,
          "Obstacle gap (in)": obstacle,
          "Gap (in)": gap,
          Outcome: gap > obstacle ? "hit obstacle" : random.uniform() < 0.55 ? "made" : "cleared",
        });
      }
    });
  });
  return blemished(trials);
}

/** What a real log would have too: a speed not read, a gap not measured, a reading typed as text. */
function blemished(trials: Trial[]): Trial[] {
  trials[16]["Speed (mph)"] = null;
  trials[16].Remarks = "speed not read";
  trials[93]["Speed (mph)"] = null;
  trials[93].Remarks = "speed not read";
  trials[140]["Gap (in)"] = null;
  trials[140].Outcome = "missed";
  trials[140].Remarks = "mark moved, gap not measured";
  trials[57]["Gap (in)"] = "9/16";
  trials[57].Remarks = "gap typed as text";
  return trials;
}

export function demonstration(): Book {
  const trials = demonstrationTrials();
  const last = trials.length + 1;
  const range = (from: Parameters<typeof letters>[0], to = from) => `Trials!${letters(from)}2:${letters(to)}${last}`;
  const bends = guarded(range("Bend (in)"));
  const count = (outcome: string) => `COUNTIF(${range("Outcome")},"${outcome}")`;
  // A row without an outcome is no try.
  const tries = OUTCOMES.map(count).join("+");
  const above: readonly (readonly Draft[])[] = [
    looks("title", ["Answers by worksheet functions"]),
    looks("note", ["Every figure below is computed by a BANK function from the Trials sheet."]),
    [],
    looks("heading", ["Bend against cloth, humidity, speed and spin", null, null, null, null, null]),
    [`=BANK.REGRESS(${bends},${guarded(range("Cloth", "Spin"))},Trials!${letters("Cloth")}1:${letters("Spin")}1)`],
    ...Array.from({ length: 8 }, (): Draft[] => []),
    looks("heading", ["Spread of the bend (in)", null, null, null]),
    [`=BANK.SPREAD(${bends})`],
    [],
    [],
    [],
    [],
    looks("heading", ["Shots made", null, null, null]),
    [`=BANK.MAKES(${count("made")},${tries})`],
    [],
    [],
    looks("heading", ["Gap to set for a wanted bend", "Wanted bend (in)", "Guard (in)", "Gap (in)", "On the ruler"]),
  ];
  const wanted = [
    ["for 3/4 in, guard 1/32 in", 0.75],
    ["for 1 in, guard 1/32 in", 1],
  ] as const;
  const gaps = wanted.map(([label, bend], i): Draft[] => {
    const row = above.length + i + 1;
    return [
      label,
      { value: bend, look: "decimal3" },
      { value: 1 / 32, look: "decimal3" },
      { value: `=IF(OR(B${row}="",C${row}=""),"",BANK.OFFSET(B${row},C${row}))`, look: "decimal3" },
      `=IF(D${row}="","",BANK.FRACTION(D${row},32))`,
    ];
  });
  const answers: SheetDraft = { name: "Answers", rows: [...above, ...gaps], widths: [40, 18, 16, 14, 14, 14] };
  return makeBook(
    [
      logSheet(trials),
      answers,
      conditionsSheet(
        [
          ["North", "by the north wall; invented"],
          ["Window", "under the window; invented"],
          ["Bar", "beside the bar; invented"],
        ],
        [
          ["worn", "two years of play; invented"],
          ["new", "laid during the trials; invented"],
        ],
      ),
      guideSheet([
        `Everything in this workbook is invented: the hall, its three tables and all ${trials.length} trials. The trials were drawn from a model with seed ${SEED}: ${MODEL}. Four rows were then spoilt on purpose.`,
        `The sheet Attempts is another log of the same hall, of attempts past an obstacle that comes closer until it is hit: drawn from ${ATTEMPTS_MODEL}.`,
      ]),
      attemptsSheet(),
    ],
    "Bendbook's demonstration, invented",
  );
}
