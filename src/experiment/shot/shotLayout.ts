/**
 * What the drawing of a shot shows, as places on the table: path, chord, gates, marks, obstacle, and the band of paths
 * over the table's constants. SI.
 *
 * Places are those of tableShape: x along the banked rail from its left corner, y from its nose into the table. The
 * gates stand on the side that the ball swings away from (see gatedLayout): of a short bend the one at the cushion is
 * frozen where it lets the ball come, of a long one on the other side. At the widest swing the near mark is on the
 * channel and the far mark level with the gates; the obstacle's edge is `gap` from the near mark toward the far one.
 */
import { positionAt, runOnCloth, timeAtLine } from "../../bank/cloth";
import type { Conditions } from "../../bank/conditions";
import { clearanceAtMarks, requiredOffset } from "../../bank/bend";
import { gatedLayout, type Arrangement } from "../../bank/gatedLayout";
import { closestPassing, type Point } from "../../bank/pathClearance";
import type { Bank, BankPath } from "../../bank/shot";
import { pocketOpposite } from "../../bank/wholeShot";
import { tableShape, type Pocket, type TablePoint, type Round, type TableShape } from "../../bank/tableShape";
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
  /** Where the gate at the cushion stands. */
  readonly arrangement: Arrangement;
  /** Set bend (R − gap) less the bend of the path that it asks for. */
  readonly correction: number;
  readonly nearMark: TablePoint;
  readonly farMark: TablePoint;
  readonly obstacle: Round;
  /** Smallest distance between the ball's edge and the obstacle's; negative is a hit. */
  readonly clearance: number;
  /** The same by the rule of the marks: bend of the path − (R − gap − correction). */
  readonly clearanceAtMarks: number;
  /** Smallest gap that a ball with this bend clears. */
  readonly leastGap: number;
  /** Whether the arrival is between the side rails. */
  readonly onTable: boolean;
  /**
   * The pocket on the rail opposite that is nearest along the rail, and how far the arrival is past its centre, along
   * +x.
   */
  readonly pocket: Pocket;
  readonly offPocket: number;
}

const PIECES = 64;
const LEVELS = 24;
const APPROACH = 0.3;
const APPROACH_PIECES = 16;

/** @param pieces in which the path off the cushion is drawn */
export function shotLayout(
  shot: ShotSettings,
  computed: ComputedShot,
  conditions: Conditions,
  pieces = PIECES,
): ShotLayout {
  const radius = conditions.ballDiameter / 2;
  const table = tableShape(shot.rail, shot.table);
  const place = placer(shot, radius);
  const { bank } = computed;
  const points = bank ? pathPoints(bank, conditions, pieces) : [];
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
    marked: bank?.path && markedOut(shot, points, { ...bank, path: bank.path }, radius, table, place),
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

function pathPoints(bank: Bank, conditions: Conditions, pieces: number): Point[] {
  if (bank.path) {
    const { run, arrival, swing } = bank.path;
    const times = Array.from({ length: pieces + 1 }, (_, i) => (arrival.time * i) / pieces);
    if (swing.distance > 0) times.push(swing.time);
    return times.sort((a, b) => a - b).map((time) => positionAt(run, time));
  }
  // Never at the line: as far as it gets, and back if it turns.
  const run = runOnCloth(bank.offCushion, conditions);
  const end = Math.min(timeAtLine(run, 0), run.rest, run.slipEnd + 3);
  return Array.from({ length: pieces + 1 }, (_, i) => positionAt(run, (end * i) / pieces));
}

function markedOut(
  shot: ShotSettings,
  points: readonly Point[],
  { path, atCushion }: Bank & { readonly path: BankPath },
  radius: number,
  table: TableShape,
  place: (point: Point) => TablePoint,
): Marked {
  const { arrival, swing, bend } = path;
  const chord = { x: arrival.x, y: -shot.across };
  const laid = gatesOf(shot, path, Math.atan2(atCushion.vx, atCushion.vy), radius);
  const obstacle = { ...laid.obstacle, radius: shot.obstacleRadius };
  const passing = there(
    closestPassing(points.map(place), [obstacle], radius),
    "a place where the path passes the obstacle",
  );
  const x = shot.along + arrival.x;
  const pocket = there(pocketOpposite(table, x), "a pocket on the rail opposite");
  return {
    chord: [place({ x: 0, y: 0 }), place(chord)],
    widest: place(swing),
    ...laid,
    obstacle,
    clearance: passing.clearance,
    clearanceAtMarks: clearanceAtMarks(Math.abs(bend) + laid.correction, shot.gap, 2 * radius),
    leastGap: requiredOffset(Math.abs(bend) + laid.correction, 0, 2 * radius),
    onTable: offTable({ x, y: table.depth / 2 }, shot, radius) === 0,
    pocket,
    offPocket: x - pocket.x,
  };
}

/** Gates, marks and the obstacle, which stand on the side that the ball swings away from. */
function gatesOf(
  { along, across, gap, room, obstacleRadius }: ShotSettings,
  { arrival, swing, bend }: BankPath,
  comesAt: number,
  radius: number,
) {
  const length = Math.hypot(arrival.x, across);
  const travel = arrival.x < 0 ? -1 : 1;
  // Away from the swing; toward where it came from when there is none.
  const swings = swing.distance > 0 ? Math.sign(swing.x - (arrival.x * swing.along) / length) : travel;
  const arrangement: Arrangement = swings === travel ? "near" : "far";
  const { places, correction } = gatedLayout({
    tableWidth: across + radius,
    departure: along,
    arrival: along + arrival.x,
    swing: swing.along / length,
    bend: swings === travel ? Math.abs(bend) : -Math.abs(bend),
    ballDiameter: 2 * radius,
    obstacleDiameter: 2 * obstacleRadius,
    approach: travel * comesAt,
    arrangement,
    room,
  });
  const at = (label: string): TablePoint => {
    const { x, y } = there(
      places.find((one) => one.label === label),
      label,
    );
    return { x, y };
  };
  const [nearMark, farMark] = [at("near mark"), at("far mark")];
  const off = (gap + obstacleRadius) / (2 * radius);
  return {
    gates: [at("gate at the cushion"), at("gate at the pocket")] as const,
    arrangement,
    correction,
    nearMark,
    farMark,
    obstacle: { x: nearMark.x + off * (farMark.x - nearMark.x), y: nearMark.y + off * (farMark.y - nearMark.y) },
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
