/** The chance that a plan is said to have, against what its log then shows. */
import { makePlan, type PlanWish } from "../../../src/experiment/plan/plan";
import { planPower } from "../../../src/experiment/plan/planPower";
import { analyse } from "../../../src/experiment/question/analysis";
import { leading } from "../../../src/experiment/question/sessionAware";
import type { Cell, NumberClaim } from "../claim";
import { asCategory, asNumber, bendBy, logOf } from "../sessionLogs";

/** How far the share found may be from the chance said. */
const NEAR = 0.02;
const rounded = (share: number) => Number(share.toFixed(4));
const COMMON = { warmUps: 1, seed: 1 } as const;

/** A cloth laid for whole visits, or a speed set for each shot. */
const PLANS: Readonly<Record<string, { wish: PlanWish; drivers: ReturnType<typeof asNumber>[] }>> = {
  "cloth by whole visits to three tables": {
    wish: {
      ...COMMON,
      kind: "square",
      factors: [{ heading: "Cloth", levels: ["a", "b", "c"] }],
      tables: ["N", "O", "S"],
      sessions: 3,
      replicates: 6,
    },
    drivers: [asCategory("Cloth"), asCategory("Table"), asCategory("Round")],
  },
  "speed by shots, three visits to two tables": {
    wish: {
      ...COMMON,
      kind: "all",
      factors: [{ heading: "Speed (mph)", levels: [4, 8] }],
      tables: ["N", "S"],
      sessions: 3,
      replicates: 12,
    },
    drivers: [asNumber("Speed (mph)"), asCategory("Table")],
  },
};

function cell(name: string, difference: number, sessionSpread: number): Cell {
  const { wish, drivers } = PLANS[name] ?? { wish: undefined, drivers: [] };
  if (!wish) throw new RangeError(`there is no plan "${name}"`);
  const plan = makePlan(wish);
  const [first] = planPower(plan, { difference, spread: 1, sessionSpread });
  const said = first?.power ?? NaN;
  const heading = drivers[0]?.heading ?? "";
  return {
    cell: `${name}, difference ${difference}, sessions ${sessionSpread}: said ${said.toFixed(4)}`,
    measures: [{ measure: "found", goal: { least: rounded(said - NEAR), most: rounded(said + NEAR) } }],
    once(random) {
      const shifts = new Map<string, number>();
      const rows = plan.shots.flatMap(({ session, table, round, settings }) => {
        const [setting] = settings ?? [];
        if (setting === undefined) return [];
        const shift = shifts.get(session) ?? sessionSpread * random.normal();
        shifts.set(session, shift);
        const up = typeof setting === "number" ? (setting - 4) / 4 : setting === "b" ? 1 : 0;
        return [[session, table, `round ${round}`, setting, shift + difference * up + random.normal()]];
      });
      const { regression } = leading(
        analyse(logOf(["Session", "Table", "Round", heading, "Bend (mm)"], rows), bendBy(...drivers)),
      );
      const term = regression.terms.find(({ drivers: of, label }) => of[0] === 0 && !label.endsWith(": c"));
      return [term?.p === null || term?.p === undefined ? undefined : term.p < 0.05];
    },
  };
}

export const claim: NumberClaim = {
  claim:
    "The chance that a plan is said to have is the share of its logs in which the answer that is read first finds the difference.",
  how: `A plan made by the program and filled in, each visit with a shift of its own; single shots scatter 1. Goal: within ${NEAR} of what is said.`,
  seed: 12_601,
  replicates: 2000,
  cells: [
    cell("cloth by whole visits to three tables", 3, 0.5),
    cell("cloth by whole visits to three tables", 0, 0.5),
    cell("speed by shots, three visits to two tables", 0.8, 0.5),
    cell("speed by shots, three visits to two tables", 0.8, 2),
    cell("speed by shots, three visits to two tables", 0, 1),
  ],
};
