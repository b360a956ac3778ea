/**
 * What the drawing of a shot shows, as places on the table: path, chord, gates, marks, obstacle, and the band of paths over
 * the table's constants.
 * May import: shotSettings.ts, shotSweep.ts, bank/. SI.
 *
 * Places are those of tableShape: x along the banked rail from its left corner, y from its nose into the table. The gates
 * stand on the side that the ball swings away from, one ball's diameter from the chord: one at the cushion, one at the
 * line across. At the widest swing the near mark is on the chord and the far mark level with the gates; the obstacle's
 * edge is `gap` from the near mark toward the far one.
 */
import { positionAt, runOnCloth, timeAtLine } from "../bank/cloth";
import type { Conditions } from "../bank/conditions";
import { clearanceAtMarks, requiredOffset } from "../bank/bend";
import { closestPassing, type Point } from "../bank/pathClearance";
import type { Bank } from "../bank/shot";
import { tableShape, type Place, type Round, type TableShape } from "../bank/tableShape";
import type { ShotSettings } from "./shotSettings";
import { bankOfShot } from "./shotSweep";

export interface ShotLayout {
  readonly table: TableShape;
  readonly ballRadius: number;
  /** Centre of the ball where it touches the cushion, and back along the way it came. */
  readonly touch: Place;
  readonly from: Place;
  /** Centre of the ball from the cushion to the line, or as far as it gets. */
  readonly path: readonly Place[];
  /** Undefined when the ball never reaches the line. */
  readonly marked: Marked | undefined;
}

export interface Marked {
  readonly chord: readonly [Place, Place];
  readonly widest: Place;
  readonly gates: readonly [Place, Place];
  readonly nearMark: Place;
  readonly farMark: Place;
  readonly obstacle: Round;
  /** Smallest distance between the ball's edge and the obstacle's; negative is a hit. */
  readonly clearance: number;
  /** The same by the rule of the marks: bend − (R − gap). */
  readonly clearanceAtMarks: number;
  /** Smallest gap that a ball with this bend clears. */
  readonly leastGap: number;
  /** Whether the arrival is between the side rails. */
  readonly onTable: boolean;
}

const PIECES = 64;
const LEVELS = 24;
const APPROACH = 0.3;

/** @param bank of the shot, as bankOfShot gives it */
export function shotLayout(shot: ShotSettings, bank: Bank, conditions: Conditions): ShotLayout {
  const radius = conditions.ballDiameter / 2;
  const table = tableShape(shot.rail);
  const place = placer(shot, radius);
  const points = pathPoints(bank, conditions);
  const { path } = bank;
  return {
    table,
    ballRadius: radius,
    touch: place({ x: 0, y: 0 }),
    from: place({ x: -APPROACH * Math.sin(shot.angle), y: -APPROACH * Math.cos(shot.angle) }),
    path: points.map(place),
    marked: path && markedOut(shot, points, path, radius, table, place),
  };
}

/** From the coordinates of a bank (touch at the origin, y into the rail) to those of the table. */
function placer({ along }: ShotSettings, radius: number): (point: Point) => Place {
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

function markedOut(shot: ShotSettings, points: readonly Point[], path: NonNullable<Bank["path"]>, radius: number, table: TableShape, place: (point: Point) => Place): Marked {
  const { arrival, chordAngle, swing, bend } = path;
  const diameter = 2 * radius;
  const along = { x: Math.sin(chordAngle), y: -Math.cos(chordAngle) };
  // Square to the chord, away from the swing; toward −x where there is none.
  const side = (swing.x - along.x * swing.along) * -along.y + (swing.y - along.y * swing.along) * along.x;
  const turn = swing.distance > 0 && side > 0 ? -1 : 1;
  const away = { x: -along.y * turn, y: along.x * turn };
  const near = { x: along.x * swing.along, y: along.y * swing.along };
  const off = (from: Point, distance: number): Point => ({ x: from.x + away.x * distance, y: from.y + away.y * distance });
  const aside = (Math.sign(away.x) * diameter) / Math.cos(chordAngle);
  const obstacle = { ...off(near, shot.gap + shot.obstacleRadius), radius: shot.obstacleRadius };
  const x = shot.along + arrival.x;
  return {
    chord: [place({ x: 0, y: 0 }), place({ x: arrival.x, y: -shot.across })],
    widest: place(swing),
    gates: [place({ x: aside, y: 0 }), place({ x: arrival.x + aside, y: -shot.across })],
    nearMark: place(near),
    farMark: place(off(near, diameter)),
    obstacle: { ...place(obstacle), radius: shot.obstacleRadius },
    clearance: closestPassing(points, [obstacle], radius)!.clearance,
    clearanceAtMarks: clearanceAtMarks(Math.abs(bend), shot.gap, diameter),
    leastGap: requiredOffset(Math.abs(bend), 0, diameter),
    onTable: x >= radius && x <= table.width - radius,
  };
}

/**
 * Outline of where the path may run as the table's constants vary: between the leftmost and the rightmost path at even
 * distances from the cushion. Empty where some of them never bring the ball to the line.
 */
export function pathBand(shot: ShotSettings, sets: readonly Conditions[]): Place[] {
  const paths = sets.map((conditions) => bankOfShot(shot, conditions).path);
  if (paths.length < 2 || paths.some((path) => !path)) return [];
  const place = placer(shot, sets[0].ballDiameter / 2);
  const left: Place[] = [];
  const right: Place[] = [];
  for (let level = 0; level <= LEVELS; level++) {
    const y = (-shot.across * level) / LEVELS;
    const xs = paths.map((path) => (level === 0 ? 0 : positionAt(path!.run, timeAtLine(path!.run, y)).x));
    left.push(place({ x: Math.min(...xs), y }));
    right.push(place({ x: Math.max(...xs), y }));
  }
  return [...left, ...right.reverse()];
}
