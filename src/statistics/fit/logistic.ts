/**
 * Logistic regression: the chance that a shot is made, by drivers.
 */
import { clusterErrors } from "../errors/clusterErrors";
import { buildDesign, type Design, type Driver, type Setting } from "./designMatrix";
import { normalQuantile, studentQuantile, studentTwoSided } from "../distributions/distributions";
import { exactColumn } from "../numeric/doubleDouble";
import type { Grouping, Scatter } from "../errors/errorModel";
import { leastSquares, type Combination } from "./leastSquares";
import { normalTwoSided } from "../distributions/normal";
import { onlyBetween, splitByGroup } from "../errors/groupParts";
import { randomIntercept } from "../errors/randomIntercept";
import { explain, oneLevel, withoutError, type Unestimated } from "./unestimated";
import { refuseGrouping } from "./regression";
import type { Term } from "./estimates";
import { addOuter, eigen, inner, invertDefinite, mapEigenvalues, timesVector, zeroMatrix } from "../numeric/symmetric";

export interface LogisticQuestion {
  /** 1 for made, 0 for missed. */
  readonly made: ArrayLike<number>;
  readonly drivers: readonly Driver[];
  readonly joint?: readonly (readonly [number, number])[];
  readonly constant?: boolean;
  readonly confidence?: number;
  /** Groups whose shots may go together in any way, such as sessions; every shot on its own where it is left out. */
  readonly by?: Grouping;
  /** The groups are shifted by a random amount each, in the logarithm of the odds, rather than alike in any way. */
  readonly shifted?: boolean;
}

/** A chance with its interval: 0 or 1 at an end that the rows leave open. */
export interface Chance {
  readonly chance: number;
  readonly low: number;
  readonly high: number;
}

export interface Logistic {
  readonly rows: number;
  readonly made: number;
  readonly confidence: number;
  /** "penalised" when some combination of the drivers tells made from missed without exception. */
  readonly method: "maximum likelihood" | "penalised likelihood";
  /**
   * Estimates are differences in the logarithm of the odds; `t` is z, with infinite degrees of freedom unless groups
   * were named.
   */
  readonly terms: readonly Term[];
  readonly unestimated: readonly Unestimated[];
  /** Standard deviation between groups that are shifted, in the logarithm of the odds; undefined without them. */
  readonly between: number | undefined;
  /** −2 log likelihood of the fit, and of a constant chance. */
  readonly deviance: number;
  readonly nullDeviance: number;
  readonly design: Design;
  readonly question: LogisticQuestion;
  /** Fitted chance at settings, one per driver; undefined where the rows do not determine it. */
  chance(settings: readonly Setting[]): Chance | undefined;
}

/** Where the climb ended. */
interface Summit {
  readonly place: readonly number[];
  readonly inverse: readonly (readonly number[])[];
  readonly logLikelihood: number;
  /** What was climbed: the likelihood's logarithm, with the penalty if there is one. */
  readonly height: number;
}

/**
 * Fits by maximum likelihood (Newton's steps, which are iteratively reweighted least squares: Nelder & Wedderburn,
 * Journal of the Royal Statistical Society A 135 (1972) 370–384). Where made and missed shots are separated, so that
 * the likelihood has no highest point, by Firth's penalised likelihood (Biometrika 80 (1993) 27–38; Heinze & Schemper,
 * Statistics in Medicine 21 (2002) 2409–2419). Intervals and p-values are Wald's, from the information at the
 * estimates; those of the penalised fit come from its profile, as its likelihood is lopsided.
 *
 * Where groups are named, errors of the likelihood fit are CR2 with Satterthwaite's degrees of freedom (see
 * clusterErrors.ts), taken along the weighted rows of the last of Newton's steps as Pustejovsky & Tipton (2018) do for
 * generalised linear models. The penalty belongs to no group, so errors of the penalised fit come from leaving out each
 * group in turn (the jackknife, about the estimates of all rows), with Student's t on groups less one. Groups that are
 * shifted take one more step: the same weighted rows with a random shift of each group (Breslow & Clayton, Journal of
 * the American Statistical Association 88 (1993) 9–25), with the intervals of randomIntercept.ts; for either
 * likelihood.
 * @throws RangeError when there is no row, lengths differ, a driver is not finite, `made` is neither 0 nor 1, or there
 * is one group only
 * @example logistic({ made: [0, 1, 1, 0, 1, 1], drivers: [] }).terms[0].estimate // Math.log(2)
 */
export function logistic(question: LogisticQuestion): Logistic {
  const { made, drivers, joint = [], constant = true, confidence = 0.95, by } = question;
  const rows = made.length;
  if (rows === 0) throw new RangeError("no rows to fit");
  for (const { name, values } of drivers) {
    if (values.length !== rows) throw new RangeError(`${name} has ${values.length} rows where made has ${rows}`);
    for (let i = 0; i < rows; i++)
      if (!Number.isFinite(values[i])) throw new RangeError(`${name} is ${values[i]} in row ${i + 1}`);
  }
  for (let i = 0; i < rows; i++)
    if (made[i] !== 0 && made[i] !== 1) throw new RangeError(`made is ${made[i]} in row ${i + 1}: it must be 0 or 1`);

  const design = buildDesign(rows, drivers, joint, constant);
  const { columns } = design;
  // The orthonormal directions of the design: what they span is fitted, so scale and collinearity do no harm.
  const basis = leastSquares(
    columns.map((column) => column.values),
    exactColumn(made),
  );
  const directions = basis.directions();
  const plain = climb(directions, made, false);
  const summit = plain ?? climb(directions, made, true);
  if (!summit) throw new RangeError("the penalised likelihood found no highest point in 2000 steps");

  if (by) refuseGrouping(by, rows);
  const grouped = by && groupedErrors(directions, made, { plain, summit }, by, question.shifted === true);
  const quantile = normalQuantile((1 + confidence) / 2);
  const read = (combined: Combination | undefined) => {
    if (!combined) return undefined;
    const value = inner(combined.along, summit.place) + (grouped?.shift?.(combined.along) ?? 0);
    if (grouped) {
      const variance = grouped.variance(combined.along);
      if (variance === undefined) return { value, standardError: null, low: null, high: null };
      const standardError = Math.sqrt(variance);
      const half = standardError * studentQuantile(confidence, grouped.df(combined.along));
      return { value, standardError, low: value - half, high: value + half };
    }
    const standardError = Math.sqrt(inner(combined.along, timesVector(summit.inverse, combined.along)));
    if (plain)
      return { value, standardError, low: value - quantile * standardError, high: value + quantile * standardError };
    const end = (side: 1 | -1) => profileEnd(directions, made, summit, combined.along, side, quantile);
    return { value, standardError, low: end(-1), high: end(1) };
  };
  const unit = (index: number) =>
    basis.combine(
      columns.map(({ scale }, j) => [j === index ? 1 / scale : 0, 0]),
      constant,
    );
  const terms = columns.map(({ label, drivers: of }, index): Term => {
    const found = basis.kept.includes(index) ? read(unit(index)) : undefined;
    if (!found)
      return {
        label,
        drivers: of,
        estimate: null,
        standardError: null,
        t: null,
        df: null,
        p: null,
        low: null,
        high: null,
      };
    const { value, standardError, low, high } = found;
    if (standardError === null)
      return { label, drivers: of, estimate: value, standardError, t: null, df: null, p: null, low, high };
    const z = value / standardError;
    if (grouped) {
      const df = grouped.df(unit(index)?.along ?? []);
      return { label, drivers: of, estimate: value, standardError, t: z, df, p: studentTwoSided(z, df), low, high };
    }
    const far = plain ? z : depth(summit, slice(directions, made, summit, unit(index)?.along ?? [], 0));
    return {
      label,
      drivers: of,
      estimate: value,
      standardError,
      t: z,
      df: Infinity,
      p: Number.isNaN(far) ? null : normalTwoSided(far),
      low,
      high,
    };
  });
  let count = 0;
  for (let i = 0; i < rows; i++) count += made[i];
  const rate = count / rows;
  const part = (number: number, share: number) => (number === 0 ? 0 : number * Math.log(share));
  return {
    rows,
    made: count,
    confidence,
    method: plain ? "maximum likelihood" : "penalised likelihood",
    terms,
    unestimated: [
      ...oneLevel(drivers),
      ...terms.flatMap((term, index) => {
        if (term.estimate === null) return [explain(index, basis, design, drivers)];
        return by && term.standardError === null
          ? [{ term: term.label, reason: withoutError(term.label, { kind: "cluster", by }) }]
          : [];
      }),
    ],
    between: grouped?.between,
    deviance: -2 * summit.logLikelihood,
    nullDeviance: -2 * (part(count, rate) + part(rows - count, 1 - rate)),
    design,
    question,
    chance(settings) {
      const found = read(basis.combine(design.weights(settings), constant));
      return (
        found && {
          chance: share(found.value),
          low: found.low === null ? 0 : share(found.low),
          high: found.high === null ? 1 : share(found.high),
        }
      );
    },
  };
}

/** Variance and degrees of freedom of a combination along the directions; undefined where the groups cannot give it. */
interface Grouped {
  /** How far groups that are shifted lie apart, where that is estimated. */
  readonly between?: number;
  /** What the groups add to the combination's value; nothing where it is left out. */
  shift?(along: readonly number[]): number;
  variance(along: readonly number[]): number | undefined;
  df(along: readonly number[]): number;
}

function groupedErrors(
  directions: readonly Float64Array[],
  made: ArrayLike<number>,
  { plain, summit }: { readonly plain: Summit | undefined; readonly summit: Summit },
  by: Grouping,
  shifted: boolean,
): Grouped {
  if (!shifted && !plain) return leftOutGroups(directions, made, summit, by);
  const { scatter, root } = weighedRows(directions, made, summit);
  const errors = shifted ? randomIntercept(scatter, by) : clusterErrors(scatter, by);
  const { shift } = errors;
  // Weights make what stays all session vary a little within it; what only the groups tell is seen without them.
  const parts = splitByGroup({ directions, residuals: scatter.residuals, df: scatter.df }, by);
  const tooFew = shifted && parts.present.length <= parts.still.length;
  return {
    ...(errors.spread && { between: errors.spread.between }),
    variance: (along) => (tooFew && onlyBetween(parts, along) ? undefined : errors.variance(timesVector(root, along))),
    df: (along) => errors.df(timesVector(root, along)),
    ...(shift && { shift: (along: readonly number[]) => inner(timesVector(root, along), shift) }),
  };
}

/**
 * The rows times the roots of their weights at the summit, made orthonormal by the root of the information's inverse.
 */
function weighedRows(
  directions: readonly Float64Array[],
  made: ArrayLike<number>,
  { place, inverse }: Summit,
): { scatter: Scatter; root: readonly (readonly number[])[] } {
  const root = mapEigenvalues(eigen(inverse), (value) => Math.sqrt(Math.max(0, value)));
  const rows = made.length;
  const weighed = directions.map(() => new Float64Array(rows));
  const residuals = new Float64Array(rows);
  for (let row = 0; row < rows; row++) {
    const across = directions.map((direction) => direction[row]);
    const odds = inner(across, place);
    const size = Math.sqrt(share(odds) * share(-odds));
    residuals[row] = size > 0 ? (made[row] === 1 ? share(-odds) : -share(odds)) / size : 0;
    timesVector(root, across).forEach((value, j) => (weighed[j][row] = size * value));
  }
  return { scatter: { directions: weighed, residuals, df: rows - directions.length }, root };
}

/** The jackknife over groups for the penalised fit. */
function leftOutGroups(
  directions: readonly Float64Array[],
  made: ArrayLike<number>,
  { place }: Summit,
  { groups, levels }: Grouping,
): Grouped {
  const present = levels.flatMap((_, group) => (Array.prototype.includes.call(groups, group) ? [group] : []));
  const moves = present.map((group) => {
    const kept = Array.from({ length: made.length }, (_, row) => row).filter((row) => groups[row] !== group);
    const summit = climb(
      directions.map((direction) => Float64Array.from(kept, (row) => direction[row])),
      kept.map((row) => made[row]),
      true,
    );
    return summit?.place.map((value, j) => value - place[j]);
  });
  const count = present.length;
  return {
    variance: (along) =>
      moves.reduce<number | undefined>(
        (total, move) =>
          total === undefined || !move ? undefined : total + ((count - 1) / count) * inner(along, move) ** 2,
        0,
      ),
    df: () => count - 1,
  };
}

/** What there is to know at one place of the climb. */
interface Height {
  readonly logLikelihood: number;
  readonly height: number;
  readonly inverse: readonly (readonly number[])[];
  readonly shares: readonly { readonly chance: number; readonly missing: number; readonly weight: number }[];
}

/** exp(x) / (1 + exp(x)). */
function share(x: number): number {
  return x >= 0 ? 1 / (1 + Math.exp(-x)) : Math.exp(x) / (1 + Math.exp(x));
}

/** log(1 + exp(x)). */
function softplus(x: number): number {
  return x > 0 ? x + Math.log1p(Math.exp(-x)) : Math.log1p(Math.exp(x));
}

/**
 * Climbs to the top of the likelihood, or of Firth's with half the logarithm of the information's determinant added.
 * @param from where to start, and a combination that must keep the value it has there; everything at 0, and free,
 * unless said
 * @returns undefined when there is no top: on a separated likelihood every step moves some row's log odds by about 1,
 * for ever, where towards a top the steps shrink with the square of their length
 */
function climb(
  directions: readonly Float64Array[],
  made: ArrayLike<number>,
  penalised: boolean,
  from?: { readonly start: readonly number[]; readonly fixed: readonly number[] },
): Summit | undefined {
  const size = directions.length;
  const rows = made.length;
  const across = Array.from({ length: rows }, (_, row) => directions.map((direction) => direction[row]));
  const at = (place: readonly number[]): Height | undefined => {
    let logLikelihood = 0;
    const information = zeroMatrix(size);
    const shares = across.map((row, i) => {
      const odds = inner(row, place);
      logLikelihood += made[i] * odds - softplus(odds);
      const chance = share(odds);
      addOuter(information, row, chance * share(-odds));
      // As a difference from 1 the chance of a miss would vanish, and with it the slope that tells separation.
      return { chance, missing: made[i] === 1 ? share(-odds) : -chance, weight: chance * share(-odds) };
    });
    const solved = size === 0 ? { inverse: [], logDeterminant: 0 } : invertDefinite(information);
    return (
      solved && {
        logLikelihood,
        height: logLikelihood + (penalised ? solved.logDeterminant / 2 : 0),
        inverse: solved.inverse,
        shares,
      }
    );
  };
  let place: readonly number[] = from?.start ?? new Array<number>(size).fill(0);
  let here = at(place);
  let damping = 1;
  let before: readonly number[] = place;
  for (let step = 0; step < (penalised ? 2000 : 60) && here; step++) {
    const { inverse, shares } = here;
    const slope = new Array<number>(size).fill(0);
    across.forEach((row, i) => {
      const { chance, missing, weight } = shares[i];
      const pull = missing + (penalised ? weight * inner(row, timesVector(inverse, row)) * (0.5 - chance) : 0);
      row.forEach((value, j) => (slope[j] += value * pull));
    });
    let move = timesVector(inverse, slope);
    if (from) {
      // Along the slice on which the fixed combination keeps its value.
      const back = timesVector(inverse, from.fixed);
      const share = inner(from.fixed, move) / inner(from.fixed, back);
      move = move.map((value, j) => value - share * back[j]);
    }
    const reach = (list: readonly number[]) =>
      across.reduce((most, row) => Math.max(most, Math.abs(inner(row, list))), 0);
    const length = reach(move);
    // The information is not the penalised curve itself: steps that swing to and fro are shortened.
    if (penalised && inner(move, before) < 0 && damping > 0.1) damping /= 2;
    before = move;
    move = move.map((value) => value * damping);
    let next: Height | undefined;
    let target = place;
    for (let half = 0; half < 40; half++) {
      const tried = place.map((value, j) => value + move[j]);
      next = at(tried);
      if (next && next.height >= here.height - 1e-10 * Math.abs(here.height)) {
        target = tried;
        break;
      }
      next = undefined;
      move = move.map((value) => value / 2);
    }
    if (!next) return undefined;
    place = target;
    here = next;
    if (length <= 1e-11 * (1 + reach(place)))
      return { place, inverse: here.inverse, logLikelihood: here.logLikelihood, height: here.height };
  }
  return undefined;
}

/** The highest place of the penalised likelihood where a combination has a value, climbed to from a place near it. */
function slice(
  directions: readonly Float64Array[],
  made: ArrayLike<number>,
  near: Summit,
  along: readonly number[],
  value: number,
): Summit | undefined {
  const back = timesVector(near.inverse, along);
  const step = (value - inner(along, near.place)) / inner(along, back);
  return climb(directions, made, true, { start: near.place.map((at, j) => at + step * back[j]), fixed: along });
}

/** How far one place lies below the summit, as a normal deviate. */
function depth(summit: Summit, best: Summit | undefined): number {
  return best ? Math.sqrt(2 * Math.max(0, summit.height - best.height)) : NaN;
}

/**
 * Where the profile of a combination has fallen by as much as the quantile says, on one side.
 * @returns null where it never falls so far, or cannot be followed
 */
function profileEnd(
  directions: readonly Float64Array[],
  made: ArrayLike<number>,
  summit: Summit,
  along: readonly number[],
  side: 1 | -1,
  quantile: number,
): number | null {
  const value = inner(along, summit.place);
  const error = Math.sqrt(inner(along, timesVector(summit.inverse, along)));
  let near = summit;
  const short = (distance: number) => {
    const best = slice(directions, made, near, along, value + side * distance * error);
    if (best) near = best;
    return depth(summit, best) - quantile;
  };
  let [low, high] = [0, quantile / 2];
  let [atLow, atHigh] = [-quantile, short(high)];
  for (let i = 0; atHigh < 0 && i < 30; i++) {
    [low, atLow, high] = [high, atHigh, 1.4 * high];
    atHigh = short(high);
  }
  if (!(atHigh >= 0)) return null;
  for (let i = 0; i < 60 && high - low > 1e-10 * high; i++) {
    // Halving every third time keeps the secant from creeping.
    const next = i % 3 === 2 ? (low + high) / 2 : low + ((high - low) * atLow) / (atLow - atHigh);
    const at = short(next);
    if (Number.isNaN(at)) return null;
    if (Math.abs(at) < 1e-10) return value + side * next * error;
    if (at < 0) [low, atLow] = [next, at];
    else [high, atHigh] = [next, at];
  }
  return value + (side * (low + high) * error) / 2;
}
