/**
 * A layout as its form has it, and as people read it: from which rails each place is measured, how far it may be off.
 * SI.
 */
import { asRecord } from "../language/keptObject";
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import { ARRANGEMENTS, gatedLayout, type Arrangement, type GatedLayout } from "../../bank/gatedLayout";
import { besideChord, type LaidOut, type LayoutRequest } from "../../bank/layout";
import { layoutTolerances, type Tolerance } from "../../bank/layoutTolerance";
import type { Point } from "../../bank/pathClearance";
import type { BankPath } from "../../bank/shot";
import { NINE_FOOT, tableShape, type TableShape } from "../../bank/tableShape";
import { DEGREE, INCH } from "../../bank/units";
import type { ShotLayout } from "../shot/shotLayout";
import type { ShotSettings } from "../shot/shotSettings";
import { bothUnits } from "./placeWords";

export type Paper = "A4" | "Letter";

export interface LayoutForm extends LayoutRequest {
  /** Length of the rail that is banked from, nose to nose of the rails beside it. */
  readonly railLength: number;
  /** Widths of the pockets' mouths, between the tips of their jaws. */
  readonly cornerMouth: number;
  readonly sideMouth: number;
  /** Where the departure gate stands. */
  readonly arrangement: Arrangement;
  /** How far beyond grazing it stands from the leg that must pass it. */
  readonly room: number;
  /** At which the ball comes, radians from square, + from the side opposite to where it goes. */
  readonly approach: number;
  /** How far the object ball's spot is from where the ball touches the cushion, square to the rail. */
  readonly spotDistance: number;
  /** From the stroke's direction to the line of centres, radians, and how far the cue ball runs before it hits. */
  readonly cut: number;
  readonly cueRun: number;
  /** The ways that a computed shot goes, from where it touches; straight and evenly bowed when missing. */
  readonly ways?: { readonly coming: readonly Point[]; readonly leaving: readonly Point[] };
  /** What the bend may be wrong by. */
  readonly wrong: number;
  readonly units: "us" | "si";
  readonly paper: Paper;
}

const BALL = STANDARD_BALL_DIAMETER.mm / 1000;

/**
 * The paper that a language's countries use: Letter in the United States, Canada and a few others, A4 elsewhere.
 * @example usualPaper("de-AT") === "A4"
 */
export function usualPaper(language: string): Paper {
  return /^(en-(US|CA|PH)|es-(MX|CO|CL|VE)|fr-CA)/i.test(language) ? "Letter" : "A4";
}

/** Kept between the gate and the leg that must pass it: a ball that the nose gives way to slides along it. */
const ROOM = INCH / 32;

/** A 9-ft table banked from its long rail into the side pocket; paper after the language of the page. */
export function firstLayout(language: string): LayoutForm {
  return {
    units: "us",
    paper: usualPaper(language),
    railLength: NINE_FOOT.length,
    tableWidth: NINE_FOOT.breadth,
    cornerMouth: NINE_FOOT.cornerMouth,
    sideMouth: NINE_FOOT.sideMouth,
    departure: 32 * INCH,
    arrival: 50 * INCH,
    arrangement: "near",
    room: ROOM,
    approach: 25 * DEGREE,
    spotDistance: 20 * INCH,
    cut: 0,
    cueRun: 10 * INCH,
    swing: 0.45,
    bend: 0.5 * INCH,
    ballDiameter: BALL,
    obstacleDiameter: 2 * INCH,
    wrong: INCH / 32,
  };
}

const NUMBERS = [
  "railLength",
  "tableWidth",
  "cornerMouth",
  "sideMouth",
  "room",
  "approach",
  "spotDistance",
  "cut",
  "cueRun",
  "departure",
  "arrival",
  "swing",
  "bend",
  "ballDiameter",
  "obstacleDiameter",
  "wrong",
] as const;
export type LayoutNumber = (typeof NUMBERS)[number];

/** Reads a kept form; what is missing or no number is the first layout's. */
export function parseLayout(raw: unknown): LayoutForm {
  const given = asRecord(raw);
  const first = firstLayout("");
  const numbers = Object.fromEntries(
    NUMBERS.map((name) => [
      name,
      typeof given[name] === "number" && Number.isFinite(given[name]) ? given[name] : first[name],
    ]),
  ) as Record<LayoutNumber, number>;
  const ways = asRecord(given.ways);
  const [coming, leaving] = [pointsOf(ways.coming), pointsOf(ways.leaving)];
  return {
    ...first,
    ...numbers,
    arrangement: ARRANGEMENTS.find((one) => one === given.arrangement) ?? first.arrangement,
    ...(coming && leaving && { ways: { coming, leaving } }),
    units: given.units === "si" ? "si" : "us",
    paper: given.paper === "Letter" ? "Letter" : "A4",
  };
}

/** Two points or more. */
function pointsOf(raw: unknown): Point[] | undefined {
  const points = (Array.isArray(raw) ? raw : [])
    .map(asRecord)
    .flatMap(({ x, y }): Point[] =>
      typeof x === "number" && typeof y === "number" && Number.isFinite(x + y) ? [{ x, y }] : [],
    );
  return points.length > 1 ? points : undefined;
}

/** Why there is no layout to speak of; undefined when there is one, which then has to be looked through as a whole. */
export function layoutProblem({
  railLength,
  departure,
  arrival,
  bend,
  ballDiameter,
  approach,
}: LayoutForm): string | undefined {
  const radius = ballDiameter / 2;
  if (Math.abs(bend) >= ballDiameter)
    return "The bend is as wide as a ball: no obstacle at the marks can ask for so much. Take a smaller one.";
  if (departure < radius || departure > railLength - radius)
    return "The departure lies in the rail beside: keep it a ball's radius away.";
  if (arrival < 0 || arrival > railLength) return "The arrival lies beyond the rail opposite.";
  if (!(Math.abs(approach) < 85 * DEGREE)) return "The ball comes along the rail: give an approach below 85°.";
  return undefined;
}

/** The form's table, with the rail that is banked from on top. */
export function tableOfForm({ railLength, tableWidth, cornerMouth, sideMouth }: LayoutForm): TableShape {
  const long = railLength > tableWidth;
  return tableShape(long ? "long" : "short", {
    length: Math.max(railLength, tableWidth),
    breadth: Math.min(railLength, tableWidth),
    cornerMouth,
    sideMouth,
  });
}

/** 1 where the ball goes to the right along the rail, −1 to the left. */
export const travelOf = ({ departure, arrival }: Pick<LayoutForm, "departure" | "arrival">): 1 | -1 =>
  arrival < departure ? -1 : 1;

/** Pieces of a way that is drawn and looked through. */
const PIECES = 64;

/** Rounded, as ways are kept: to 0.001 mm. */
const kept = ({ x, y }: Point): Point => ({ x: Number(x.toFixed(6)), y: Number(y.toFixed(6)) });

/**
 * The layout that a computed shot asks for, on the same table.
 * @param drawn the shot's places and ways on the table
 */
export function layoutOfShot(form: LayoutForm, shot: ShotSettings, drawn: ShotLayout, path: BankPath): LayoutForm {
  const { table, touch } = drawn;
  const radius = form.ballDiameter / 2;
  // The shot's line may stop short of the nose line opposite; the straight chord goes on to it.
  const reach = (table.depth - radius) / shot.across;
  const arrival = touch.x + path.arrival.x * reach;
  const coming = drawn.approach;
  const [before, last] = [coming.at(-2), coming.at(-1)];
  const travel = arrival < touch.x ? -1 : 1;
  const fromTouch = ({ x, y }: Point): Point => kept({ x: x - touch.x, y: y - touch.y });
  const { ways: _, ...rest } = form;
  return {
    ...rest,
    units: shot.units,
    railLength: table.width,
    tableWidth: table.depth,
    departure: touch.x,
    arrival,
    swing: Math.min(0.95, Math.max(0.05, path.swing.along / Math.hypot(path.arrival.x, shot.across) / reach)),
    bend: path.bend,
    ...(shot.room > 0 && { room: shot.room }),
    obstacleDiameter: 2 * shot.obstacleRadius,
    approach: before && last ? travel * Math.atan2(last.x - before.x, before.y - last.y) : form.approach,
    ...(shot.origin !== "cushion" && { spotDistance: shot.spotDistance }),
    ...(shot.origin === "stroke" && { cut: travel * shot.cut, cueRun: shot.cueRun }),
    ways: { coming: coming.map(fromTouch), leaving: drawn.path.map(fromTouch) },
  };
}

/** What the gates of a form are, and where. */
export function gatedOf(form: LayoutForm): GatedLayout {
  return gatedLayout({ ...form, leaving: leavingAngle(form) });
}

/** At which the ball leaves: that of its way where it is known, otherwise that of an even bow. */
function leavingAngle(form: LayoutForm): number {
  const [first, second] = leavingWay(form);
  return first && second ? travelOf(form) * Math.atan2(second.x - first.x, second.y - first.y) : 0;
}

/** The ball's way off the cushion, on the table. */
export function leavingWay(form: LayoutForm): Point[] {
  const { departure, arrival, tableWidth, ballDiameter, swing, bend, ways } = form;
  const start = { x: departure, y: ballDiameter / 2 };
  if (ways) return ways.leaving.map(({ x, y }) => ({ x: x + start.x, y: y + start.y }));
  const chord = { x: arrival - departure, y: tableWidth - start.y };
  const bowed = besideChord(start, chord, bend < 0 === travelOf(form) > 0 ? -1 : 1);
  return Array.from({ length: PIECES + 1 }, (_, i) => {
    const share = i / PIECES;
    const part = share <= swing ? (share - swing) / swing : (share - swing) / (1 - swing);
    return bowed(share, Math.abs(bend) * (1 - part * part));
  });
}

/** The ball's way to the cushion, from its spot. */
export function comingWay(form: LayoutForm): Point[] {
  const { departure, ballDiameter, approach, spotDistance, ways } = form;
  const touch = { x: departure, y: ballDiameter / 2 };
  if (ways) return ways.coming.map(({ x, y }) => ({ x: x + touch.x, y: y + touch.y }));
  const aside = travelOf(form) * spotDistance * Math.tan(approach);
  return [{ x: touch.x - aside, y: touch.y + spotDistance }, touch];
}

/** The cue ball's place before the stroke and where it hits, a ball from the object ball's spot against its way. */
export function cueWay(form: LayoutForm): [Point, Point] {
  const { ballDiameter, cut, cueRun } = form;
  const [spot, next] = comingWay(form);
  if (!spot || !next) throw new RangeError("the ball's way to the cushion has no beginning");
  const along = Math.atan2(next.x - spot.x, spot.y - next.y);
  const aim = along - travelOf(form) * cut;
  const hits = { x: spot.x - ballDiameter * Math.sin(along), y: spot.y + ballDiameter * Math.cos(along) };
  return [{ x: hits.x - cueRun * Math.sin(aim), y: hits.y + cueRun * Math.cos(aim) }, hits];
}

export interface PlacedBall extends LaidOut {
  /** "12 3/8 in (314 mm) from the left rail, 25 in (635 mm) from the banked rail" */
  readonly words: string;
  readonly tolerance: Tolerance | undefined;
}

/** Every place with the two rails that are nearest to it, which a tape reaches, and how far it may be off. */
export function placedBalls(form: LayoutForm): PlacedBall[] {
  const { places } = gatedOf(form);
  const shareAt = (label: string) => {
    const place = places.find((one) => one.label === label);
    const [x, y] = [form.arrival - form.departure, form.tableWidth - form.ballDiameter / 2];
    const offX = (place?.x ?? 0) - form.departure;
    return (offX * x + ((place?.y ?? 0) - form.ballDiameter / 2) * y) / (x * x + y * y);
  };
  const tolerances = layoutTolerances(form, form.wrong, {
    cushion: shareAt("gate at the cushion"),
    pocket: shareAt("gate at the pocket"),
  });
  return places.map((place) => ({
    ...place,
    words: placeWords(form, place),
    tolerance: tolerances.find(({ label }) => label === place.label),
  }));
}

/** A place by the two rails that are nearest to it. */
export function placeWords({ railLength, tableWidth, units }: LayoutForm, { x, y }: Point): string {
  const right = x > railLength / 2;
  const far = y > tableWidth / 2;
  const side = fromRail(right ? railLength - x : x, `${right ? "right" : "left"} rail`, units);
  return `${side}, ${fromRail(far ? tableWidth - y : y, far ? "rail opposite" : "banked rail", units)}`;
}

/** A gate in the mouth of a pocket stands behind the line of the noses. */
function fromRail(distance: number, rail: string, units: "us" | "si"): string {
  if (Math.abs(distance) < INCH / 64) return `on the nose line of the ${rail}`;
  return distance < 0
    ? `${bothUnits(-distance, units)} behind the nose line of the ${rail}`
    : `${bothUnits(distance, units)} from the ${rail}`;
}
