/** The uncertainty of a bend from one to ten ruler readings. */
import { bendUncertainty, type KnownScatter } from "../../../src/experiment/measure/bendUncertainty";
import { repeatability } from "../../../src/statistics/measure/repeatability";
import { expandedUncertainty, probabilityAbove } from "../../../src/statistics/measure/uncertainty";
import type { Random } from "../../../src/statistics/numeric/drawer";
import type { Cell, NumberClaim } from "../claim";

/** Everything in divisions of the ruler: marks within half of one, sighting within a quarter, a ball of 36. */
const BUDGET = { ballDiameter: 36, rulerDivision: 1, markError: 0.5, ballTolerance: 0.08, alignmentError: 0.25 };
/** Earlier marks that were read twice. */
const EARLIER = 20;

const within = (half: number, random: Random) => half * (2 * random.uniform() - 1);
const read = (gap: number, scatter: number, random: Random) => Math.round(gap + scatter * random.normal());

function earlier(scatter: number, random: Random): KnownScatter {
  const marks = Array.from({ length: EARLIER }, () => {
    const gap = 4 + 4 * random.uniform();
    return [read(gap, scatter, random), read(gap, scatter, random)];
  });
  const { sd, df } = repeatability(marks, 0.95);
  return { standard: sd, df };
}

function cell(readings: number, scatter: number, known: boolean): Cell {
  return {
    cell: `${readings} ${readings === 1 ? "reading" : "readings"}, scatter ${scatter}, ${known ? `known from ${EARLIER} marks read twice` : "shown by the readings alone"}`,
    measures: [
      { measure: "covers", goal: known ? { least: 0.94, most: 0.97 } : { least: 0.94 } },
      { measure: "says 95 % of a target that is not beaten", goal: { most: 0.065 } },
      { measure: "mean width" },
    ],
    once(random) {
      const gap = 4 + 4 * random.uniform();
      const { ballDiameter, markError, ballTolerance, alignmentError } = BUDGET;
      const wrong = within(markError, random) + within(alignmentError, random) + 0.5 * within(ballTolerance, random);
      const found = bendUncertainty({
        ...BUDGET,
        readings: Array.from({ length: readings }, () => read(gap + wrong, scatter, random)),
        ...(known && { scatter: earlier(scatter, random) }),
      });
      if (!found.scatterKnown) return [undefined, undefined, undefined];
      const half = expandedUncertainty(found, 0.95);
      const bend = ballDiameter / 2 - gap;
      return [Math.abs(found.bend - bend) <= half, probabilityAbove(found.bend, found, bend) > 0.95, 2 * half];
    },
  };
}

export const claim: NumberClaim = {
  claim:
    "With a scatter known from earlier readings BANK.UNCERTAINTY's 95 % interval covers the true bend in 94 to 97 of 100 measurements, for one to ten readings; where the readings themselves must show their scatter, in 94 or more, and in all where two of them agree because the ruler hides how they scatter. BANK.BEATS is surer than 95 % of a target that was not beaten in hardly more than 5. Of a single reading whose scatter nobody knows nothing is claimed.",
  how: "Readings rounded to the ruler's division, which is 1; their scatter before rounding from a tenth of a division to three; marks anywhere within half a division, the sighted line within a quarter, drawn anew each time. Where a few readings must show their scatter themselves, no interval can cover 0.95 both when they agree because they are good and when they agree by luck: of two that scatter by one division 28 in 100 agree, and an interval that held 0.94 there would hold 0.99 at a tenth of a division. So it covers more in the first case.",
  seed: 11_100,
  replicates: 4000,
  cells: [true, false].flatMap((known) =>
    [1, 2, 3, 5, 10].flatMap((readings) => [0.1, 0.3, 0.6, 1, 2, 3].map((scatter) => cell(readings, scatter, known))),
  ),
};
