/** The interval of a bend that was filmed. */
import { tableMap, type Corners } from "../../../src/bank/projective";
import type { SeenPoint } from "../../../src/experiment/track/fitMotion";
import { picturedTable, type PicturedTable } from "../../../src/experiment/track/picturedTable";
import { trackedShot, type TrackedShot } from "../../../src/experiment/track/trackedShot";
import { TrackProblem } from "../../../src/experiment/track/trackProblem";
import { trackBend } from "../../../src/experiment/track/trackBend";
import type { Random } from "../../../src/statistics/numeric/drawer";
import { there } from "../../../src/there";
import type { Cell, NumberClaim } from "../claim";

const RADIUS = 1.125;
const GRAVITY = 386.09;
const GOAL = { least: 0.93, most: 0.97 };

interface Shot {
  /** Place at a time after the contact, in. */
  at(since: number): { readonly x: number; readonly y: number };
  readonly total: number;
}

/**
 * A ball's path as physics has it, written down apart from the fit: a parabola up to `end` of the way, then straight.
 */
function shotOf(end: number, random: Random): Shot {
  const speed = 60 + 60 * random.uniform();
  const angle = ((15 + 30 * random.uniform()) * Math.PI) / 180;
  const [vx, vy] = [speed * Math.sin(angle), speed * Math.cos(angle)];
  const total = 46 / vy;
  const braking = (0.15 + 0.1 * random.uniform()) * GRAVITY;
  const towards = 2 * Math.PI * random.uniform();
  const [ax, ay] = [braking * Math.cos(towards), 0.5 * braking * Math.sin(towards)];
  const slip = end * total;
  const [wx, wy] = [vx + slip * ax, vy + slip * ay];
  const slowing = (0.01 * GRAVITY) / Math.hypot(wx, wy);
  return {
    total,
    at: (since) => {
      const bent = Math.min(since, slip);
      const rolled = Math.max(0, since - slip);
      const run = rolled - 0.5 * slowing * rolled * rolled;
      return {
        x: 30 + bent * vx + 0.5 * bent * bent * ax + run * wx,
        y: RADIUS + bent * vy + 0.5 * bent * bent * ay + run * wy,
      };
    },
  };
}

/** Largest distance from the chord, by looking at a thousand places. */
function bendOf(shot: Shot, last: number): number {
  const [from, to] = [shot.at(0), shot.at(last)];
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  let bend = 0;
  for (let i = 1; i < 1000; i++) {
    const { x, y } = shot.at((last * i) / 1000);
    const off = ((x - from.x) * (to.y - from.y) - (y - from.y) * (to.x - from.x)) / length;
    if (Math.abs(off) > Math.abs(bend)) bend = off;
  }
  return to.x >= from.x ? bend : -bend;
}

/** Share of the frames after the contact that a gap in one piece takes. */
const GAP = 0.15;
const BEFORE = 12;

/**
 * Times after the contact of the frames that show the ball: twelve before it, `count` after it. With gaps one frame in
 * twenty is missing and a run of them at a place drawn by lot.
 */
function framesOf(count: number, gaps: boolean, total: number, random: Random): number[] {
  const after = gaps ? Math.round(count / (1 - GAP) / 0.95) : count;
  const step = total / after;
  const lost = gaps ? { from: 1 + random.uniform() * (1 - GAP) * after, long: GAP * after } : { from: 0, long: 0 };
  const start = random.uniform();
  return Array.from({ length: after + BEFORE }, (_, i) => i - BEFORE)
    .filter((i) => i < lost.from || i > lost.from + lost.long)
    .filter((i) => !gaps || i < 0 || i === after - 1 || random.uniform() > 0.05)
    .map((i) => (i + start) * step);
}

/** Share of the way at which the slip ends; above 1 the ball slips all the way. */
const slipEnd = (random: Random) => 0.2 + 1.1 * random.uniform();

/** Scatter of a coordinate, in, even in its logarithm between the two. */
const [LEAST, MOST] = [0.005, 0.06];

interface Film {
  readonly count: number;
  readonly bad: number;
}

/** A camera at one end of the table, a little aside. */
const CORNERS: Corners = [
  { x: 120, y: 640 },
  { x: 1180, y: 600 },
  { x: 980, y: 180 },
  { x: 300, y: 200 },
];
const TABLE = { length: 100, width: 50 };

/** The same film in a picture, its corners clicked by a hand that misses them by so many pixels each way. */
function cornersCell(count: number, missed: number): Cell {
  return {
    cell: `${count} points in a picture, corners missed by ${missed} px`,
    measures: [{ measure: "track covers", goal: GOAL }, { measure: "mean width, in" }],
    once(random) {
      const shot = shotOf(slipEnd(random), random);
      const map = there(tableMap(CORNERS, TABLE.length, TABLE.width), "a map of the true corners");
      const frames = framesOf(count, false, shot.total, random);
      const points = frames.map((since) => {
        const { x, y } = map.toPicture(since < 0 ? { x: 30 + 40 * since, y: RADIUS - 90 * since } : shot.at(since));
        return { time: 0.3 + since, seen: { x: x + 0.3 * random.normal(), y: y + 0.3 * random.normal() } };
      });
      const [a, b, c, d] = CORNERS.map(({ x, y }) => ({
        x: x + missed * random.normal(),
        y: y + missed * random.normal(),
      }));
      if (!a || !b || !c || !d) return [undefined, undefined];
      const table = picturedTable([a, b, c, d], TABLE.length, TABLE.width, missed);
      const found = table && shotIn(points, table);
      const truth = bendOf(shot, frames[frames.length - 1] ?? 0);
      return [found && found.low <= truth && truth <= found.high, found && found.high - found.low];
    },
  };
}

function cell({ count, bad }: Film): Cell {
  return {
    cell: `${count} points, ${100 * bad} % bad`,
    measures: [
      { measure: "track covers", goal: GOAL },
      { measure: "mean width, in" },
      { measure: "BANK.TRACKBEND covers", goal: GOAL },
    ],
    once(random) {
      const shot = shotOf(slipEnd(random), random);
      const scatter = LEAST * (MOST / LEAST) ** random.uniform();
      const gaps = random.uniform() < 0.5;
      const frames = framesOf(count, gaps, shot.total, random);
      const points = frames.map((since) => {
        const { x, y } = since < 0 ? { x: 30 + 40 * since, y: RADIUS - 90 * since } : shot.at(since);
        const astray = random.uniform() < bad ? 6 : 0;
        const [away, aside] = [astray * (random.uniform() - 0.5), astray * (random.uniform() - 0.5)];
        return {
          good: astray === 0,
          time: 0.3 + since,
          seen: { x: x + scatter * random.normal() + away, y: y + scatter * random.normal() + aside },
        };
      });
      const last = frames[frames.length - 1] ?? 0;
      const truth = bendOf(shot, last);
      const found = shotIn(points);
      const after = points.filter(({ time }) => time > 0.3);
      // Without times, a place that is astray says nothing of where the ball was: the chord ends at good ones.
      const good = after.filter((point) => point.good).map(({ time }) => time - 0.3);
      const seen = bendBetween(shot, good[0] ?? 0, good[good.length - 1] ?? last);
      const plain = trackBend(
        after.map(({ seen: { x } }) => x),
        after.map(({ seen: { y } }) => y),
      );
      return [
        found && found.low <= truth && truth <= found.high,
        found && found.high - found.low,
        plain && plain.low <= seen && seen <= plain.high,
      ];
    },
  };
}

/** Undefined where the track is refused. */
function shotIn(points: readonly SeenPoint[], table?: PicturedTable): TrackedShot | undefined {
  try {
    return trackedShot(points, { ...(table && { table }), nearest: RADIUS, confidence: 0.95 });
  } catch (problem) {
    if (problem instanceof TrackProblem) return undefined;
    throw problem;
  }
}

/** The bend without its sign, from the chord of what was seen. */
function bendBetween(shot: Shot, first: number, last: number): number {
  return Math.abs(bendOf({ total: shot.total, at: (since) => shot.at(first + since) }, last - first));
}

export const claim: NumberClaim = {
  claim:
    "The 95 % interval of a filmed bend covers the truth in 93 to 97 of 100 films, with few or many points, little or much scatter, bad points and missing frames, and corners that a hand missed.",
  how: "A ball leaves the cushion at 60 to 120 in/s and 15° to 45°, slips on a parabola for 0.2 to all of its way, drawn by lot (friction 0.15 to 0.25 in a direction drawn at random), then rolls straight; twelve frames before the contact. A coordinate scatters by 0.005 to 0.06 in, drawn evenly in its logarithm; bad points are up to 3 in off. In every other film one frame in twenty is missing and 15 of 100 in one piece. In the last cell the ball is seen in a picture of some 1000 pixels, scattering by 0.3 of one, and each corner is clicked with a standard uncertainty of 3 pixels each way.",
  seed: 13_207,
  replicates: 400,
  cells: [...[15, 40, 250].flatMap((count) => [0, 0.1].map((bad) => cell({ count, bad }))), cornersCell(60, 3)],
};
