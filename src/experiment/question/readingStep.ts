/** What values of a driver tell of how they were read: to a step, or by counting the frames of a film. */

/** Fewer different values than this were set rather than read. */
const READ = 6;
/** Frames that a film shows of a shot: fewer tell no speed, more are not told from a fine step. */
const FRAMES = { least: 3, most: 400 };

export interface ReadingStep {
  readonly kind: "step" | "frames";
  /** The step, or what one frame more or less changes at the middle value. */
  readonly step: number;
  /** Mean variance that rounding to whole steps or frames leaves in the values, spread evenly over one. */
  readonly variance: number;
}

/**
 * How coarsely values were read; undefined where nothing shows it, or too few differ to tell.
 * @example readingStep([40, 45, 50, 55, 60, 65]).step === 5
 */
export function readingStep(values: ArrayLike<number>): ReadingStep | undefined {
  const distinct = [...new Set(Array.from(values))].sort((a, b) => a - b);
  if (distinct.length < READ) return undefined;
  const step = [10, 5, 2, 1, 0.5, 0.25, 0.2, 0.1, 0.05, 0.02, 0.01].find((one) =>
    distinct.every((value) => Math.abs(value / one - Math.round(value / one)) < 1e-6),
  );
  const frame = frameOf(distinct);
  // A speed of so many frames written with two decimals is a multiple of a hundredth besides.
  if (frame !== undefined) {
    const middle = distinct[Math.floor(distinct.length / 2)] ?? NaN;
    const each = Array.from(values, (value) => (value * value * frame) ** 2 / 12);
    const variance = each.reduce((total, one) => total + one, 0) / each.length;
    if (step === undefined || step ** 2 / 12 < variance / 4)
      return { kind: "frames", step: middle * middle * frame, variance };
  }
  return step === undefined ? undefined : { kind: "step", step, variance: step ** 2 / 12 };
}

/**
 * The change of 1/value by one frame, where the reciprocals of all values are whole multiples of it to within a
 * twelfth: a distance over n frames is a speed of C/n. Six values fit so well by chance with odds of about 1 in 8,000,
 * times the few sizes that are tried.
 */
function frameOf(distinct: readonly number[]): number | undefined {
  if (!distinct.every((value) => value > 0)) return undefined;
  const times = distinct.map((value) => 1 / value).sort((a, b) => a - b);
  const gaps = times.slice(1).map((time, i) => time - (times[i] ?? 0));
  const least = Math.min(...gaps);
  for (const frames of [1, 2]) {
    const fitted = refined(times, least / frames);
    const counts = times.map((time) => time / fitted);
    const [first = 0, last = Infinity] = [counts[0], counts[counts.length - 1]];
    if (first < FRAMES.least || last > FRAMES.most) continue;
    if (counts.every((count) => Math.abs(count - Math.round(count)) < 1 / 12)) return fitted;
  }
  return undefined;
}

/**
 * The size that whole multiples of it fit best, begun near one: a gap alone has the errors of its two ends, so longer
 * and longer stretches are counted in it, and each makes it surer for the next.
 */
function refined(times: readonly number[], begin: number): number {
  const stretches = [
    ...times.slice(1).map((time, i) => time - (times[i] ?? 0)),
    ...times.map((time) => time - (times[0] ?? 0)),
    ...times,
  ]
    .filter((stretch) => stretch > begin / 2)
    .sort((a, b) => a - b);
  let size = begin;
  let [cross, squares] = [0, 0];
  for (const stretch of stretches) {
    const count = Math.max(1, Math.round(stretch / size));
    cross += stretch * count;
    squares += count * count;
    size = cross / squares;
  }
  return size;
}
