/**
 * What a drawing of a layout shows, on the page and on paper: numbered places, ways, noses, and how far each place may
 * be off. SI, on the table.
 */
import type { Point } from "../../bank/pathClearance";
import type { TableShape } from "../../bank/tableShape";
import { noses, type Nose } from "../../bank/wholeShot";
import type { LaidShot } from "./layoutCheck";
import { comingWay, cueWay, leavingWay, placedBalls, placeWords, tableOfForm } from "./layoutForm";

export type SceneKind = "gate" | "guide" | "mark" | "obstacle" | "start";

export interface ScenePlace extends Point {
  readonly number: number;
  readonly label: string;
  readonly kind: SceneKind;
  /** 0 of a mark. */
  readonly radius: number;
  /** From which rails it is measured. */
  readonly words: string;
  /** Off square to the line it may be so far; undefined of what the bend does not follow from. */
  readonly tolerance: number | undefined;
  /** Direction in which its number stands clear, of length 1. */
  readonly clear: Point;
  /** Whether it is in the way, or something is in its. */
  readonly amiss: boolean;
}

export interface LayoutScene {
  readonly table: TableShape;
  readonly noses: readonly Nose[];
  readonly coming: readonly Point[];
  readonly leaving: readonly Point[];
  readonly cue: readonly [Point, Point];
  readonly chord: readonly [Point, Point];
  /** Square to the chord, toward the obstacle's side, of length 1. */
  readonly square: Point;
  readonly places: readonly ScenePlace[];
  readonly ballRadius: number;
}

/** Tolerances are too small to be seen to scale; they are drawn so many times as large. */
export const TOLERANCE_TIMES = 20;

const KINDS: readonly (readonly [start: string, kind: SceneKind])[] = [
  ["gate", "gate"],
  ["guide", "guide"],
  ["near", "mark"],
  ["far", "mark"],
  ["obstacle", "obstacle"],
];

export function layoutScene(laid: LaidShot): LayoutScene {
  const { form } = laid;
  const balls = placedBalls(form);
  const found = (label: string): Point => balls.find((one) => one.label === label) ?? { x: 0, y: 0 };
  const [near, far] = [found("near mark"), found("far mark")];
  const between = Math.hypot(far.x - near.x, far.y - near.y);
  const square = { x: (far.x - near.x) / between, y: (far.y - near.y) / between };
  const cue = cueWay(form);
  return {
    table: tableOfForm(form),
    noses: noses(tableOfForm(form)),
    coming: comingWay(form),
    leaving: leavingWay(form),
    cue,
    chord: [found("departure"), found("arrival")],
    square,
    ballRadius: form.ballDiameter / 2,
    places: [...standing(laid, balls, square), ...starting(laid, cue[0], square)].map((place, i) => ({
      ...place,
      number: i + 1,
    })),
  };
}

type Unnumbered = Omit<ScenePlace, "number">;

const isAmiss = ({ amiss }: LaidShot, name: string) =>
  amiss.some(({ what, against }) => [what, against].includes(`the ${name}`));

/** Gates, guides, marks and the obstacle. */
function standing(laid: LaidShot, balls: ReturnType<typeof placedBalls>, square: Point): Unnumbered[] {
  const { ballDiameter, obstacleDiameter } = laid.form;
  return balls.flatMap(({ label, x, y, words, tolerance }): Unnumbered[] => {
    const kind = KINDS.find(([start]) => label.startsWith(start))?.[1];
    if (!kind) return [];
    const radius = kind === "mark" ? 0 : kind === "obstacle" ? obstacleDiameter / 2 : ballDiameter / 2;
    const [clear, amiss] = [clearOf(label, kind, square), isAmiss(laid, label)];
    return [{ label, kind, x, y, words, radius, tolerance: tolerance?.square, clear, amiss }];
  });
}

/** Where a number stands in nobody's way. */
function clearOf(label: string, kind: SceneKind, square: Point): Point {
  // Along the line, into the table.
  if (label === "far mark") return { x: -square.y * Math.sign(square.x || 1), y: Math.abs(square.x) };
  return kind === "guide" || label === "near mark" ? { x: -square.x, y: -square.y } : square;
}

/** Object ball and cue ball before the shot. */
function starting(laid: LaidShot, cueBall: Point, square: Point): Unnumbered[] {
  const { form } = laid;
  const start = (label: string, place: Point, name: string): Unnumbered => ({
    label,
    kind: "start",
    ...place,
    words: placeWords(form, place),
    radius: form.ballDiameter / 2,
    tolerance: undefined,
    clear: square,
    amiss: isAmiss(laid, name),
  });
  const [spot] = comingWay(form);
  return [
    ...(spot ? [start("object ball", spot, "object ball's spot")] : []),
    start("cue ball", cueBall, "cue ball's place"),
  ];
}

/** The part of the table that a layout takes up, with room about it: what a drawing of it need show. */
export function sceneBounds({ places, coming, leaving, ballRadius, table }: LayoutScene) {
  const all = [...places, ...coming, ...leaving];
  const spare = 4.5 * ballRadius;
  const left = Math.max(-table.frame / 2, Math.min(...all.map(({ x }) => x)) - spare);
  const right = Math.min(table.width + table.frame / 2, Math.max(...all.map(({ x }) => x)) + spare);
  return { x: left, y: -table.frame / 3, width: right - left, height: table.depth + (2 * table.frame) / 3 };
}
