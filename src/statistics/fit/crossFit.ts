/**
 * Least squares from cross products, for long and well-conditioned designs: one pass over the rows, no copy of them.
 *
 * The cross products carry some 20 digits (see crossProducts.ts) and are taken apart in double-double, so that forming
 * them, which squares the condition, does no harm as long as the condition is moderate. Whether it did is proved for
 * each fit by bounds of first order; where a bound is above what is asked for there is no answer, and the caller takes
 * the slow way.
 */
import { BLOCK } from "./blockSums";
import { rounder, TAIL_ROUNDING, type CrossProducts, type Cut } from "./crossProducts";
import { add, divide, multiply, negate, type Column, type Pair } from "../numeric/doubleDouble";
import { backSubstitute, forwardSubstitute, type Factored } from "./factored";

/** Is the column the constant 1? */
export function isOnes({ high, low }: Column): boolean {
  if (low) return false;
  for (let i = 0; i < high.length; i++) if (high[i] !== 1) return false;
  return true;
}

/**
 * @param products of columns about their means when the first column is all 1, about 0 otherwise
 * @param constant true when the first column is all 1
 * @param limit relative errors that the bounds may reach
 * @param known directions of earlier designs on the same rows; this fit adds to them
 * @returns undefined where coefficients, standard errors and residual spread are not proved to that
 */
export function crossFit(
  design: readonly Column[],
  response: Column,
  products: CrossProducts,
  constant: boolean,
  limit: number,
  known: KnownDirections,
): Factored | undefined {
  const rows = response.high.length;
  const drivers = constant ? design.slice(1) : design;
  const columns = [...drivers, response];
  if (rows <= design.length + 1 || !products.ensure(columns)) return undefined;
  const cuts = columns.map((column) => products.cut(column));
  const first = constant ? 1 : 0;
  const cross = crossOf(columns, products, rows, first);
  const taken = triangle(cross);
  if (!taken) return undefined;
  const { above, squares } = taken;

  // In the columns less their centres.
  const last = cross.length - 1;
  const centredAbove = above.slice(0, last);
  const slopes = backSubstitute(centredAbove, above[last]);
  const originalAbove = centredAbove.map((multiples, k) =>
    multiples.map((multiple, j): Pair => (constant && j === 0 ? add(multiple, [cuts[k - 1].centre, 0]) : multiple)),
  );
  const projections = above[last].map((multiple, j): Pair =>
    constant && j === 0 ? add(multiple, [cuts[last - 1].centre, 0]) : multiple,
  );
  const coefficients = constant ? backSubstitute(originalAbove, projections) : slopes;
  // |error of a cross product| ≤ relative · length · length.
  const relative = 2 * TAIL_ROUNDING * Math.max(...columns.map((column) => products.tail(column))) + 2 ** -80;
  const centres = constant ? cuts.map(({ centre }) => centre) : undefined;
  if (!isProved({ cross, above, squares, slopes, coefficients, centres, relative }, limit)) return undefined;

  return {
    kept: design.map((_, index) => index),
    dependent: [],
    above: originalAbove,
    squares: squares.slice(0, last),
    projections,
    residualSquares: squares[last][0],
    residuals: () => residualsOf(columns, products, constant ? slopes[0] : [0, 0], slopes.slice(first)),
    directions: () => directionsOf(design, cuts, centredAbove, squares, constant, known),
  };
}

/** Lower rows of the cross products of columns less their centres, those of the constant before them. */
function crossOf(columns: readonly Column[], products: CrossProducts, rows: number, first: number): Pair[][] {
  return Array.from({ length: columns.length + first }, (_, a) =>
    Array.from({ length: a + 1 }, (__, b): Pair => {
      if (b >= first) return products.product(columns[a - first], columns[b - first]);
      return a === 0 ? [rows, 0] : products.sum(columns[a - first]);
    }),
  );
}

/** A fit as far as its bounds need it: of drivers less their centres, the response last. */
interface Found {
  readonly cross: readonly (readonly Pair[])[];
  readonly above: readonly (readonly Pair[])[];
  readonly squares: readonly Pair[];
  readonly slopes: readonly Pair[];
  /** Of the columns as they are. */
  readonly coefficients: readonly Pair[];
  /** Undefined without a constant. */
  readonly centres: readonly number[] | undefined;
  /** Relative error of the cross products. */
  readonly relative: number;
}

/** Whether everything that the fit tells is within the limit, by bounds of first order. */
function isProved(found: Found, limit: number): boolean {
  const { cross, above, squares, slopes, coefficients, centres, relative } = found;
  const lengths = cross.map((row, a) => Math.sqrt(row[a][0]));
  const last = cross.length - 1;
  const first = centres ? 1 : 0;
  const inverse = inverseOf(above.slice(0, last), squares);
  // Any variance of a combination w: |wᵀG⁻¹·ΔG·G⁻¹w| ≤ relative · size · ‖G⁻¹‖ · wᵀG⁻¹w with G scaled to unit diagonal,
  // whose norm is at most its trace.
  const condition = inverse.reduce((total, row, j) => total + row[j] * lengths[j] ** 2, 0);
  if (!(relative * last * condition <= limit)) return false;
  // Residual squares: vᵀ·ΔG·v with v = (−slopes, 1).
  const reach = slopes.reduce((total, [slope], j) => total + Math.abs(slope) * lengths[j], lengths[last]);
  if (!(relative * reach ** 2 <= limit * squares[last][0])) return false;
  // What the drivers take up together: the response's squares about the constant, less the residual ones.
  const explained = above[last].reduce(
    (total, [multiple], j) => (j < first ? total : total + multiple * multiple * squares[j][0]),
    0,
  );
  if (last > first && !(relative * (lengths[last] ** 2 + reach ** 2) <= limit * explained)) return false;
  // Coefficients: G⁻¹·(Δg − ΔG·slopes).
  const errors = inverse.map(
    (row) => relative * reach * row.reduce((total, entry, k) => total + Math.abs(entry) * lengths[k], 0),
  );
  if (centres) for (let j = 1; j < last; j++) errors[0] += errors[j] * Math.abs(centres[j - 1]);
  return errors.every((error, j) => error <= limit * Math.abs(coefficients[j][0]));
}

/** Inverse of the cross products, as plain numbers. */
function inverseOf(above: readonly (readonly Pair[])[], squares: readonly Pair[]): number[][] {
  const units = above.map((_, k) =>
    forwardSubstitute(
      above,
      above.map((__, j): Pair => [j === k ? 1 : 0, 0]),
    ),
  );
  return units.map((a) => units.map((b) => a.reduce((total, [v], j) => total + (v * b[j][0]) / squares[j][0], 0)));
}

/** The directions made last, and the columns that they were made of, in their order. */
export interface KnownDirections {
  of: readonly Float64Array[];
  made: readonly Float64Array[];
}

/**
 * The columns less their centres, each less its parts along those before it, at length 1. As far as a design begins as
 * the last one did its directions are the same: they depend on no later column.
 */
function directionsOf(
  design: readonly Column[],
  cuts: readonly Cut[],
  above: readonly (readonly Pair[])[],
  squares: readonly Pair[],
  constant: boolean,
  known: KnownDirections,
): Float64Array[] {
  const other = design.findIndex(({ high }, k) => high !== known.of[k]);
  const directions = known.made.slice(0, other < 0 ? design.length : other);
  design.slice(directions.length).forEach(({ high, low }) => {
    const k = directions.length;
    const length = Math.sqrt(squares[k][0]);
    const centre = constant ? (k === 0 ? 0 : cuts[k - 1].centre) : cuts[k].centre;
    const direction = new Float64Array(high.length);
    for (let i = 0; i < direction.length; i++) direction[i] = (high[i] - centre) / length;
    if (low) for (let i = 0; i < direction.length; i++) direction[i] += low[i] / length;
    directions.forEach((other, j) => {
      const multiple = (above[k][j][0] * Math.sqrt(squares[j][0])) / length;
      for (let i = 0; i < direction.length; i++) direction[i] -= multiple * other[i];
    });
    directions.push(direction);
  });
  known.of = design.map(({ high }) => high);
  known.made = [...directions];
  return directions;
}

/** G = Uᵀ·D·U of a symmetric matrix, given by its lower rows: above[k][j] = U[j][k]. Undefined when a pivot is lost. */
function triangle(cross: readonly (readonly Pair[])[]): { above: Pair[][]; squares: Pair[] } | undefined {
  const rest = cross.map((row) => [...row]);
  const above = cross.map((): Pair[] => []);
  const squares: Pair[] = [];
  for (let j = 0; j < rest.length; j++) {
    const pivot = rest[j][j];
    if (!(pivot[0] > 2 ** -50 * cross[j][j][0])) return undefined;
    squares.push(pivot);
    for (let k = j + 1; k < rest.length; k++) above[k].push(divide(rest[k][j], pivot));
    for (let k = j + 1; k < rest.length; k++) {
      for (let i = j + 1; i <= k; i++) rest[k][i] = add(rest[k][i], negate(multiply(above[k][j], rest[i][j])));
    }
  }
  return { above, squares };
}

/**
 * Response less fit, each rounded once or nearly so. Heads times heads of the slopes are multiples of one grid that 52
 * bits span, so they add up without rounding; the rest is some 2⁻²² as large, and so is its rounding.
 */
function residualsOf(
  columns: readonly Column[],
  products: CrossProducts,
  constant: Pair,
  slopes: readonly Pair[],
): Float64Array {
  const cuts = columns.map((column) => products.cut(column));
  const last = columns.length - 1;
  const response = cuts[last];
  const span =
    slopes.reduce((total, [slope], j) => total + Math.abs(slope) * cuts[j].grid, response.grid) * 2 ** 22 +
    Math.abs(constant[0]);
  const grid = Math.min(response.grid, 2 ** (Math.ceil(Math.log2(span)) - 52));
  const split = ([high, low]: Pair, step: number): Pair => {
    const head = Math.round(high / step) * step;
    return [head, high - head + low];
  };
  const constantParts = split(constant, grid);
  const parts = columns.map((column, j): Part => {
    const slope: Pair = j === last ? [-1, 0] : slopes[j];
    const [head, tail] = split(slope, grid / cuts[j].grid);
    return { column, cut: cuts[j], slope: slope[0], head, tail };
  });

  const residuals = new Float64Array(columns[last].high.length);
  const heads = new Float64Array(BLOCK);
  const rest = new Float64Array(BLOCK);
  const rows = residuals.length;
  const size = BLOCK;
  for (let start = 0; start < rows; start += size) {
    const end = Math.min(rows, start + size);
    heads.fill(-constantParts[0]);
    rest.fill(-constantParts[1]);
    for (let j = 0; j < parts.length; j += 2)
      takeAway(parts[j], parts[j + 1] ?? NOTHING, start, end - start, heads, rest);
    for (let i = start; i < end; i++) residuals[i] = heads[i - start] + rest[i - start];
  }
  return residuals;
}

/** A column and its slope, cut for multiplication. */
interface Part {
  readonly column: Column;
  readonly cut: Cut;
  readonly slope: number;
  readonly head: number;
  readonly tail: number;
}

const NOTHING: Part = {
  column: { high: new Float64Array(0) },
  cut: { centre: 0, grid: 1 },
  slope: 0,
  head: 0,
  tail: 0,
};

/** Takes slope · (column − centre) of two columns from a block, heads and rest apart. */
function takeAway(a: Part, b: Part, start: number, count: number, heads: Float64Array, rest: Float64Array): void {
  const other = b === NOTHING ? a : b;
  const [high, otherHigh] = [a.column.high, other.column.high];
  const [round, otherRound] = [rounder(a.cut.grid), rounder(other.cut.grid)];
  const [centre, otherCentre] = [a.cut.centre, other.cut.centre];
  const { slope, head, tail } = a;
  const { slope: otherSlope, head: otherHead, tail: otherTail } = b;
  for (let i = 0; i < count; i++) {
    const value = high[start + i];
    const rounded = value + round - round;
    const main = rounded - centre;
    const otherValue = otherHigh[start + i];
    const otherRounded = otherValue + otherRound - otherRound;
    const otherMain = otherRounded - otherCentre;
    heads[i] = heads[i] - main * head - otherMain * otherHead;
    rest[i] -=
      main * tail + (value - rounded) * slope + otherMain * otherTail + (otherValue - otherRounded) * otherSlope;
  }
  for (const {
    column: { low },
    slope: times,
  } of [a, b])
    if (low) for (let i = 0; i < count; i++) rest[i] -= low[start + i] * times;
}
