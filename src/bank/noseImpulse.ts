/**
 * The impact as Mathavan, Jackson & Parkin put it (Proc. IMechE C 224 (2010) 1863): the ball touches nose and bed at
 * once, Coulomb friction at both, followed through the growing normal impulse of the nose, with energetic restitution
 * (Stronge). Stick and reversal of slip at each contact, and the ball leaving the bed, are events.
 *
 * Per mass and with spin as surface speed w = R ω, everything is in m/s. With s = sin θ and c = cos θ of the nose, the
 * nose pushes along −(0, c, s); its friction is f₁ along x and f₂ along (0, −s, c), the bed's G₁, G₂ along x, y, and the
 * bed bears q′ = s − c f₂, all per unit of nose impulse p. Then
 *
 *     slip at nose   σ₁′ = 7/2 f₁ + κ G₁            κ = 1 − 5/2 s
 *                    σ₂′ = s c + α f₂ + γ G₂        α = 5/2 + s², γ = 5/2 − s     (7/2 f₂ when off the bed)
 *     slip at bed    u₁′ = κ f₁ + 7/2 G₁
 *                    u₂′ = −c + γ f₂ + 7/2 G₂
 *     approach       n′  = −1 + c G₂ + s q′
 *
 * with f = −μ σ/|σ| and G = −μ_s q′ u/|u| while they slip, and what keeps the slip at zero while they stick. The
 * right-hand sides are analytic between events, so each step sums their power series in p: no fixed step, no rejected
 * step, and every event is the root of a polynomial.
 */

/** Where the impact begins and the table's part in it. Speeds in m/s, spin as surface speed R ω. */
export interface NoseImpulseInput {
  vx: number;
  vy: number;
  wx: number;
  wy: number;
  wz: number;
  sine: number;
  noseFriction: number;
  bedFriction: number;
  restitution: number;
}

/** What comes out, written into by `noseImpulse`; vz > 0 is a ball that has left the bed. */
export interface NoseImpulseOutput {
  vx: number;
  vy: number;
  vz: number;
  wx: number;
  wy: number;
  wz: number;
  /** Normal impulse of the nose per mass, m/s. */
  impulse: number;
  steps: number;
}

export interface Integration {
  /** Error of a speed, as a share of the normal speed, that the steps are chosen for; 1e-10 when left out, 1e-12 at the least. */
  readonly tolerance?: number;
  /** Terms of the power series, 2 to 24; 14 when left out. */
  readonly order?: number;
  /** A fixed step as a share of the normal speed, to study convergence; chosen by the tolerance when left out. */
  readonly step?: number;
}

const MOST_TERMS = 24;
const MOST_STEPS = 20_000;
const series = () => new Float64Array(MOST_TERMS + 2);
/** Power series of the step in hand; reused, as nothing here waits or calls back. */
const slip1 = series(),
  slip2 = series(),
  bed1 = series(),
  bed2 = series();
const noseSquare = series(),
  noseInverse = series(),
  bedSquare = series(),
  bedInverse = series();
const away1 = series(),
  away2 = series();
const f1 = series(),
  f2 = series(),
  load = series(),
  g1 = series(),
  g2 = series();
const tau1 = series(),
  tau2 = series();
/** Normal speed at the nose; work stored so far while compressing, still to be given back while restoring; upward speed. */
const approach = series(),
  work = series(),
  lift = series();

/** What has a value from step to step. */
const STATE = [slip1, slip2, bed1, bed2, approach, work, lift];

const FREE = 0,
  SLIP = 1,
  STICK = 2;
const NONE = 0,
  COMPRESSED = 1,
  RESTORED = 2,
  NOSE_STOPS = 3,
  BED_STOPS = 4,
  NOSE_BREAKS = 5,
  BED_BREAKS = 6,
  LIFTS = 7,
  LANDS = 8;

let terms = 14;
let nose = FREE,
  bed = FREE,
  lifted = false,
  restoring = false;
/** Whether slip at the bed begins at zero in the step in hand; whether a creep is followed. */
let bedBegins = false,
  creeping = false;

/**
 * Numbers that change from step to step, and what functions hand each other. In fields, because a module's variables and
 * what a call takes and returns are numbers on the heap wherever V8 does not inline: 24 kB an impact, as a profile showed.
 */
const hold = {
  sine: 0,
  cosine: 1,
  kappa: 1,
  alpha: 2.5,
  gamma: 2.5,
  noseFriction: 0,
  bedFriction: 0,
  /** Direction in which slip at the bed begins at zero in the step in hand. */
  begin1: 0,
  begin2: 0,
  /** Direction in which slip at the nose starts and how fast it grows, from `noseDeparts`; how fast slip at the bed grows. */
  depart1: 0,
  depart2: 0,
  noseRate: 0,
  bedRate: 0,
  /** What noseDeparts starts from: slip′ = A f + b. */
  b1: 0,
  b2: 0,
  a11: 0,
  a12: 0,
  a22: 0,
  /** Slip times the turning of its direction, which a creep takes off the drive b; a creep of slip that was there may also shrink. */
  turn1: 0,
  turn2: 0,
  /** Integrals over the impulse so far. */
  sumP: 0,
  sumF1: 0,
  sumF2: 0,
  sumG1: 0,
  sumG2: 0,
  /** Error that a step may add; its greatest length; how far a direction may be from the one that it settles on. */
  tolerance: 0,
  longest: 0,
  settled: 0,
  /** The step in hand; where `margin` looks and what it and `sumUp` found; where `locate` found an event; the rate that `direct` found. */
  stepLength: 0,
  marginAt: 0,
  margin: 0,
  found: 0,
  event: 0,
  rate: 0,
};
// V8 keeps fields that hold fractions in place; whole numbers would be kept otherwise until the first fraction comes.
for (const name of Object.keys(hold) as (keyof typeof hold)[]) hold[name] += 0.5;

/** Slip below this share of the normal speed counts as none. */
const STOPPED = 1e-13;
/** A friction, or a restitution, below this is none. */
const NEGLIGIBLE = 1e-13;
/** Slip that starts is put on its way by holding its friction for this much impulse; the error is of the square. */
const DEPARTURE = 1e-6;
/** Slip that starts without a rate of its own is put on its way by this much. */
const NUDGE = 1e-11;
/** Slip at the nose below which a start is followed as a creep, and the longest step of it. */
const CREEP = 2e-5;
const CREEP_STEP = 1e-3;
/** Slip at the bed that starts at this rate or faster is followed from zero by its series. */
const BRISK = 0.05;
/** Rounds that starting slips at both contacts are given to agree. */
const ROUNDS = 60;

/** Math.hypot guards against overflow that cannot happen here, and takes many times as long. */
function length(a: number, b: number): number {
  return Math.sqrt(a * a + b * b);
}

/** Term k of 1/√(a² + b²), given the terms of a and b up to k and of the earlier ones of the result. */
function inverseLength(a: Float64Array, b: Float64Array, k: number, total: Float64Array, result: Float64Array): void {
  let sum = 0;
  for (let j = 0; j <= k; j++) sum += a[j] * a[k - j] + b[j] * b[k - j];
  total[k] = sum;
  if (k === 0) {
    result[0] = 1 / Math.sqrt(sum);
    return;
  }
  let next = 0;
  for (let j = 1; j <= k; j++) next += (0.5 * j - k) * total[j] * result[k - j];
  result[k] = next / (k * total[0]);
}

function productTerm(a: Float64Array, b: Float64Array, k: number): number {
  let sum = 0;
  for (let j = 0; j <= k; j++) sum += a[j] * b[k - j];
  return sum;
}

/**
 * Slip at the bed that begins at zero, u = p τ(p), has the direction of τ, which is analytic there. Term k of û needs
 * term k of τ, which is term k + 1 of u and needs û: linear in it, and it acts across the first direction only.
 */
function beginBed(k: number): void {
  if (k === 0) {
    tau1[0] = hold.bedRate * hold.begin1;
    tau2[0] = hold.bedRate * hold.begin2;
  } else {
    tau1[k] = tau2[k] = 0;
    bedDirection(k);
    const r1 = hold.kappa * f1[k] - 3.5 * hold.bedFriction * productTerm(load, away1, k);
    const r2 = hold.gamma * f2[k] - 3.5 * hold.bedFriction * productTerm(load, away2, k);
    const along = (r1 * hold.begin1 + r2 * hold.begin2) / (k + 1);
    const across = (r2 * hold.begin1 - r1 * hold.begin2) / (k + 1 + (3.5 * hold.bedFriction * load[0]) / hold.bedRate);
    tau1[k] = along * hold.begin1 - across * hold.begin2;
    tau2[k] = along * hold.begin2 + across * hold.begin1;
  }
  bedDirection(k);
}

function bedDirection(k: number): void {
  inverseLength(tau1, tau2, k, bedSquare, bedInverse);
  away1[k] = productTerm(tau1, bedInverse, k);
  away2[k] = productTerm(tau2, bedInverse, k);
}

/** Fills all series from their terms 0. */
function expand(): void {
  const det = 3.5 * hold.alpha - hold.gamma * hold.gamma;
  const bearing = hold.gamma * hold.bedFriction;
  for (let k = 0; k < terms; k++) {
    const one = k === 0 ? 1 : 0;
    if (bed === SLIP && !bedBegins) {
      inverseLength(bed1, bed2, k, bedSquare, bedInverse);
      away1[k] = productTerm(bed1, bedInverse, k);
      away2[k] = productTerm(bed2, bedInverse, k);
    } else away1[k] = away2[k] = 0;

    if (nose === SLIP) {
      inverseLength(slip1, slip2, k, noseSquare, noseInverse);
      f1[k] = -hold.noseFriction * productTerm(slip1, noseInverse, k);
      f2[k] = -hold.noseFriction * productTerm(slip2, noseInverse, k);
    } else if (nose === FREE || lifted) {
      f1[k] = f2[k] = 0;
    } else if (bed === STICK) {
      f1[k] = 0;
      f2[k] = (one * -hold.cosine * (3.5 * hold.sine + hold.gamma)) / det;
    } else {
      // f₂ (α + γ μ c û₂) = s (γ μ û₂ − c)
      let sum = hold.sine * (bearing * away2[k] - one * hold.cosine);
      for (let j = 1; j <= k; j++) sum -= bearing * hold.cosine * away2[j] * f2[k - j];
      f2[k] = sum / (hold.alpha + bearing * hold.cosine * away2[0]);
    }

    load[k] = lifted ? 0 : one * hold.sine - hold.cosine * f2[k];
    if (bedBegins) beginBed(k);
    if (lifted || bed === FREE) g1[k] = g2[k] = 0;
    else if (bed === SLIP) {
      g1[k] = -hold.bedFriction * productTerm(load, away1, k);
      g2[k] = -hold.bedFriction * productTerm(load, away2, k);
    } else {
      g1[k] = (-hold.kappa * f1[k]) / 3.5;
      g2[k] = (one * hold.cosine - hold.gamma * f2[k]) / 3.5;
    }
    if (nose === STICK && !lifted) f1[k] = (-hold.kappa * g1[k]) / 3.5;

    const next = 1 / (k + 1);
    slip1[k + 1] = nose === STICK ? 0 : next * (3.5 * f1[k] + hold.kappa * g1[k]);
    slip2[k + 1] =
      nose === STICK
        ? 0
        : next * (lifted ? 3.5 * f2[k] : one * hold.sine * hold.cosine + hold.alpha * f2[k] + hold.gamma * g2[k]);
    bed1[k + 1] = bed === STICK ? 0 : next * (hold.kappa * f1[k] + 3.5 * g1[k]);
    bed2[k + 1] = bed === STICK ? 0 : next * (hold.gamma * f2[k] + 3.5 * g2[k] - one * hold.cosine);
    approach[k + 1] = next * (hold.cosine * g2[k] + hold.sine * load[k] - one);
    work[k + 1] = next * approach[k];
    lift[k + 1] = lifted ? next * (hold.cosine * f2[k] - one * hold.sine) : 0;
  }
}

/** What must stay positive until the event, at hold.marginAt, into hold.margin. */
function margin(event: number): void {
  if (event === COMPRESSED) {
    sumUp(approach, terms);
    hold.margin = hold.found;
  } else if (event === RESTORED) {
    sumUp(work, terms);
    hold.margin = hold.found;
  } else if (event === NOSE_STOPS) {
    sumUp(slip1, terms);
    const a = hold.found;
    sumUp(slip2, terms);
    hold.margin = slip1[0] * a + slip2[0] * hold.found;
  } else if (event === BED_STOPS) {
    sumUp(bed1, terms);
    const a = hold.found;
    sumUp(bed2, terms);
    hold.margin = bed1[0] * a + bed2[0] * hold.found;
  } else if (event === NOSE_BREAKS) {
    sumUp(f1, terms - 1);
    const a = hold.found;
    sumUp(f2, terms - 1);
    hold.margin = hold.noseFriction * hold.noseFriction - a * a - hold.found * hold.found;
  } else if (event === BED_BREAKS) {
    sumUp(g1, terms - 1);
    const a = hold.found;
    sumUp(g2, terms - 1);
    const b = hold.found;
    sumUp(load, terms - 1);
    const bears = hold.bedFriction * hold.found;
    hold.margin = bears * bears - a * a - b * b;
  } else if (event === LIFTS) {
    sumUp(load, terms - 1);
    hold.margin = hold.found;
  } else if (lift[0] === 0) {
    // LANDS: the height's speed over p, as it starts from zero.
    const p = hold.marginAt;
    let sum = lift[terms];
    for (let k = terms - 1; k >= 1; k--) sum = sum * p + lift[k];
    hold.margin = sum;
  } else {
    sumUp(lift, terms);
    hold.margin = hold.found;
  }
}

/** The value at hold.marginAt of a series up to the given term, into hold.found. The slips have one term more than the frictions. */
function sumUp(poly: Float64Array, last: number): void {
  const p = hold.marginAt;
  let sum = poly[last];
  for (let k = last - 1; k >= 0; k--) sum = sum * p + poly[k];
  hold.found = sum;
}

/**
 * Where the margin, negative at the end of the step, falls to zero: regula falsi in the Illinois form, then the low side.
 * Into hold.event.
 */
function locate(event: number): void {
  let low = 0;
  let high = hold.stepLength;
  margin(event);
  let atHigh = hold.margin;
  hold.marginAt = 0;
  margin(event);
  let atLow = hold.margin;
  hold.event = 0;
  if (!(atLow > 0)) return;
  for (let i = 0; i < 100 && high - low > 1e-16 * high; i++) {
    let p = low + ((high - low) * atLow) / (atLow - atHigh);
    if (!(p > low && p < high)) p = 0.5 * (low + high);
    if (p === low || p === high) break;
    hold.event = hold.marginAt = p;
    margin(event);
    const value = hold.margin;
    if (value === 0) return;
    if (value > 0) {
      low = p;
      atLow = value;
      atHigh *= 0.5;
    } else {
      high = p;
      atHigh = value;
      atLow *= 0.5;
    }
  }
  hold.event = high;
}

/** Fills terms 0 and 1 only: friction at the present state and kinds of contact, and the rates that follow. */
function expandOnce(): void {
  const all = terms;
  terms = 1;
  expand();
  terms = all;
}

/**
 * Direction and rate at which slip at the nose starts: n and λ ≥ 0 with b − μ A n = λ n, where slip′ = A f + b, all in hold.
 * A is upper triangular. The rate is 0 when friction just holds.
 */
function noseDeparts(): void {
  const { a11, a12, a22, noseFriction } = hold;
  const b1 = hold.b1 - hold.turn1;
  const b2 = hold.b2 - hold.turn2;
  let low = creeping ? -0.999 * noseFriction * Math.min(a11, a22) : 0;
  let high = length(b1, b2) + noseFriction * (a11 + Math.abs(a12) + a22);
  // |n| falls as the rate rises: Newton's steps on |n|² = 1, halving where they leave the bracket.
  let rate = 0.5 * (low + high);
  for (let i = 0; i < 100 && high - low > 1e-16 * Math.abs(high); i++) {
    const n2 = b2 / (rate + noseFriction * a22);
    const n1 = (b1 - noseFriction * a12 * n2) / (rate + noseFriction * a11);
    const over = n1 * n1 + n2 * n2 - 1;
    if (over > 0) low = rate;
    else high = rate;
    const fall2 = -n2 / (rate + noseFriction * a22);
    const fall1 = (-noseFriction * a12 * fall2 - n1) / (rate + noseFriction * a11);
    let next = rate - over / (2 * (n1 * fall1 + n2 * fall2));
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (next === rate || Math.abs(next - rate) <= 2e-16 * Math.abs(rate)) break;
    rate = next;
  }
  hold.noseRate = !creeping && rate < 1e-15 ? 0 : rate;
  hold.depart2 = b2 / (hold.noseRate + noseFriction * a22);
  hold.depart1 = (b1 - noseFriction * a12 * hold.depart2) / (hold.noseRate + noseFriction * a11);
  const size = length(hold.depart1, hold.depart2) || 1;
  hold.depart1 /= size;
  hold.depart2 /= size;
}

/** As above, with the bed's present kind of contact and, when it slips, direction. */
function noseDepartsNow(): void {
  const { sine, cosine, kappa, alpha, gamma, bedFriction } = hold;
  hold.b1 = 0;
  hold.b2 = lifted ? 0 : sine * cosine;
  hold.a11 = 3.5;
  hold.a12 = 0;
  hold.a22 = lifted ? 3.5 : alpha;
  if (!lifted && bed === STICK) {
    hold.b2 += (gamma * cosine) / 3.5;
    hold.a11 -= (kappa * kappa) / 3.5;
    hold.a22 -= (gamma * gamma) / 3.5;
  } else if (!lifted && bed === SLIP) {
    const size = length(bed1[0], bed2[0]);
    const u1 = (bedFriction * bed1[0]) / size,
      u2 = (bedFriction * bed2[0]) / size;
    hold.b1 = -kappa * sine * u1;
    hold.b2 -= gamma * sine * u2;
    hold.a12 = kappa * cosine * u1;
    hold.a22 += gamma * cosine * u2;
  }
  noseDeparts();
}

/**
 * The same at the bed, where A is 7/2 both ways: n lies along b. While the nose sticks its friction follows from n in
 * turn, so they go round until they agree.
 */
function bedDepartsNow(): void {
  for (let round = nose === STICK ? ROUNDS : 1; round > 0; round--) {
    expandOnce();
    const b1 = hold.kappa * f1[0] - hold.turn1,
      b2 = hold.gamma * f2[0] - hold.cosine - hold.turn2;
    const size = length(b1, b2);
    hold.bedRate = size - 3.5 * hold.bedFriction * load[0];
    bed1[0] = b1 / size;
    bed2[0] = b2 / size;
  }
}

/** Decides for each contact without slip whether it sticks or starts to slip: sticks when its friction can hold it. */
function settle(noseBreaks: boolean, bedBreaks: boolean): void {
  bedBegins = false;
  const noseSlip = length(slip1[0], slip2[0]);
  const noseStill = hold.noseFriction > 0 && noseSlip <= STOPPED;
  nose = hold.noseFriction > 0 ? SLIP : FREE;
  if (nose === SLIP && !noseStill && !lifted && hold.sine * noseSlip + hold.cosine * hold.noseFriction * slip2[0] < 0) {
    lifted = true;
    lift[0] = 0;
  }
  const bedStill = hold.bedFriction > 0 && !lifted && length(bed1[0], bed2[0]) <= STOPPED;
  bed = hold.bedFriction > 0 && !lifted ? SLIP : FREE;
  if (!noseStill && !bedStill) return;

  for (let choice = 0; choice < 4; choice++) {
    const noseKind = noseStill && choice < 2 ? STICK : nose === FREE ? FREE : SLIP;
    const bedKind = bedStill && choice % 2 === 0 ? STICK : bed === FREE ? FREE : SLIP;
    if (choice < 3 && ((noseBreaks && noseKind === STICK) || (bedBreaks && bedKind === STICK))) continue;
    if (attempt(noseKind, bedKind, noseStill, bedStill)) break;
  }
  depart(noseStill && nose === SLIP, bedStill && bed === SLIP);
}

/** Takes up kinds of contact and finds the directions of starting slips. @returns whether what sticks is held */
function attempt(noseKind: number, bedKind: number, noseStill: boolean, bedStill: boolean): boolean {
  nose = noseKind;
  bed = bedKind;
  const noseStarts = noseStill && nose === SLIP;
  const bedStarts = bedStill && bed === SLIP;
  if (noseStill) {
    slip1[0] = 0;
    slip2[0] = noseStarts ? 1 : 0;
  }
  if (bedStill) {
    bed1[0] = 0;
    bed2[0] = bedStarts ? -1 : 0;
  }
  for (let round = bedStarts && noseStarts ? ROUNDS : 1; round > 0; round--) {
    if (bedStarts) bedDepartsNow();
    if (noseStarts) noseDepartsNow();
    if (noseStarts) {
      slip1[0] = hold.depart1;
      slip2[0] = hold.depart2;
    }
  }
  expandOnce();
  return (
    (nose !== STICK || length(f1[0], f2[0]) <= hold.noseFriction) &&
    (bed !== STICK || length(g1[0], g2[0]) <= hold.bedFriction * load[0])
  );
}

/** Moves starting slips, now of length 1, off zero. */
function depart(noseStarts: boolean, bedStarts: boolean): void {
  if (noseStarts && bedStarts) {
    const n1 = slip1[0],
      n2 = slip2[0],
      u1 = bed1[0],
      u2 = bed2[0];
    const p = restoring && work[0] < 2 * DEPARTURE * Math.abs(approach[0]) ? 0 : DEPARTURE;
    expandOnce();
    const all = terms;
    terms = 1;
    hold.stepLength = p;
    advance();
    terms = all;
    slip1[0] = Math.max(NUDGE, hold.noseRate * p) * n1;
    slip2[0] = Math.max(NUDGE, hold.noseRate * p) * n2;
    bed1[0] = Math.max(NUDGE, hold.bedRate * p) * u1;
    bed2[0] = Math.max(NUDGE, hold.bedRate * p) * u2;
  } else if (noseStarts) creep(atNose, 0);
  else if (bedStarts && nose !== STICK && hold.bedRate > BRISK) {
    bedBegins = true;
    hold.begin1 = bed1[0];
    hold.begin2 = bed2[0];
    bed1[0] = bed2[0] = 0;
  } else if (bedStarts) creep(atBed, 0);
}

/** One contact as a creep sees it: its own slip, the other's, and how its direction is found. */
interface Contact {
  readonly own1: Float64Array;
  readonly own2: Float64Array;
  readonly other1: Float64Array;
  readonly other2: Float64Array;
  /** Puts the direction into own1[0], own2[0], the friction into the series and the rate into hold.rate. */
  direct(): void;
}
const atNose: Contact = {
  own1: slip1,
  own2: slip2,
  other1: bed1,
  other2: bed2,
  direct() {
    noseDepartsNow();
    slip1[0] = hold.depart1;
    slip2[0] = hold.depart2;
    expandOnce();
    hold.rate = hold.noseRate;
  },
};
const atBed: Contact = {
  own1: bed1,
  own2: bed2,
  other1: slip1,
  other2: slip2,
  direct() {
    bedDepartsNow();
    expandOnce();
    hold.rate = hold.bedRate;
  },
};

/** Own slip r, the other contact's slip (2), approach, work, and the integrals of f₁, f₂, G₁, G₂: a creep's state, its rates. */
const creepState = new Float64Array(9),
  creepTrial = new Float64Array(9),
  creepRate = new Float64Array(9),
  creepSum = new Float64Array(9);

/**
 * Where friction almost holds, small slip grows or shrinks slowly while its direction n settles within a few times its
 * own size: stiff, so the direction is not followed but solved for, b − μ A n − r n₀′ = r′ n with n₀ the same at r = 0.
 * What is left out is of order r², and a creep ends when slip does, at r = 2·10⁻⁵, or at the next event.
 */
function creep(contact: Contact, from: number): void {
  const { own1, own2, other1, other2 } = contact;
  startCreep(contact, from);
  creeping = from > 0;
  while (creepState[0] < CREEP) {
    creepRates(contact, creepState);
    const rate = creepRate[0];
    const slowing = creepRate[3];
    let p = Math.min(CREEP_STEP, rate < 0 ? creepState[0] / -rate : CREEP / rate);
    if (!restoring) p = Math.min(p, -creepState[3] / slowing);
    else
      p = Math.min(
        p,
        (2 * creepState[4]) /
          (-creepState[3] + Math.sqrt(Math.max(0, creepState[3] * creepState[3] - 2 * slowing * creepState[4]))),
      );
    const other = length(creepState[1], creepState[2]);
    if (other > STOPPED) p = Math.min(p, 0.3 * other);
    if (!(p > 1e-13)) break;
    creepSum.set(creepState);
    for (let stage = 0; stage < 4; stage++) {
      const weight = stage === 0 || stage === 3 ? p / 6 : p / 3;
      const ahead = stage === 2 ? p : p / 2;
      for (let i = 0; i < 9; i++) {
        creepSum[i] += weight * creepRate[i];
        creepTrial[i] = creepState[i] + ahead * creepRate[i];
      }
      if (stage < 3) creepRates(contact, creepTrial);
    }
    creepState.set(creepSum);
    hold.sumP += p;
    if (creepState[0] <= STOPPED) break;
  }
  creepRates(contact, creepState);
  creeping = false;
  const slip = from === 0 ? Math.max(NUDGE, creepState[0]) : creepState[0] > STOPPED ? creepState[0] : 0;
  own1[0] *= slip;
  own2[0] *= slip;
  other1[0] = creepState[1];
  other2[0] = creepState[2];
  approach[0] = creepState[3];
  work[0] = creepState[4];
  hold.sumF1 += creepState[5];
  hold.sumF2 += creepState[6];
  hold.sumG1 += creepState[7];
  hold.sumG2 += creepState[8];
}

function startCreep(contact: Contact, slip: number): void {
  creepState[0] = slip;
  creepState[1] = contact.other1[0];
  creepState[2] = contact.other2[0];
  creepState[3] = approach[0];
  creepState[4] = work[0];
  creepState.fill(0, 5);
}

/**
 * Whether small slip has settled on the direction that a creep has, to within the tolerance. Only where that direction
 * draws others to it, b·n > 0: slip that is braked by friction and drive alike may pass close by zero and turn.
 */
function creeps(contact: Contact): boolean {
  const { own1, own2 } = contact;
  const slip = length(own1[0], own2[0]);
  if (slip > CREEP || slip <= STOPPED) return false;
  const n1 = own1[0] / slip,
    n2 = own2[0] / slip;
  startCreep(contact, slip);
  creeping = true;
  creepRates(contact, creepState);
  creeping = false;
  const off = length(own1[0] - n1, own2[0] - n2) * slip;
  own1[0] = slip * n1;
  own2[0] = slip * n2;
  const holds = contact === atNose ? 2.5 * hold.noseFriction : 3.5 * hold.bedFriction * load[0];
  return off < hold.settled && creepRate[0] + holds > 0;
}

/** Rates of a creep's state into creepRate; leaves the other's slip in its series and the direction in the contact's own. */
function creepRates(contact: Contact, state: Float64Array): void {
  const { own1, own2, other1, other2 } = contact;
  const moves = other1[0] !== 0 || other2[0] !== 0;
  other1[0] = state[1];
  other2[0] = state[2];
  hold.turn1 = hold.turn2 = 0;
  contact.direct();
  const ahead = 1e-4 * Math.min(1, length(state[1], state[2]));
  if (moves && state[0] > 0 && ahead > 0) {
    const n1 = own1[0],
      n2 = own2[0];
    other1[0] += ahead * other1[1];
    other2[0] += ahead * other2[1];
    contact.direct();
    hold.turn1 = (state[0] * (own1[0] - n1)) / ahead;
    hold.turn2 = (state[0] * (own2[0] - n2)) / ahead;
    other1[0] = state[1];
    other2[0] = state[2];
    contact.direct();
    hold.turn1 = hold.turn2 = 0;
  }
  creepRate[0] = hold.rate;
  creepRate[1] = other1[1];
  creepRate[2] = other2[1];
  creepRate[3] = approach[1];
  creepRate[4] = state[3];
  creepRate[5] = f1[0];
  creepRate[6] = f2[0];
  creepRate[7] = g1[0];
  creepRate[8] = g2[0];
}

/** Goes on by hold.stepLength: the series' values there become the new terms 0. */
function advance(): void {
  const p = hold.stepLength;
  hold.sumP += p;
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
  hold.sumF1 += forF1 * p;
  hold.sumF2 += forF2 * p;
  hold.sumG1 += forG1 * p;
  hold.sumG2 += forG2 * p;
  for (let i = 0; i < STATE.length; i++) {
    const poly = STATE[i];
    let sum = poly[terms];
    for (let k = terms - 1; k >= 0; k--) sum = sum * p + poly[k];
    poly[0] = sum;
  }
}

/**
 * The step within which the last terms of the series stay below the tolerance. Four of them are asked, as single ones
 * may vanish, and no step is longer than 5/2 times the way to where slip would be zero: there the direction's series
 * ends, and where it happens to be constant its rounding grows. Into hold.stepLength.
 */
function reach(): void {
  const { tolerance } = hold;
  let step = hold.longest;
  if (nose === SLIP) step = Math.min(step, (2.5 * length(slip1[0], slip2[0])) / length(slip1[1], slip2[1]));
  if (bed === SLIP && !bedBegins) step = Math.min(step, (2.5 * length(bed1[0], bed2[0])) / length(bed1[1], bed2[1]));
  for (let k = Math.max(2, terms - 3); k <= terms; k++) {
    const largest = Math.max(
      Math.abs(slip1[k]),
      Math.abs(slip2[k]),
      Math.abs(bed1[k]),
      Math.abs(bed2[k]),
      Math.abs(approach[k]),
    );
    let power = largest;
    for (let j = 0; j < k; j++) power *= step;
    if (power > tolerance) step = (tolerance / largest) ** (1 / k);
  }
  hold.stepLength = step;
}

/** The first event within the step, and where: shortens `hold.stepLength`. */
function firstEvent(): number {
  let event = NONE;
  for (let kind = COMPRESSED; kind <= LANDS; kind++) {
    if (!applies(kind)) continue;
    hold.marginAt = hold.stepLength;
    margin(kind);
    if (!(hold.margin < 0)) continue;
    locate(kind);
    const at = hold.event;
    hold.marginAt = at;
    if ((kind === NOSE_STOPS && slides(slip1, slip2)) || (kind === BED_STOPS && slides(bed1, bed2))) {
      hold.stepLength = 0.9 * at;
      event = NONE;
    } else {
      hold.stepLength = at;
      event = kind;
    }
  }
  return event;
}

/** Whether there is slip at hold.marginAt. */
function slides(a: Float64Array, b: Float64Array): boolean {
  sumUp(a, terms);
  const first = hold.found;
  sumUp(b, terms);
  return length(first, hold.found) > STOPPED;
}

/** Slip may end in the very step that another event ends. */
function stopped(kind: number, a: Float64Array, b: Float64Array): boolean {
  return kind === SLIP && length(a[0], b[0]) <= STOPPED;
}

function applies(event: number): boolean {
  switch (event) {
    case COMPRESSED:
      return !restoring;
    case RESTORED:
      return restoring;
    case NOSE_STOPS:
      return nose === SLIP;
    case BED_STOPS:
      return bed === SLIP;
    case NOSE_BREAKS:
      return nose === STICK && bed === SLIP;
    case BED_BREAKS:
      return bed === STICK && nose === SLIP;
    case LIFTS:
      return !lifted && nose === SLIP && hold.cosine * hold.noseFriction > hold.sine;
    default:
      return lifted;
  }
}

/**
 * Follows the impact from first touch until the cushion has given back its share of the work.
 * @param input vy > 0, hold.sine from 0 to below 1; frictions small enough not to wedge the ball
 */
export function noseImpulse(input: NoseImpulseInput, output: NoseImpulseOutput, integration: Integration = {}): void {
  terms = Math.min(MOST_TERMS, Math.max(2, Math.round(integration.order ?? 14)));
  const tolerance = 0.1 * Math.max(integration.tolerance ?? 1e-10, 1e-12);
  hold.settled = Math.max(2 * tolerance, 2e-12);
  hold.tolerance = integration.step === undefined ? tolerance : Infinity;
  hold.longest = integration.step ?? 4;
  hold.sine = input.sine;
  hold.noseFriction = input.noseFriction < NEGLIGIBLE ? 0 : input.noseFriction;
  hold.bedFriction = input.bedFriction < NEGLIGIBLE ? 0 : input.bedFriction;
  hold.cosine = Math.sqrt(1 - hold.sine * hold.sine);
  hold.kappa = 1 - 2.5 * hold.sine;
  hold.alpha = 2.5 + hold.sine * hold.sine;
  hold.gamma = 2.5 - hold.sine;
  const scale = hold.cosine * input.vy;
  slip1[0] = (input.vx + hold.sine * input.wy - hold.cosine * input.wz) / scale;
  slip2[0] = (input.wx - hold.sine * input.vy) / scale;
  bed1[0] = (input.vx - input.wy) / scale;
  bed2[0] = (input.vy + input.wx) / scale;
  approach[0] = 1;
  work[0] = lift[0] = 0;
  lifted = restoring = false;
  hold.turn1 = hold.turn2 = 0;
  hold.sumP = hold.sumF1 = hold.sumF2 = hold.sumG1 = hold.sumG2 = 0;

  let steps = 0;
  settle(false, false);
  for (;;) {
    if (++steps > MOST_STEPS) throw new Error("the impact did not end: too many steps");
    if (stopped(nose, slip1, slip2) || (!bedBegins && stopped(bed, bed1, bed2))) settle(false, false);
    if (nose === SLIP && !lifted && creeps(atNose)) {
      creep(atNose, length(slip1[0], slip2[0]));
      settle(false, false);
    } else if (bed === SLIP && creeps(atBed)) {
      creep(atBed, length(bed1[0], bed2[0]));
      settle(false, false);
    }
    expand();
    reach();
    const event = firstEvent();
    advance();
    bedBegins = false;
    if (event === NONE) continue;
    if (event === RESTORED) break;
    if (event === COMPRESSED) {
      approach[0] = 0;
      restoring = true;
      work[0] *= input.restitution * input.restitution;
      if (work[0] < NEGLIGIBLE * NEGLIGIBLE) break;
      continue;
    }
    if (event === NOSE_STOPS) slip1[0] = slip2[0] = 0;
    if (event === BED_STOPS) bed1[0] = bed2[0] = 0;
    if (event === LIFTS) lifted = true;
    if (event === LIFTS || event === LANDS) lift[0] = 0;
    if (event === LANDS) lifted = false;
    settle(event === NOSE_BREAKS, event === BED_BREAKS);
  }

  output.vx = input.vx + scale * (hold.sumF1 + hold.sumG1);
  output.vy = input.vy + scale * (hold.sumG2 - hold.sine * hold.sumF2 - hold.cosine * hold.sumP);
  output.vz = lifted ? scale * lift[0] : 0;
  output.wx = input.wx + 2.5 * scale * (hold.sumF2 + hold.sumG2);
  output.wy = input.wy + 2.5 * scale * (hold.sine * hold.sumF1 - hold.sumG1);
  output.wz = input.wz - 2.5 * scale * hold.cosine * hold.sumF1;
  output.impulse = scale * hold.sumP;
  output.steps = steps;
}
