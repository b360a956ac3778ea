/**
 * How far a profile must fall at the end of an interval, so that intervals from a few dozen rows cover as often as they
 * say.
 *
 * Twice the fall of the log likelihood is chi-square only for many rows. For rows whose value is known it is exactly
 * n·log(1 + t²/ν), with ν = n − p and Student's t on ν: then profile intervals are those of least squares. A row that
 * only says at least or less than is worth less, by its share of a known value's information (Fisher's), and hardly
 * anything on the scatter; so ν counts what the rows are worth. Sessions are counted, not their rows.
 */
import { studentQuantile } from "../distributions/distributions";
import { withoutSession, type CensoredRows } from "./likelihood";
import { seenHazard } from "./seen";

/** What rows are worth, in rows whose value is known: for where the response lies, and for how it scatters. */
export interface Worth {
  readonly location: number;
  readonly scatter: number;
}

/** Nothing is left of t with fewer degrees of freedom. */
const LEAST = 1;

/**
 * Fisher's information of each row at a place, over that of a known value: φ²/(Φ(1 − Φ)) of the location, and η²/2 of
 * that of the scatter.
 */
export function worthOf(data: CensoredRows, place: readonly number[]): Worth {
  const eta = withoutSession(data, place);
  let [location, scatter] = [0, 0];
  for (let i = 0; i < data.rows; i++) {
    const share = data.exact[i] ? 1 : seenHazard(eta[i], data.misjudged) * seenHazard(-eta[i], data.misjudged);
    location += share;
    scatter += data.exact[i] ? 1 : (eta[i] * eta[i] * share) / 2;
  }
  return { location, scatter };
}

/**
 * Degrees of freedom of a quantity.
 *
 * @param worth undefined where the likelihood has no highest place: then one degree of freedom is all that is counted
 * on
 * @param variances of the quantity, by what is unknown of the location and of the scatter (Satterthwaite's rule joins
 * them)
 */
export function degreesOfFreedom(
  { rows, exactCount, directions }: CensoredRows,
  worth: Worth | undefined,
  variances: { readonly location: number; readonly scatter: number },
): number {
  if (!worth) return LEAST;
  const scatter = Math.max(LEAST, worth.scatter - (directions * exactCount) / rows);
  // An interval of the location leans on the scatter, too, which is known only so well: the harmonic mean.
  const location = 2 / (1 / Math.max(LEAST, worth.location - directions) + 1 / scatter);
  const total = variances.location + variances.scatter;
  return total > 0
    ? total ** 2 / (variances.location ** 2 / location + variances.scatter ** 2 / scatter)
    : Math.min(location, scatter);
}

/**
 * The fall of twice the log likelihood at the end of an interval.
 * @param parameters of the location
 * @param sessions undefined where rows are each on their own
 * @example fallOf(0.95, 1e6, 0, undefined) < 3.85
 */
export function fallOf(confidence: number, df: number, parameters: number, sessions: number | undefined): number {
  const fall = (freedom: number, count: number) =>
    (freedom + count) * Math.log1p(studentQuantile(confidence, freedom) ** 2 / freedom);
  const ofRows = fall(df, parameters);
  return sessions === undefined ? ofRows : Math.max(ofRows, fall(Math.max(LEAST, sessions - 1), 1));
}
