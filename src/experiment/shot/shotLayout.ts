/**
 * What the drawing of a shot shows, as places on the table: path, chord, gates, marks, obstacle, and the band of paths
 * over the table's constants. SI.
 *
 * Places are those of tableShape: x along the banked rail from its left corner, y from its nose into the table. The
 * gates stand on the side that the ball swings away from, one ball's diameter from the chord: one at the cushion, one
 * at the line across. At the widest swing the near mark is on the chord and the far mark level with the gates; the
 * obstacle's edge is `gap` from the near mark toward the far one.
 */
import { positionAt, runOnCloth, timeAtLine } from "../../bank/cloth";
import type { Conditions } from "../../bank/conditions";
import { clearanceAtMarks, requiredOffset } from "../../bank/bend";
import { besideChord, offChord } from "../../bank/layout";
import { closestPassing, type Point } from "../../bank/pathClearance";
import type { Bank } from "../../bank/shot";
import { tableShape, type TablePoint, type Round, type TableShape } from "../../bank/tableShape";
import { there } from "../../there";
import { computeShot, offTable, ballStarts, type ComputedShot } from "./computedShot";
import type { ShotSettings } from "./shotSettings";

export interface ShotLayout {
  readonly table: TableShape;
  readonly ballRadius: number;
  /** Centre of the ball where it touches the cushion, and on the way there. */
  readonly touch: TablePoint;
  readonly approach: readonly TablePoint[];
  /**
   * Where the object ball rests before the shot, and the cue ball; where the cue ball is as it hits. Undefined where
   * the shot is set later.
   */
  readonly spot: TablePoint | undefined;
  readonly cueBall: TablePoint | undefined;
  readonly cueBallHits: TablePoint | undefined;
  /** Centre of the ball from the cushion to the line, or as far as it gets. */
  readonly path: readonly TablePoint[];
  /** Undefined when the ball never reaches the line. */
  readonly marked: Marked | undefined;
}

export interface Marked {
  readonly chord: readonly [TablePoint, TablePoint];
  readonly widest: TablePoint;
  readonly gates: readonly [TablePoint, TablePoint];
  readonly nearMark: TablePoint;
  readonly farMark: TablePoint;
  readonly obstacle: Round;
  /** Smallest distance between the ball's edge and the obstacle's; negative is a hit. */
  readonly clearance: number;
  /** The same by the rule of the marks: bend − (R − gap). */
  readonly clearanceAtMarks: number;
  /** Smallest gap that a ball with this bend clears. */
  readonly leastGap: number;
  /** Whether the arrival is between the side rails. */
  readonly onTable: boolean;
  /**
   * The pocket on the rail opposite that is nearest along the rail, and how far the arrival is past its centre, along
   * +x.
   */
  readonly pocket: Round;
  readonly offPocket: number;
}

const PIECES = 64;
const LEVELS = 24;
const APPROACH = 0.3;
const APPROACH_PIECES = 16;

export function shotLayout(shot: ShotSettings, computed: ComputedShot, conditions: Conditions): ShotLayout {
  const radius = conditions.ballDiameter / 2;
  const table = tableShape(shot.rail);
  const place = placer(shot, radius);
  const { bank } = computed;
  const points = bank ? pathPoints(bank, conditions) : [];
  const { spot, cueBall } = ballStarts(shot, computed, radius);
  return {
    table,
    ballRadius: radius,
    touch: place({ x: 0, y: 0 }),
    approach: spot
      ? wayToCushion(computed, spot, conditions)
      : [place({ x: -APPROACH * Math.sin(shot.angle), y: -APPROACH * Math.cos(shot.angle) }), place({ x: 0, y: 0 })],
    spot,
    cueBall,
    cueBallHits: cueBall &&
      spot && { x: spot.x - 2 * radius * Math.sin(shot.angle), y: spot.y + 2 * radius * Math.cos(shot.angle) },
    path: points.map(place),
    marked: bank?.path && markedOut(shot, points, bank.path, radius, table, place),
  };
}

/** From the spot as far as the ball gets toward the cushion. */
function wayToCushion({ approach, leaving }: ComputedShot, spot: TablePoint, conditions: Conditions): TablePoint[] {
  if (!leaving) return [spot];
  const run = approach?.run ?? runOnCloth(leaving, conditions);
  const end = approach?.time ?? Math.min(run.rest, run.slipEnd + 3);
  return Array.from({ length: APPROACH_PIECES + 1 }, (_, i) => {
    const { x, y } = positionAt(run, (end * i) / APPROACH_PIECES);
    return { x: spot.x + x - run.x, y: spot.y - (y - run.y) };
  });
}

/** From the coordinates of a bank (touch at the origin, y into the rail) to those of the table. */
function placer({ along }: ShotSettings, radius: number): (point: Point) => TablePoint {
  return ({ x, y }) => ({ x: along + x, y: radius - y });
}

function pathPoints(bank: Bank, conditions: Conditions): Point[] {
  if (bank.path) {
    const { run, arrival, swing } = bank.path;
    const times = Array.from({ length: PIECES + 1 }, (_, i) => (arrival.time * i) / PIECES);
    if (swing.distance > 0) times.push(swing.time);
    return times.sort((a, b) => a - b).map((time) => positionAt(run, time));
  }
  // Never at the line: as far as it gets, and back if it turns.
  const run = runOnCloth(bank.offCushion, conditions);
  const end = Math.min(timeAtLine(run, 0), run.rest, run.slipEnd + 3);
  return Array.from({ length: PIECES + 1 }, (_, i) => positionAt(run, (end * i) / PIECES));
}

function markedOut(
  shot: ShotSettings,
  points: readonly Point[],
  path: NonNullable<Bank["path"]>,
  radius: number,
  table: TableShape,
  place: (point: Point) => TablePoint,
): Marked {
  const { arrival, swing, bend } = path;
  const diameter = 2 * radius;
  const chord = { x: arrival.x, y: -shot.across };
  const length = Math.hypot(chord.x, chord.y);
  // Away from the swing; toward −x where there is none.
  const swings = swing.distance > 0 ? Math.sign(swing.x - (chord.x * swing.along) / length) : 1;
  // The chord runs toward −y here, so its sides are those of its mirror.
  const mirror = besideChord({ x: 0, y: 0 }, { x: chord.x, y: shot.across }, swings > 0 ? -1 : 1);
  const beside = (share: number, distance: number): Point => {
    const { x, y } = mirror(share, distance);
    return { x, y: -y };
  };
  const share = swing.along / length;
  const off = offChord(shot.gap, diameter, 2 * shot.obstacleRadius);
  // A gate touches its line, so it is slid along the chord to where it stands level with the departure or the arrival.
  const slid = -beside(0, diameter).y / chord.y;
  const obstacle = { ...beside(share, off.obstacle), radius: shot.obstacleRadius };
  const passing = there(closestPassing(points, [obstacle], radius), "a place where the path passes the obstacle");
  const x = shot.along + arrival.x;
  const pocket = table.pockets
    .filter(({ y }) => y >= table.depth)
    .reduce((near, one) => (Math.abs(one.x - x) < Math.abs(near.x - x) ? one : near));
  return {
    chord: [place({ x: 0, y: 0 }), place(chord)],
    widest: place(swing),
    gates: [place(beside(slid, diameter)), place(beside(1 + slid, diameter))],
    nearMark: place(beside(share, 0)),
    farMark: place(beside(share, off.farMark)),
    obstacle: { ...place(obstacle), radius: shot.obstacleRadius },
    clearance: passing.clearance,
    clearanceAtMarks: clearanceAtMarks(Math.abs(bend), shot.gap, diameter),
    leastGap: requiredOffset(Math.abs(bend), 0, diameter),
    onTable: offTable({ x, y: table.depth / 2 }, shot, radius) === 0,
    pocket,
    offPocket: x - pocket.x,
  };
}

/**
 * Outline of where the path may run as the table's constants vary: between the leftmost and the rightmost path at even
 * distances from the cushion. Empty where some of them never bring the ball to the line.
 */
export function pathBand(shot: ShotSettings, sets: readonly Conditions[]): TablePoint[] {
  const [first] = sets;
  const runs = sets.flatMap((conditions) => computeShot(shot, conditions).bank?.path?.run ?? []);
  if (!first || sets.length < 2 || runs.length < sets.length) return [];
  const place = placer(shot, first.ballDiameter / 2);
  const left: TablePoint[] = [];
  const right: TablePoint[] = [];
  for (let level = 0; level <= LEVELS; level++) {
    const y = (-shot.across * level) / LEVELS;
    const xs = runs.map((run) => (level === 0 ? 0 : positionAt(run, timeAtLine(run, y)).x));
    left.push(place({ x: Math.min(...xs), y }));
    right.push(place({ x: Math.max(...xs), y }));
  }
  return [...left, ...right.reverse()];
}
