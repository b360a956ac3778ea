/** From a question to the summit of its likelihood: rows scaled, directions made orthonormal, sessions tried. */
import { membersOf, type Grouping } from "../errors/errorModel";
import { buildDesign, type Design, type Driver } from "../fit/designMatrix";
import { leastSquares, type LeastSquares } from "../fit/leastSquares";
import { exactColumn } from "../numeric/doubleDouble";
import { extent } from "../numeric/extent";
import { gaussHermite } from "../numeric/gaussHermite";
import { inner, invertDefinite, timesVector, type Matrix } from "../numeric/symmetric";
import { worthOf, type Worth } from "./calibration";
import { climb, MOST_LAMBDA, type Summit } from "./climb";
import { rowsOf, type CensoredRows, type Known } from "./likelihood";
import type { ProfiledQuantity } from "./profile";

export interface CensoredQuestion {
  /** By row: the value, or the bound that the value is at least or less than. */
  readonly bounds: ArrayLike<number>;
  readonly known: readonly Known[];
  readonly drivers: readonly Driver[];
  /** Which rows share the shift of one session. */
  readonly sessions?: Grouping;
  readonly confidence?: number;
  /** Share of rows that say at least or less than and are taken for the opposite of what they are; none unless said. */
  readonly misjudged?: number;
  /** Nodes of the quadrature over a session's shift; 25 when left out. */
  readonly nodes?: number;
}

export interface Solved {
  readonly data: CensoredRows;
  readonly top: Summit;
  /** A bound is centre + scale · the scaled bound. */
  readonly centre: number;
  readonly scale: number;
  readonly basis: LeastSquares;
  readonly design: Design;
  /** Inverse of the information at the summit; undefined where there is no summit. */
  readonly inverse: Matrix | undefined;
  readonly worth: Worth | undefined;
  /** How many sessions were taken into account. */
  readonly sessions: number | undefined;
}

/** @throws RangeError when there is no row, lengths differ, or a number is not finite */
export function solve(question: CensoredQuestion): Solved {
  refuse(question);
  const { bounds, known, drivers, sessions, nodes = 25, misjudged = 0 } = question;
  const design = buildDesign(known.length, drivers, [], true);
  const { low, high } = extent(bounds);
  const centre = (low + high) / 2;
  const scale = high > low ? (high - low) / 2 : Math.abs(centre) || 1;
  const scaled = Float64Array.from({ length: known.length }, (_, i) => snapped((bounds[i] - centre) / scale));
  const basis = leastSquares(
    design.columns.map(({ values }) => values),
    exactColumn(scaled),
  );
  const directions = basis.directions();
  const plain = rowsOf(directions, scaled, known, { misjudged });
  const flat = withoutSessions(plain);
  const apart =
    sessions !== undefined && sessions.levels.length > 1 && flat.settled && flat.place[directions.length] > 0;
  const data = apart
    ? rowsOf(directions, scaled, known, {
        misjudged,
        sessions: { members: membersOf(sessions), rule: gaussHermite(nodes) },
      })
    : plain;
  const top = apart ? withSessions(data, flat) : flat;
  const inverse = top.settled && top.place[directions.length] > 0 ? informationInverse(top, data) : undefined;
  return {
    data,
    top,
    centre,
    scale,
    basis,
    design,
    inverse,
    worth: inverse && worthOf(data, top.place),
    sessions: apart ? sessions.levels.length : undefined,
  };
}

function refuse({ bounds, known, drivers, sessions, misjudged = 0 }: CensoredQuestion): void {
  if (!(misjudged >= 0 && misjudged < 0.5))
    throw new RangeError(`the share of misjudged rows is ${misjudged}: it must be 0 or more and below 0.5`);
  const rows = known.length;
  if (rows === 0) throw new RangeError("no rows to fit");
  const lists = [
    { name: "the bound", values: bounds },
    ...drivers,
    ...(sessions ? [{ name: sessions.name, values: sessions.groups }] : []),
  ];
  for (const { name, values } of lists) {
    if (values.length !== rows) throw new RangeError(`${name} has ${values.length} rows where there are ${rows}`);
    for (let i = 0; i < rows; i++)
      if (!Number.isFinite(values[i])) throw new RangeError(`${name} is ${values[i]} in row ${i + 1}`);
  }
}

/** Without the rounding of sums, so that bounds which are meant to be equal are. */
function snapped(value: number): number {
  return Math.round(value * 1e10) / 1e10;
}

/** How much steeper than without misjudged rows a summit may be that takes some of them for misjudged. */
const STEEPER = [1, 2, 4];

/** The summit of rows on their own; the best of several where misjudged rows make more than one. */
function withoutSessions(data: CensoredRows): Summit {
  const sure = climb(data.misjudged === 0 ? data : { ...data, misjudged: 0 }, {
    start: [...new Array<number>(data.directions).fill(0), 1],
  });
  if (data.misjudged === 0) return sure;
  const start = sure.settled ? sure.place : [...new Array<number>(data.directions).fill(0), 1];
  return STEEPER.map((factor) => climb(data, { start: start.map((value) => factor * value) })).reduce((best, one) =>
    one.value > best.value + 1e-9 ? one : best,
  );
}

/** Where climbs over the sessions' λ begin: sessions that differ less, or more, than single rows do. */
const STARTS = [0.4, 1.2];

/** The best of the summits with and without a difference between sessions. */
function withSessions(data: CensoredRows, flat: Summit): Summit {
  const at = data.directions + 1;
  const level = climb(data, { start: [...flat.place, 0], still: [at] });
  const found = STARTS.map((lambda) =>
    climb(data, { start: [...flat.place.map((value) => value * Math.hypot(1, lambda)), lambda] }),
  ).reduce((best, one) => (one.value > best.value ? one : best));
  const lambda = Math.abs(found.place[at]);
  if (lambda < 1e-3 || found.value <= level.value + 1e-9) return level;
  return { ...found, place: found.place.map((value, j) => (j === at ? lambda : value)) };
}

/** (−curvature)⁻¹; λ has zeros where it is at an end of its range. */
function informationInverse({ curvature, place }: Summit, data: CensoredRows): Matrix | undefined {
  const ends = [0, MOST_LAMBDA];
  const kept = place.flatMap((value, j) => (j > data.directions && ends.includes(value) ? [] : [j]));
  const inverse = invertDefinite(kept.map((j) => kept.map((k) => -curvature[j][k])))?.inverse;
  if (!inverse) return undefined;
  const entry = (j: number, k: number) => {
    const [a, b] = [kept.indexOf(j), kept.indexOf(k)];
    return a < 0 || b < 0 ? 0 : inverse[a][b];
  };
  return place.map((_, j) => place.map((__, k) => entry(j, k)));
}

/** A step of the parameters far above their rounding and far below what bends a quantity. */
const STEP = 1e-5;

/** The standard error of a quantity at the summit, by its slopes there. */
export function errorOf(place: readonly number[], inverse: Matrix, quantity: ProfiledQuantity): number {
  const slope = place.map((value, j) => {
    const step = STEP * Math.max(1, Math.abs(value));
    const at = (by: number) => quantity.at(place.map((one, k) => (k === j ? one + by : one)));
    return (at(step) - at(-step)) / (2 * step);
  });
  return Math.sqrt(Math.max(0, inner(slope, timesVector(inverse, slope))));
}

/** The variance of a quantity by what is unknown of the location, and by the scatter while the location stays. */
export function variancesOf(
  { top, inverse, data }: Solved,
  quantity: ProfiledQuantity,
): { readonly location: number; readonly scatter: number } {
  if (!inverse) return { location: 0, scatter: 0 };
  const theta = data.directions;
  const at = (log: number) => quantity.at(top.place.map((value, j) => (j <= theta ? value * Math.exp(log) : value)));
  const slope = (at(STEP) - at(-STEP)) / (2 * STEP);
  const total = errorOf(top.place, inverse, quantity) ** 2;
  const scatter = Math.min(total, (slope ** 2 * inverse[theta][theta]) / top.place[theta] ** 2);
  return { location: total - scatter, scatter };
}
