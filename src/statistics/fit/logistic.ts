/**
 * Logistic regression: the chance that a shot is made, by drivers.
 */
import { buildDesign, type Design, type Driver, type Setting } from "./designMatrix";
import { normalQuantile, studentQuantile, studentTwoSided } from "../distributions/distributions";
import { exactColumn } from "../numeric/doubleDouble";
import type { Grouping } from "../errors/errorModel";
import { groupedErrors, type Grouped } from "./groupsOfMade";
import { leastSquares, type Combination } from "./leastSquares";
import { climb, depth, profileEnd, share, slice, type Shots, type Summit } from "./likelihoodOfMade";
import { normalTwoSided } from "../distributions/normal";
import { explain, oneLevel, withoutError, type Unestimated } from "./unestimated";
import { refuseGrouping } from "./regression";
import type { Term } from "./estimates";
import { inner, timesVector } from "../numeric/symmetric";

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

/**
 * Fits by maximum likelihood (Newton's steps, which are iteratively reweighted least squares: Nelder & Wedderburn,
 * Journal of the Royal Statistical Society A 135 (1972) 370–384). Where made and missed shots are separated, so that
 * the likelihood has no highest point, by Firth's penalised likelihood (Biometrika 80 (1993) 27–38; Heinze & Schemper,
 * Statistics in Medicine 21 (2002) 2409–2419). Intervals and p-values are Wald's, from the information at the
 * estimates; those of the penalised fit come from its profile, as its likelihood is lopsided.
 * Where groups are named, errors are those of groupsOfMade.ts.
 * @throws RangeError when there is no row, lengths differ, a driver is not finite, `made` is neither 0 nor 1, or there
 * is one group only
 * @example logistic({ made: [0, 1, 1, 0, 1, 1], drivers: [] }).terms[0].estimate // Math.log(2)
 */
export function logistic(question: LogisticQuestion): Logistic {
  const { made, drivers, joint = [], constant = true, confidence = 0.95, by } = question;
  checkRows(question);
  const rows = made.length;
  const design = buildDesign(rows, drivers, joint, constant);
  // The orthonormal directions of the design: what they span is fitted, so scale and collinearity do no harm.
  const basis = leastSquares(
    design.columns.map((column) => column.values),
    exactColumn(made),
  );
  const shots = { directions: basis.directions(), made };
  const plain = climb(shots, false);
  const summit = plain ?? climb(shots, true);
  if (!summit) throw new RangeError("the penalised likelihood found no highest point in 2000 steps");

  if (by) refuseGrouping(by, rows);
  const grouped = by && groupedErrors(shots, { plain, summit }, by, question.shifted === true);
  const fitted = {
    shots,
    summit,
    penalised: !plain,
    grouped,
    quantile: normalQuantile((1 + confidence) / 2),
    confidence,
  };
  const terms = design.columns.map(({ label, drivers: of, scale }, index): Term => {
    const alone = design.columns.map((_, j): [number, number] => [j === index ? 1 / scale : 0, 0]);
    return {
      label,
      drivers: of,
      ...told(fitted, basis.kept.includes(index) ? basis.combine(alone, constant) : undefined),
    };
  });
  return {
    rows,
    ...deviances(made, summit),
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
    design,
    question,
    chance(settings) {
      const combined = basis.combine(design.weights(settings), constant);
      return combined && chanceOf(read(fitted, combined));
    },
  };
}

function chanceOf({ value, low, high }: Read): Chance {
  return { chance: share(value), low: low === null ? 0 : share(low), high: high === null ? 1 : share(high) };
}

function checkRows({ made, drivers }: LogisticQuestion): void {
  const rows = made.length;
  if (rows === 0) throw new RangeError("no rows to fit");
  for (const { name, values } of drivers) {
    if (values.length !== rows) throw new RangeError(`${name} has ${values.length} rows where made has ${rows}`);
    for (let i = 0; i < rows; i++)
      if (!Number.isFinite(values[i])) throw new RangeError(`${name} is ${values[i]} in row ${i + 1}`);
  }
  for (let i = 0; i < rows; i++)
    if (made[i] !== 0 && made[i] !== 1) throw new RangeError(`made is ${made[i]} in row ${i + 1}: it must be 0 or 1`);
}

/** How many were made, and −2 log likelihood of the fit and of a constant chance. */
function deviances(made: ArrayLike<number>, summit: Summit) {
  const rows = made.length;
  let count = 0;
  for (let i = 0; i < rows; i++) count += made[i];
  const rate = count / rows;
  const part = (number: number, of: number) => (number === 0 ? 0 : number * Math.log(of));
  return {
    made: count,
    deviance: -2 * summit.logLikelihood,
    nullDeviance: -2 * (part(count, rate) + part(rows - count, 1 - rate)),
  };
}

/** The fit as a combination of coefficients is read from it. */
interface Fitted {
  readonly shots: Shots;
  readonly summit: Summit;
  readonly penalised: boolean;
  readonly grouped: Grouped | undefined;
  readonly confidence: number;
  /** Of the normal curve, for the confidence. */
  readonly quantile: number;
}

interface Read {
  readonly value: number;
  readonly standardError: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** A combination of coefficients with its interval. */
function read({ shots, summit, penalised, grouped, confidence, quantile }: Fitted, { along }: Combination): Read {
  const value = inner(along, summit.place) + (grouped?.shift?.(along) ?? 0);
  if (grouped) {
    const variance = grouped.variance(along);
    if (variance === undefined) return { value, standardError: null, low: null, high: null };
    const standardError = Math.sqrt(variance);
    const half = standardError * studentQuantile(confidence, grouped.df(along));
    return { value, standardError, low: value - half, high: value + half };
  }
  const standardError = Math.sqrt(inner(along, timesVector(summit.inverse, along)));
  if (!penalised)
    return { value, standardError, low: value - quantile * standardError, high: value + quantile * standardError };
  const end = (side: 1 | -1) => profileEnd(shots, summit, along, side, quantile);
  return { value, standardError, low: end(-1), high: end(1) };
}

/** What a term says; nothing where the rows do not determine it. */
function told(fitted: Fitted, combined: Combination | undefined): Omit<Term, "label" | "drivers"> {
  if (!combined) return { estimate: null, standardError: null, t: null, df: null, p: null, low: null, high: null };
  const { shots, summit, penalised, grouped } = fitted;
  const { value, standardError, low, high } = read(fitted, combined);
  if (standardError === null) return { estimate: value, standardError, t: null, df: null, p: null, low, high };
  const z = value / standardError;
  if (grouped) {
    const df = grouped.df(combined.along);
    return { estimate: value, standardError, t: z, df, p: studentTwoSided(z, df), low, high };
  }
  const far = penalised ? depth(summit, slice(shots, summit, combined.along, 0)) : z;
  const p = Number.isNaN(far) ? null : normalTwoSided(far);
  return { estimate: value, standardError, t: z, df: Infinity, p, low, high };
}
