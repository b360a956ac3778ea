/**
 * Where the balls, marks and the obstacle of a bank stand when the approach is known, so that the departure gate lets
 * the ball come. Any one length unit; x along the banked rail, y from its nose into the table.
 *
 * The channel is the line of centres that touches both gates. The near mark stands on it, the far mark a ball's
 * diameter beside it on the gates' side. A ball's own chord need not be the channel: where the gate at the cushion
 * stands beyond grazing it, the bend that R − gap says (the set bend) is more than the path's own, and less where the
 * ball starts inside the channel. The obstacle is put so that a ball that grazes it has the wanted bend of the path.
 */
import { besideChord, type LaidOut, type LayoutRequest } from "./layout";
import type { Point } from "./pathClearance";

/**
 * Where the departure gate stands: frozen to the cushion on the side from which the ball comes, in the angle between
 * the approach and the departing line and off the rail, or frozen to the cushion on the side to which the ball goes.
 */
export const ARRANGEMENTS = ["near", "inside", "far"] as const;
export type Arrangement = (typeof ARRANGEMENTS)[number];

export interface GatedRequest extends LayoutRequest {
  /** Length of the banked rail; the gate at the pocket is kept a ball's radius off the rails beside it. */
  readonly railLength?: number;
  /** Width of the corner pockets' mouths, which gate and guide are kept out of; 0 when left out. */
  readonly cornerMouth?: number;
  /**
   * Angle at which the ball comes, radians from square; positive from the side opposite to where it goes. Below 90°.
   */
  readonly approach: number;
  /**
   * Angle at which the ball leaves, likewise; that of the chord when left out. Counts for a gate that it has to pass.
   */
  readonly leaving?: number;
  readonly arrangement: Arrangement;
  /** How far beyond grazing the gate stands from the leg that must pass it, 0 when left out. */
  readonly room?: number;
}

export interface GatedLayout {
  readonly places: readonly LaidOut[];
  /** From the obstacle's edge to the near mark. */
  readonly gap: number;
  /** R − gap. */
  readonly setBend: number;
  /** Set bend less the bend of the path: what a ball on its chord passes the gates beyond grazing, at the marks. */
  readonly correction: number;
  /** How far beyond grazing the ball's chord passes the gate at the cushion where it starts; below 0 inside. */
  readonly beyondGrazing: number;
  /** From the ball's centre at the cushion to the gate's, along the rail (+ to where the ball goes) and off it. */
  readonly gateAlong: number;
  readonly gateOff: number;
}

/** Coordinates in which the ball goes toward +x: from the touch, u along the rail and v into the table. */
interface Frame {
  /** The chord's angle from square. */
  readonly chord: number;
  /** 1 where obstacle and marks stand to +x of the chord, −1 where they stand to −x. */
  readonly side: 1 | -1;
}

/**
 * @example gatedLayout({ tableWidth: 50, departure: 20, arrival: 38, swing: 0.5, bend: 0.5, ballDiameter: 2, obstacleDiameter: 2, approach: 0, arrangement: "near" }).gateAlong // -2
 */
export function gatedLayout(request: GatedRequest): GatedLayout {
  const { tableWidth, departure, arrival, swing, bend, ballDiameter: D, obstacleDiameter } = request;
  const R = D / 2;
  const across = tableWidth - R;
  const travel = arrival < departure ? -1 : 1;
  const sideways = travel * (arrival - departure);
  const side = bend < 0 ? 1 : -1;
  const frame: Frame = { chord: Math.atan2(sideways, across), side };
  const onChord = besideChord({ x: 0, y: 0 }, { x: sideways, y: across }, side);

  const gate = cushionGate(request, frame);
  const pocketGate = gateAtPocket(request, onChord);
  const sameSide = (gate.x < 0 || request.arrangement === "inside" ? -1 : 1) === side;
  // Line of the gates and the channel beside it; with the gate on the other side the channel is the ball's own chord.
  const from = sameSide ? gate : onChord(0, D);
  const beside = besideChord(from, { x: pocketGate.x - from.x, y: pocketGate.y - from.y }, side === 1 ? -1 : 1);
  const gateLine = besideChord(from, { x: pocketGate.x - from.x, y: pocketGate.y - from.y }, side);
  const widest = onChord(swing, 0);
  const share = shareOf(widest, from, pocketGate);
  const near = beside(share, D);
  const far = beside(share, 0);
  // The obstacle's centre lies on the line through the marks; its distance from the ball's chord grows evenly with it.
  const rho = obstacleDiameter / 2;
  const offOwn = (place: Point) => side * (place.x * Math.cos(frame.chord) - place.y * Math.sin(frame.chord));
  const slope = (offOwn(far) - offOwn(near)) / D;
  const gap = (R + rho - Math.abs(bend) - offOwn(near)) / slope - rho;
  const obstacle = gateLine(share, gap + rho - D);

  const start = { x: 0, y: 0 };
  const placed = (label: string, { x, y }: Point): LaidOut => ({ label, x: departure + travel * x, y: R + y });
  const line = { from: beside(0, D), to: beside(1, D) };
  const limits = edges(request);
  return {
    places: [
      placed("departure", start),
      placed("arrival", onChord(1, 0)),
      placed("gate at the cushion", gate),
      placed("gate at the pocket", pocketGate),
      placed("guide at the cushion", guideAt(gate, line, limits)),
      placed("guide at the pocket", guideAt(pocketGate, line, limits)),
      placed("near mark", near),
      placed("far mark", far),
      placed("obstacle", obstacle),
    ],
    gap,
    setBend: R - gap,
    correction: R - gap - Math.abs(bend),
    beyondGrazing: sameSide ? distanceFrom(start, from, pocketGate) - D : distanceFrom(gate, start, onChord(1, 0)) - D,
    gateAlong: gate.x,
    gateOff: gate.y,
  };
}

/** The gate at the cushion, from the touch. */
function cushionGate({ approach, leaving, arrangement, room = 0, ballDiameter: D }: GatedRequest, frame: Frame): Point {
  const { chord, side } = frame;
  if (arrangement === "near") return { x: -(D + room) / Math.cos(Math.max(0, approach)), y: 0 };
  if (arrangement === "far") {
    // On the obstacle's side it touches the channel; on the other the ball that leaves longer than its chord must pass.
    const passing = side === 1 ? chord : Math.max(chord, leaving ?? chord);
    return { x: (side === 1 ? D : D + room) / Math.cos(passing), y: 0 };
  }
  // At D + room from the approach and at D from the departing line, in the angle between the two.
  const leg = side === -1 ? chord : Math.min(chord, leaving ?? chord);
  const open = Math.sin(approach + leg);
  return {
    x: ((D + room) * Math.sin(leg) - D * Math.sin(approach)) / open,
    y: ((D + room) * Math.cos(leg) + D * Math.cos(approach)) / open,
  };
}

/** A half-plane a u + b v ≤ most that a ball's centre has to stay in. */
interface Edge {
  readonly a: number;
  readonly b: number;
  readonly most: number;
}

/** What keeps a ball by the rail opposite on the table: that rail, the rails beside it, the corners' mouths. */
function edges({ tableWidth, departure, arrival, railLength, cornerMouth = 0, ballDiameter: D }: GatedRequest): Edge[] {
  const R = D / 2;
  const opposite = { a: 0, b: 1, most: tableWidth - D };
  if (railLength === undefined) return [opposite];
  const travel = arrival < departure ? -1 : 1;
  const ahead = travel > 0 ? railLength - departure : departure;
  const behind = railLength - ahead;
  // A corner's mouth runs at 45° between jaws that stand mouth/√2 from the corner.
  const mouth = tableWidth - R - cornerMouth / Math.SQRT2 - Math.SQRT2 * R;
  return [
    opposite,
    { a: 1, b: 0, most: ahead - R },
    { a: -1, b: 0, most: behind - R },
    { a: 1, b: 1, most: ahead + mouth },
    { a: -1, b: 1, most: behind + mouth },
  ];
}

/** How far back along a line (from one point to another, as a share) a place must go to be within every edge. */
function backWithin(limits: readonly Edge[], place: Point, line: Point): number {
  return limits.reduce((back, { a, b, most }) => {
    const beyond = a * place.x + b * place.y - most;
    const pace = a * line.x + b * line.y;
    return beyond > 0 && pace > 0 ? Math.max(back, beyond / pace) : back;
  }, 0);
}

/**
 * Touching the chord, on the obstacle's side, as far on as it may be: in the mouth of a pocket it could not be put
 * again where it was.
 */
function gateAtPocket(request: GatedRequest, onChord: (share: number, distance: number) => Point): Point {
  const { x: fromX, y: fromY } = onChord(0, request.ballDiameter);
  const end = onChord(1, request.ballDiameter);
  const back = backWithin(edges(request), end, { x: end.x - fromX, y: end.y - fromY });
  return onChord(1 - back, request.ballDiameter);
}

/**
 * A guide on the channel: frozen to its gate, or, where it would then stand in a rail or a corner's mouth, on the line
 * as far as these let it.
 */
function guideAt(gate: Point, line: { readonly from: Point; readonly to: Point }, limits: readonly Edge[]): Point {
  const x = line.to.x - line.from.x;
  const y = line.to.y - line.from.y;
  const at = (part: number) => ({ x: line.from.x + part * x, y: line.from.y + part * y });
  const share = shareOf(gate, line.from, line.to);
  const frozen = at(share);
  if (frozen.y < 0) return at(-line.from.y / y);
  return at(share - backWithin(limits, frozen, { x, y }));
}

function shareOf(point: Point, from: Point, to: Point): number {
  const x = to.x - from.x;
  const y = to.y - from.y;
  return ((point.x - from.x) * x + (point.y - from.y) * y) / (x * x + y * y);
}

function distanceFrom(point: Point, from: Point, to: Point): number {
  const x = to.x - from.x;
  const y = to.y - from.y;
  return Math.abs((point.x - from.x) * y - (point.y - from.y) * x) / Math.hypot(x, y);
}
