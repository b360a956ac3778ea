/** What README, docs/ and the panel say about numbers, and what holds each sentence to account. */
import { existsSync } from "node:fs";
import { join } from "node:path";

interface Said {
  readonly where: string;
  readonly says: string;
  /** Sections of the page, or files of tests, that hold it. */
  readonly heldBy: readonly string[];
  readonly restsOn: string;
}

const SAID: readonly Said[] = [
  {
    where: "README",
    says: "=BANK.BEND(1/8) is 1 in",
    heldBy: ["tests/outside/equipment.test.ts"],
    restsOn:
      "common practice, no source; ball of 2 1/4 in from memory of the World Pool-Billiard Association's specifications",
  },
  {
    where: "README",
    says: "=BANK.OFFSET(1,1/32) is 0.09375 in",
    heldBy: ["tests/docs.test.ts"],
    restsOn: "geometry: gap = ball radius less bend less guard band",
  },
  {
    where: "README, panel",
    says: "what drives the bend, with intervals",
    heldBy: [
      "sessionsStill",
      "sessionsChanging",
      "sessionPairs",
      "tests/outside/leastSquares.test.ts",
      "tests/outside/errorModels.test.ts",
    ],
    restsOn: "certified sets, R's lm, lme4, pbkrtest, clubSandwich; simulation",
  },
  {
    where: "README, panel",
    says: "every row that was left out is listed",
    heldBy: ["tests/experiment/question/rowCheck.test.ts"],
    restsOn: "counting",
  },
  {
    where: "docs/words.md",
    says: "an interval covers the true value as often as its confidence says",
    heldBy: [
      "sessionsStill",
      "sessionsChanging",
      "sessionPairs",
      "madeSessions",
      "predictedAt",
      "reachIntervals",
      "reachSessions",
      "readings",
      "filmedBend",
    ],
    restsOn: "simulation; the definition (Neyman 1937) from memory",
  },
  {
    where: "docs/large-sets.md",
    says: "sums give coefficients, errors, intervals, R² and F as the rows do, to at least 10 digits",
    heldBy: ["tests/cli/largeSets.test.ts"],
    restsOn: "DuckDB in the same run",
  },
  {
    where: "panel, Analysis",
    says: "p, intervals and degrees of freedom of an answer that takes sessions into account",
    heldBy: ["sessionsStill", "sessionsChanging", "sessionChecks", "tests/outside/errorModels.test.ts"],
    restsOn: "lme4, pbkrtest, clubSandwich, emmeans, stored with versions; simulation",
  },
  {
    where: "panel, Analysis",
    says: "made or missed: how the odds go with a driver, sessions respected",
    heldBy: ["madeSessions"],
    restsOn: "simulation",
  },
  {
    where: "panel, Analysis",
    says: "the mean and a single shot at settings, in an average and in a new session",
    heldBy: ["predictedAt", "tests/outside/prediction.test.ts"],
    restsOn: "R's predict in the same run; simulation",
  },
  {
    where: "panel, Analysis",
    says: "how far it bends: the bend that an attempt gets at least, with its interval, in an average and in a new session",
    heldBy: ["reachIntervals", "reachSessions", "tests/outside/attempts.test.ts"],
    restsOn: "survival::survreg and lme4::glmer, stored with versions; simulation",
  },
  {
    where: "panel, Analysis",
    says: "what errors in a driver do to its effect",
    heldBy: ["readingErrors"],
    restsOn: "simulation",
  },
  {
    where: "panel, Can it be trusted",
    says: "lack of fit, unequal scatter, consistency, drift, neighbours",
    heldBy: [
      "lackOfFitSessions",
      "sessionChecks",
      "shotOrder",
      "tests/outside/residualChecks.test.ts",
      "tests/outside/order.test.ts",
    ],
    restsOn: "R by definition in the same run; simulation",
  },
  {
    where: "panel, Plan; BANK.POWER, BANK.SHOTS",
    says: "the chance to see a difference",
    heldBy: ["planChance", "sessionPower", "tests/outside/power.test.ts"],
    restsOn: "R's noncentral t, and printed tables quoted from memory; simulation",
  },
  {
    where: "panel, Measure; BANK.UNCERTAINTY, BANK.BEATS",
    says: "the uncertainty of a bend, and how sure it is that a target was beaten",
    heldBy: ["readings", "tests/outside/uncertainty.test.ts", "tests/outside/propagation.test.ts"],
    restsOn:
      "the guides' printed examples, from memory and computed by R; simulation. Two or three readings without a known scatter cover more than 0.97: see there why",
  },
  {
    where: "panel, Shoot and Next; BANK.NEXTGAP",
    says: "where to set the obstacle, the chance there, how many attempts halve what is open",
    heldBy: ["nextGap", "tests/outside/upAndDown.test.ts"],
    restsOn: "formulas of Dixon & Mood, Levitt and Taylor from memory; one published series; simulation",
  },
  { where: "panel, Video", says: "a filmed bend with its interval", heldBy: ["filmedBend"], restsOn: "simulation" },
  {
    where: "panel, Shot",
    says: "where a ball goes, and how far it bends",
    heldBy: ["tests/outside/physics.test.ts"],
    restsOn:
      "exact mechanics, a second integrator; equations of Mathavan, Jackson & Parkin 2010; constants with their sources in docs/conditions.md",
  },
  {
    where: "panel, Analysis: all pairs and reference",
    says: "intervals that hold for all comparisons at once",
    heldBy: ["sessionPairs", "tests/outside/comparison.test.ts"],
    restsOn: "R's TukeyHSD and emmeans; Dunnett's printed tables from memory and his integral by R",
  },
];

/** @throws RangeError where a sentence names a section or a test that is not there */
export function saidSection(claims: readonly string[]): string {
  const root = join(import.meta.dirname, "..", "..");
  for (const { says, heldBy } of SAID)
    for (const name of heldBy)
      if (!claims.includes(name) && !existsSync(join(root, name)))
        throw new RangeError(`"${says}" is held by ${name}, which is not there`);
  return [
    "## said",
    "",
    "Each kind of sentence about numbers in README, docs/ and the panel, what holds it, and what it rests on.",
    "",
    "| where | says | held by | rests on |",
    "| --- | --- | --- | --- |",
    ...SAID.map(({ where, says, heldBy, restsOn }) => `| ${[where, says, heldBy.join(", "), restsOn].join(" | ")} |`),
  ].join("\n");
}
