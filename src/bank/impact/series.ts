/**
 * The right-hand sides as power series of the impulse, term by term, and a step along them. Equations: noseImpulse.ts.
 */
import { FREE, length, look, model, now, SLIP, start, step, STICK, sums } from "./state";

export const MOST_TERMS = 24;
const zeros = () => new Float64Array(MOST_TERMS + 2);

/** Slip at the nose, σ, and at the bed, u. */
const slip1 = zeros();
const slip2 = zeros();
const bed1 = zeros();
const bed2 = zeros();
/** Friction at the nose, what the bed bears, friction at the bed. */
const f1 = zeros();
const f2 = zeros();
const load = zeros();
const g1 = zeros();
const g2 = zeros();
/** Normal speed at the nose. */
const approach = zeros();
/** Work stored so far while compressing, still to be given back while restoring. */
const work = zeros();
/** Upward speed. */
const lift = zeros();

/**
 * All of them, for the rest of the impact: it takes them into constants of its own, which V8 reads faster than imports.
 */
export const series = { slip1, slip2, bed1, bed2, f1, f2, load, g1, g2, approach, work, lift };

/** Direction of slip at the bed, and τ of `beginBed`. */
const away1 = zeros();
const away2 = zeros();
const tau1 = zeros();
const tau2 = zeros();

/** What has a value from step to step. */
const STATE = [slip1, slip2, bed1, bed2, approach, work, lift];

/** A slip's square and the inverse of its length, which its direction needs term by term. */
interface Length {
  readonly square: Float64Array;
  readonly inverse: Float64Array;
}
const noseLength: Length = { square: zeros(), inverse: zeros() };
const bedLength: Length = { square: zeros(), inverse: zeros() };

/**
 * Term k of the direction (a, b)/√(a² + b²), given the terms of a and b up to k and all earlier ones. In one loop, and
 * into arrays: a number given back would stand on the heap.
 */
function direction(
  a: Float64Array,
  b: Float64Array,
  k: number,
  of: Length,
  to1: Float64Array,
  to2: Float64Array,
): void {
  const { square, inverse } = of;
  // Each product of two different terms comes twice.
  let half = 0;
  let low = 0;
  let high = k;
  for (; low < high; low++, high--) half += a[low] * a[high] + b[low] * b[high];
  square[k] = 2 * half + (low === high ? a[low] * a[low] + b[low] * b[low] : 0);

  let next = 0;
  let sum1 = 0;
  let sum2 = 0;
  for (let j = 1; j <= k; j++) {
    const before = inverse[k - j];
    next += (0.5 * j - k) * square[j] * before;
    sum1 += a[j] * before;
    sum2 += b[j] * before;
  }
  const last = k === 0 ? 1 / Math.sqrt(square[0]) : next / (k * square[0]);
  inverse[k] = last;
  to1[k] = sum1 + a[0] * last;
  to2[k] = sum2 + b[0] * last;
}

/** Term k of the bed's friction while it slips. */
function bedSlides(k: number): void {
  let sum1 = 0;
  let sum2 = 0;
  for (let j = 0; j <= k; j++) {
    sum1 += load[j] * away1[k - j];
    sum2 += load[j] * away2[k - j];
  }
  g1[k] = -model.bedFriction * sum1;
  g2[k] = -model.bedFriction * sum2;
}

/**
 * Slip at the bed that begins at zero, u = p τ(p), has the direction of τ, which is analytic there. Term k of û needs
 * term k of τ, which is term k + 1 of u and needs û: linear in it, and it acts across the first direction only.
 */
function beginBed(k: number): void {
  if (k === 0) {
    tau1[0] = start.bedRate * start.begin1;
    tau2[0] = start.bedRate * start.begin2;
  } else {
    tau1[k] = tau2[k] = 0;
    direction(tau1, tau2, k, bedLength, away1, away2);
    bedSlides(k);
    const r1 = model.kappa * f1[k] + 3.5 * g1[k];
    const r2 = model.gamma * f2[k] + 3.5 * g2[k];
    const along = (r1 * start.begin1 + r2 * start.begin2) / (k + 1);
    const across =
      (r2 * start.begin1 - r1 * start.begin2) / (k + 1 + (3.5 * model.bedFriction * load[0]) / start.bedRate);
    tau1[k] = along * start.begin1 - across * start.begin2;
    tau2[k] = along * start.begin2 + across * start.begin1;
  }
  direction(tau1, tau2, k, bedLength, away1, away2);
}

/** Term k of the nose's friction; while the nose sticks and the bed bears, f₁ is known after the bed's. */
function noseFrictionTerm(k: number, one: number): void {
  if (now.nose === SLIP) {
    direction(slip1, slip2, k, noseLength, f1, f2);
    f1[k] *= -model.noseFriction;
    f2[k] *= -model.noseFriction;
  } else if (now.nose === FREE || now.lifted) {
    f1[k] = f2[k] = 0;
  } else if (now.bed === STICK) {
    f1[k] = 0;
    f2[k] = (one * -model.cosine * (3.5 * model.sine + model.gamma)) / (3.5 * model.alpha - model.gamma * model.gamma);
  } else {
    // f₂ (α + γ μ c û₂) = s (γ μ û₂ − c)
    const bearing = model.gamma * model.bedFriction;
    let sum = model.sine * (bearing * away2[k] - one * model.cosine);
    for (let j = 1; j <= k; j++) sum -= bearing * model.cosine * away2[j] * f2[k - j];
    f2[k] = sum / (model.alpha + bearing * model.cosine * away2[0]);
  }
}

/** Term k of what the bed bears and of its friction. */
function bedFrictionTerm(k: number, one: number): void {
  load[k] = now.lifted ? 0 : one * model.sine - model.cosine * f2[k];
  if (now.bedBegins) beginBed(k);
  if (now.lifted || now.bed === FREE) g1[k] = g2[k] = 0;
  else if (now.bed === SLIP) bedSlides(k);
  else {
    g1[k] = (-model.kappa * f1[k]) / 3.5;
    g2[k] = (one * model.cosine - model.gamma * f2[k]) / 3.5;
  }
}

/** Term k + 1 of both slips. */
function slipTerms(k: number, one: number): void {
  const next = 1 / (k + 1);
  slip1[k + 1] = now.nose === STICK ? 0 : next * (3.5 * f1[k] + model.kappa * g1[k]);
  slip2[k + 1] =
    now.nose === STICK
      ? 0
      : next * (now.lifted ? 3.5 * f2[k] : one * model.sine * model.cosine + model.alpha * f2[k] + model.gamma * g2[k]);
  bed1[k + 1] = now.bed === STICK ? 0 : next * (model.kappa * f1[k] + 3.5 * g1[k]);
  bed2[k + 1] = now.bed === STICK ? 0 : next * (model.gamma * f2[k] + 3.5 * g2[k] - one * model.cosine);
}

/** Fills all series from their terms 0. */
export function expand(): void {
  for (let k = 0; k < now.terms; k++) {
    const one = k === 0 ? 1 : 0;
    if (now.bed === SLIP && !now.bedBegins) direction(bed1, bed2, k, bedLength, away1, away2);
    else away1[k] = away2[k] = 0;
    noseFrictionTerm(k, one);
    bedFrictionTerm(k, one);
    if (now.nose === STICK && !now.lifted) f1[k] = (-model.kappa * g1[k]) / 3.5;
    slipTerms(k, one);
    const next = 1 / (k + 1);
    approach[k + 1] = next * (model.cosine * g2[k] + model.sine * load[k] - one);
    work[k + 1] = next * approach[k];
    lift[k + 1] = now.lifted ? next * (model.cosine * f2[k] - one * model.sine) : 0;
  }
}

/** Fills terms 0 and 1 only: friction at the present state and kinds of contact, and the rates that follow. */
export function expandOnce(): void {
  const all = now.terms;
  now.terms = 1;
  expand();
  now.terms = all;
}

/**
 * The value at look.at of a series up to the given term, into look.found. The slips have one term more than the
 * frictions.
 */
export function sumUp(poly: Float64Array, last: number): void {
  const p = look.at;
  let sum = poly[last];
  for (let k = last - 1; k >= 0; k--) sum = sum * p + poly[k];
  look.found = sum;
}

/** Goes on by step.length: the series' values there become the new terms 0. */
export function advance(): void {
  const p = step.length;
  const { terms } = now;
  sums.p += p;
  let forF1 = f1[terms - 1] / terms,
    forF2 = f2[terms - 1] / terms,
    forG1 = g1[terms - 1] / terms,
    forG2 = g2[terms - 1] / terms;
  for (let k = terms - 2; k >= 0; k--) {
    const share = k + 1;
    forF1 = forF1 * p + f1[k] / share;
    forF2 = forF2 * p + f2[k] / share;
    forG1 = forG1 * p + g1[k] / share;
    forG2 = forG2 * p + g2[k] / share;
  }
  sums.f1 += forF1 * p;
  sums.f2 += forF2 * p;
  sums.g1 += forG1 * p;
  sums.g2 += forG2 * p;
  for (let i = 0; i < STATE.length; i++) {
    const poly = STATE[i];
    let sum = poly[terms];
    for (let k = terms - 1; k >= 0; k--) sum = sum * p + poly[k];
    poly[0] = sum;
  }
}

/** Goes on by step.length along terms 0 and 1 only. */
export function advanceOnce(): void {
  const all = now.terms;
  now.terms = 1;
  advance();
  now.terms = all;
}

/**
 * The step within which the last terms of the series stay below the tolerance. Four of them are asked, as single ones
 * may vanish, and no step is longer than 5/2 times the way to where slip would be zero: there the direction's series
 * ends, and where it happens to be constant its rounding grows. Into step.length.
 */
export function reach(): void {
  const { tolerance } = step;
  const { terms } = now;
  let far = step.longest;
  if (now.nose === SLIP) far = Math.min(far, (2.5 * length(slip1[0], slip2[0])) / length(slip1[1], slip2[1]));
  if (now.bed === SLIP && !now.bedBegins)
    far = Math.min(far, (2.5 * length(bed1[0], bed2[0])) / length(bed1[1], bed2[1]));
  for (let k = Math.max(2, terms - 3); k <= terms; k++) {
    const largest = Math.max(
      Math.abs(slip1[k]),
      Math.abs(slip2[k]),
      Math.abs(bed1[k]),
      Math.abs(bed2[k]),
      Math.abs(approach[k]),
    );
    let power = largest;
    for (let j = 0; j < k; j++) power *= far;
    if (power > tolerance) far = (tolerance / largest) ** (1 / k);
  }
  step.length = far;
}
