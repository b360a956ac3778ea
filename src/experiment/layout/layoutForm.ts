/**
 * A layout as its form has it, and as people read it: from which rails each place is measured, how far it may be off.
 * SI.
 */
import { asRecord } from "../language/keptObject";
import { STANDARD_BALL_DIAMETER } from "../../bank/bend";
import { bankLayout, type LaidOut, type LayoutRequest } from "../../bank/layout";
import { layoutTolerances, type Tolerance } from "../../bank/layoutTolerance";
import { asRead, rulerFraction } from "../../bank/ruler";
import type { BankPath } from "../../bank/shot";
import { tableShape } from "../../bank/tableShape";
import { INCH } from "../../bank/units";
import type { ShotSettings } from "../shot/shotSettings";
import { significant } from "../language/wording";

export type Paper = "A4" | "Letter";

export interface LayoutForm extends LayoutRequest {
  /** Length of the rail that is banked from, nose to nose of the rails beside it. */
  readonly railLength: number;
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

/** A 9-ft table banked from its long rail, cross-side; paper after the language of the page. */
export function firstLayout(language: string): LayoutForm {
  return {
    units: "us",
    paper: usualPaper(language),
    railLength: 100 * INCH,
    tableWidth: 50 * INCH,
    departure: 32 * INCH,
    arrival: 46 * INCH,
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
  return {
    ...first,
    ...numbers,
    units: given.units === "si" ? "si" : "us",
    paper: given.paper === "Letter" ? "Letter" : "A4",
  };
}

/** Why the layout cannot be set up as it is; undefined when it can. */
export function layoutProblem({ railLength, departure, arrival, bend, ballDiameter }: LayoutForm): string | undefined {
  const radius = ballDiameter / 2;
  if (Math.abs(bend) >= ballDiameter)
    return "The bend is as wide as a ball: no obstacle at the marks can ask for so much. Take a smaller one.";
  if (departure < radius || departure > railLength - radius)
    return "The departure lies in the rail beside: keep it a ball's radius away.";
  if (arrival < 0 || arrival > railLength) return "The arrival lies beyond the rail opposite.";
  return undefined;
}

/**
 * The layout that a computed shot asks for, on the same table.
 * @param touch where the ball touches the cushion, along the rail
 */
export function layoutOfShot(form: LayoutForm, shot: ShotSettings, touch: number, path: BankPath): LayoutForm {
  const table = tableShape(shot.rail);
  const radius = form.ballDiameter / 2;
  // The shot's line may stop short of the nose line opposite; the straight chord goes on to it.
  const reach = (table.depth - radius) / shot.across;
  return {
    ...form,
    units: shot.units,
    railLength: table.width,
    tableWidth: table.depth,
    departure: touch,
    arrival: touch + path.arrival.x * reach,
    swing: Math.min(0.95, Math.max(0.05, path.swing.along / Math.hypot(path.arrival.x, shot.across) / reach)),
    bend: path.bend,
    obstacleDiameter: 2 * shot.obstacleRadius,
  };
}

export interface PlacedBall extends LaidOut {
  /** "12 3/8 in (314 mm) from the left rail, 25 in (635 mm) from the banked rail" */
  readonly words: string;
  readonly tolerance: Tolerance | undefined;
}

/** Every place with the two rails that are nearest to it, which a tape reaches, and how far it may be off. */
export function placedBalls(form: LayoutForm): PlacedBall[] {
  const tolerances = layoutTolerances(form, form.wrong);
  return bankLayout(form).map((place) => {
    const right = place.x > form.railLength / 2;
    const far = place.y > form.tableWidth / 2;
    const side = right ? form.railLength - place.x : place.x;
    const across = far ? form.tableWidth - place.y : place.y;
    return {
      ...place,
      words: `${fromRail(side, `${right ? "right" : "left"} rail`, form.units)}, ${fromRail(across, far ? "rail opposite" : "banked rail", form.units)}`,
      tolerance: tolerances.find(({ label }) => label === place.label),
    };
  });
}

/** A gate in the mouth of a pocket stands behind the line of the noses. */
function fromRail(distance: number, rail: string, units: "us" | "si"): string {
  if (Math.abs(distance) < INCH / 64) return `on the nose line of the ${rail}`;
  return distance < 0
    ? `${bothUnits(-distance, units)} behind the nose line of the ${rail}`
    : `${bothUnits(distance, units)} from the ${rail}`;
}

/**
 * Divisions of an inch that places are given to: half of one is less than the 1/32 in that a bend may usually be wrong
 * by.
 */
const TAPE_DIVISIONS = 32;

/**
 * Where a tape is read: a length in m in both units, the user's first; inches to the nearest 1/32, millimetres to the
 * nearest 1.
 * @example bothUnits(0.0254, "us") === "1 in (25 mm)"
 */
export function bothUnits(length: number, units: "us" | "si"): string {
  return inOrder(inchFraction(length, TAPE_DIVISIONS), `${Math.round(length * 1000)}`, units);
}

/**
 * What was chosen, or follows from it: a length in m in both units, the user's first, as a fraction where it is one of
 * a ruler, otherwise to five digits, and to 0.01 mm. A bend of 3/32 in must not be printed as 1/8.
 * @example bothExactly(0.015875, "us") === "5/8 in (15.88 mm)"
 */
export function bothExactly(length: number, units: "us" | "si"): string {
  return inOrder(asRead(length / INCH), String(Number((length * 1000).toFixed(2))), units);
}

function inOrder(inches: string, millimetres: string, units: "us" | "si"): string {
  return units === "us" ? `${inches} in (${millimetres} mm)` : `${millimetres} mm (${inches} in)`;
}

/**
 * The nearest fraction of an inch, without what was rounded away.
 * @example inchFraction(0.0254 * 1.13, 16) === "1 1/8"
 */
export function inchFraction(length: number, denominator: number): string {
  return rulerFraction(length / INCH, denominator).replace(/ \(.*$/, "");
}

/** A tolerance for reading: millimetres or 32nds, or that it hardly matters. */
export function toleranceWords(length: number, units: "us" | "si"): string {
  if (!(length < 0.1)) return "hardly matters";
  return units === "us" ? `${significant(length / INCH, 2)} in` : `${significant(length * 1000, 2)} mm`;
}
