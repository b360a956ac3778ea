/**
 * Whether a whole shot can be played as it is laid out: every way of a ball against everything that stands, against
 * noses and jaws; everything that stands against rails, pockets' mouths and the rest. Any one length unit.
 */
import { closestPassing, type Obstacle, type Point } from "./pathClearance";
import { mouthRoom, type Pocket, type TableShape } from "./tableShape";

/** A ball's way, as its centre goes; pieces between the points are straight. */
export interface Way {
  readonly name: string;
  readonly points: readonly Point[];
}

export interface Stood extends Obstacle {
  readonly name: string;
  /**
   * Gone when a ball could meet it, though it must have a place: a guide is lifted before the shot, a mark lies flat, a
   * ball leaves its spot.
   */
  readonly gone?: "lifted" | "flat" | "leaves";
}

export type FindingKind =
  /** A ball's way against something that stands. */
  | "in the way"
  /** A ball's way against a nose or a jaw. */
  | "rail"
  /** Something that stands against a rail. */
  | "inside a rail"
  /** Something that stands where a pocket opens, so that no cushion holds it. */
  | "in a mouth"
  /** Two things that stand. */
  | "overlap"
  /** The line along which a ball arrives against the pocket's jaws. */
  | "pocket"
  /** Where the ball touches the cushion, against the jaws beside it. */
  | "no cushion";

export interface Finding {
  readonly kind: FindingKind;
  readonly what: string;
  readonly against: string;
  /** Room between the two edges, below 0 by how much is missing. */
  readonly clearance: number;
  readonly at: Point;
}

export interface WholeShotRequest {
  readonly table: TableShape;
  readonly ballRadius: number;
  readonly ways: readonly Way[];
  /** The last piece of this way is to end in a pocket on the rail opposite; it leaves from the touch. */
  readonly leaving: Way;
  readonly standing: readonly Stood[];
}

/** The pocket on the rail opposite that is nearest to a place along it. */
export function pocketOpposite({ pockets, depth }: TableShape, x: number): Pocket | undefined {
  return pockets
    .filter(({ y, jaws }) => y >= depth - 1e-9 && jaws.some((jaw) => jaw.y >= depth - 1e-9))
    .reduce<Pocket | undefined>(
      (near, one) => (near && Math.abs(near.x - x) <= Math.abs(one.x - x) ? near : one),
      undefined,
    );
}

interface Looked extends WholeShotRequest {
  readonly edges: readonly Nose[];
}

/** Everything that was looked at, the least room first. */
export function wholeShot(asked: WholeShotRequest): Finding[] {
  const { leaving, ways } = asked;
  const request = { ...asked, edges: noses(asked.table) };
  return [
    ...[...ways, leaving].flatMap((way) => againstStanding(way, request)),
    ...[...ways, leaving].flatMap((way) => againstNoses(way, request)),
    ...request.standing.flatMap((one, i) => placeOf(one, request.standing.slice(i + 1), request)),
    ...touchOf(request),
    ...arrivalOf(request),
  ].sort((a, b) => a.clearance - b.clearance);
}

function againstStanding({ name, points }: Way, { standing, ballRadius }: WholeShotRequest): Finding[] {
  return standing
    .filter(({ gone }) => gone === undefined)
    .flatMap((one): Finding[] => {
      const passing = closestPassing(points, [one], ballRadius);
      return passing
        ? [{ kind: "in the way", what: name, against: one.name, clearance: passing.clearance, at: passing.at }]
        : [];
    });
}

export interface Nose {
  readonly name: string;
  readonly from: Point;
  readonly to: Point;
}

/**
 * The noses, from jaw to jaw.
 * @example noses(tableShape("long")).length === 6
 */
export function noses({ width, depth, pockets }: TableShape): Nose[] {
  const rail = (name: string, on: (place: Point) => boolean, along: (place: Point) => number): Nose[] => {
    const tips = pockets
      .flatMap(({ jaws }) => jaws)
      .filter(on)
      .sort((a, b) => along(a) - along(b));
    return tips.flatMap((from, i) => {
      const to = tips[i + 1];
      return i % 2 === 0 && to ? [{ name, from, to }] : [];
    });
  };
  const near = (a: number, b: number) => Math.abs(a - b) < 1e-9;
  return [
    ...rail(
      "the banked rail",
      ({ y }) => near(y, 0),
      ({ x }) => x,
    ),
    ...rail(
      "the rail opposite",
      ({ y }) => near(y, depth),
      ({ x }) => x,
    ),
    ...rail(
      "the left rail",
      ({ x }) => near(x, 0),
      ({ y }) => y,
    ),
    ...rail(
      "the right rail",
      ({ x }) => near(x, width),
      ({ y }) => y,
    ),
  ];
}

/** The banked rail is where ways begin and end, the rail opposite where the last one does (see arrivalOf). */
function againstNoses(way: Way, { edges, ballRadius, leaving }: Looked): Finding[] {
  let least: Finding | undefined;
  for (const { name, from, to } of edges) {
    if (name === "the banked rail" || (way === leaving && name === "the rail opposite")) continue;
    for (const at of way.points) {
      const clearance = distanceToPiece(at, from, to) - ballRadius;
      if (!least || clearance < least.clearance) least = { kind: "rail", what: way.name, against: name, clearance, at };
    }
  }
  return least ? [least] : [];
}

function distanceToPiece(point: Point, from: Point, to: Point): number {
  const x = to.x - from.x;
  const y = to.y - from.y;
  const share = Math.min(1, Math.max(0, ((point.x - from.x) * x + (point.y - from.y) * y) / (x * x + y * y)));
  return Math.hypot(point.x - from.x - share * x, point.y - from.y - share * y);
}

/** Something that stands: on the table, not in a mouth, not in something else. */
function placeOf(one: Stood, others: readonly Stood[], { table }: WholeShotRequest): Finding[] {
  const { width, depth } = table;
  const rails: Finding[] = (
    [
      ["the left rail", one.x],
      ["the right rail", width - one.x],
      ["the banked rail", one.y],
      ["the rail opposite", depth - one.y],
    ] as const
  ).map(([against, off]) => ({ kind: "inside a rail", what: one.name, against, clearance: off - one.radius, at: one }));
  const mouth = table.pockets.map((pocket) => mouthOf(one, pocket)).filter((found) => found !== undefined);
  const met = others
    .filter(({ gone }) => isSolid(gone) && isSolid(one.gone))
    .map((other): Finding => {
      const clearance = Math.hypot(one.x - other.x, one.y - other.y) - one.radius - other.radius;
      return { kind: "overlap", what: one.name, against: other.name, clearance, at: one };
    });
  return [...rails, ...mouth, ...met];
}

/** Whether something else cannot stand there, too. */
const isSolid = (gone: Stood["gone"]) => gone !== "lifted" && gone !== "flat";

/** How far a ball reaches over the line between a pocket's jaws, where its centre stands before that line. */
function mouthOf(one: Stood, { jaws: [first, second], name, x, y }: Pocket): Finding | undefined {
  const along = { x: second.x - first.x, y: second.y - first.y };
  const square = along.x * along.x + along.y * along.y;
  const share = ((one.x - first.x) * along.x + (one.y - first.y) * along.y) / square;
  if (share <= 0 || share >= 1) return undefined;
  const length = Math.sqrt(square);
  const off = (at: Point) => ((at.x - first.x) * along.y - (at.y - first.y) * along.x) / length;
  // Beyond the line is where the pocket's own centre lies.
  const before = -Math.sign(off({ x, y })) * off(one);
  return { kind: "in a mouth", what: one.name, against: `the ${name}`, clearance: before - one.radius, at: one };
}

/** The ball must touch a nose, not the gap between two jaws. */
function touchOf({ edges, leaving }: Looked): Finding[] {
  const [touch] = leaving.points;
  if (!touch) return [];
  const banked = edges.filter(({ name }) => name === "the banked rail");
  const clearance = Math.max(...banked.map(({ from, to }) => Math.min(touch.x - from.x, to.x - touch.x)));
  return [{ kind: "no cushion", what: leaving.name, against: "the banked rail", clearance, at: touch }];
}

/** The line of the last piece, on into the pocket nearest to where it ends. */
function arrivalOf({ table, leaving, ballRadius }: WholeShotRequest): Finding[] {
  const [before, end] = leaving.points.slice(-2);
  if (!before || !end || !(end.y > before.y)) return [];
  const direction = { x: end.x - before.x, y: end.y - before.y };
  const x = end.x + (direction.x / direction.y) * (table.depth - end.y);
  const pocket = pocketOpposite(table, x);
  if (!pocket) return [];
  return [
    {
      kind: "pocket",
      what: leaving.name,
      against: `the ${pocket.name}`,
      clearance: mouthRoom(pocket, end, direction, ballRadius),
      at: { x, y: table.depth },
    },
  ];
}
