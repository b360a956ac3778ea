/**
 * Where friction almost holds, small slip grows or shrinks slowly while its direction n settles within a few times its
 * own size: stiff, so the direction is not followed but solved for, b − μ A n − r n₀′ = r′ n with n₀ the same at r = 0.
 * What is left out is of order r², and a creep ends when slip does, at r = 2·10⁻⁵, or at the next event.
 */
import { bedDeparts, noseDeparts } from "./departures";
import { expandOnce, series } from "./series";
import { length, model, now, start, step, STOPPED, sums } from "./state";

const { approach, bed1, bed2, f1, f2, g1, g2, load, slip1, slip2, work } = series;

/** Slip that starts without a rate of its own is put on its way by this much. */
export const NUDGE = 1e-11;
/** Slip below which a start is followed as a creep, and the longest step of it. */
const CREEP = 2e-5;
const CREEP_STEP = 1e-3;

/** One contact as a creep sees it: its own slip, the other's, and how its direction is found. */
interface Contact {
  readonly own1: Float64Array;
  readonly own2: Float64Array;
  readonly other1: Float64Array;
  readonly other2: Float64Array;
  /** Puts the direction into own1[0], own2[0], the friction into the series and the rate into rates[0]. */
  direct(): void;
}

export const atNose: Contact = {
  own1: slip1,
  own2: slip2,
  other1: bed1,
  other2: bed2,
  direct() {
    noseDeparts();
    slip1[0] = start.depart1;
    slip2[0] = start.depart2;
    expandOnce();
    rates[0] = start.noseRate;
  },
};

export const atBed: Contact = {
  own1: bed1,
  own2: bed2,
  other1: slip1,
  other2: slip2,
  direct() {
    bedDeparts();
    expandOnce();
    rates[0] = start.bedRate;
  },
};

/** Own slip r, the other contact's slip (2), approach, work, and the integrals of f₁, f₂, G₁, G₂; and their rates. */
const state = new Float64Array(9);
const trial = new Float64Array(9);
const rates = new Float64Array(9);
const sum = new Float64Array(9);

/** Follows a creep from the slip given, 0 for one that starts. */
export function creep(contact: Contact, from: number): void {
  begin(contact, from);
  now.creeping = from > 0;
  while (state[0] < CREEP) {
    rate(contact, state);
    chooseStep();
    if (!(step.length > 1e-13)) break;
    go(contact);
    if (state[0] <= STOPPED) break;
  }
  rate(contact, state);
  now.creeping = false;
  end(contact, from === 0 ? Math.max(NUDGE, state[0]) : state[0] > STOPPED ? state[0] : 0);
}

function begin(contact: Contact, slip: number): void {
  state[0] = slip;
  state[1] = contact.other1[0];
  state[2] = contact.other2[0];
  state[3] = approach[0];
  state[4] = work[0];
  state.fill(0, 5);
}

/**
 * Not beyond the creep's own end, the end of compression or restitution, or a fair part of the other's slip. Into
 * step.length.
 */
function chooseStep(): void {
  const growth = rates[0];
  const slowing = rates[3];
  let p = Math.min(CREEP_STEP, growth < 0 ? state[0] / -growth : CREEP / growth);
  if (!now.restoring) p = Math.min(p, -state[3] / slowing);
  else
    p = Math.min(
      p,
      (2 * state[4]) / (-state[3] + Math.sqrt(Math.max(0, state[3] * state[3] - 2 * slowing * state[4]))),
    );
  const other = length(state[1], state[2]);
  if (other > STOPPED) p = Math.min(p, 0.3 * other);
  step.length = p;
}

/** One step of Runge and Kutta. */
function go(contact: Contact): void {
  const p = step.length;
  sum.set(state);
  for (let stage = 0; stage < 4; stage++) {
    const weight = stage === 0 || stage === 3 ? p / 6 : p / 3;
    const ahead = stage === 2 ? p : p / 2;
    for (let i = 0; i < 9; i++) {
      sum[i] += weight * rates[i];
      trial[i] = state[i] + ahead * rates[i];
    }
    if (stage < 3) rate(contact, trial);
  }
  state.set(sum);
  sums.p += p;
}

/** The creep's state becomes that of the impact, with slip of this size. */
function end({ own1, own2, other1, other2 }: Contact, slip: number): void {
  own1[0] *= slip;
  own2[0] *= slip;
  other1[0] = state[1];
  other2[0] = state[2];
  approach[0] = state[3];
  work[0] = state[4];
  sums.f1 += state[5];
  sums.f2 += state[6];
  sums.g1 += state[7];
  sums.g2 += state[8];
}

/**
 * Whether small slip has settled on the direction that a creep has, to within the tolerance. Only where that direction
 * draws others to it, b·n > 0: slip that is braked by friction and drive alike may pass close by zero and turn.
 */
export function creeps(contact: Contact): boolean {
  const { own1, own2 } = contact;
  const slip = length(own1[0], own2[0]);
  if (slip > CREEP || slip <= STOPPED) return false;
  const n1 = own1[0] / slip,
    n2 = own2[0] / slip;
  begin(contact, slip);
  now.creeping = true;
  rate(contact, state);
  now.creeping = false;
  const off = length(own1[0] - n1, own2[0] - n2) * slip;
  own1[0] = slip * n1;
  own2[0] = slip * n2;
  const holds = contact === atNose ? 2.5 * model.noseFriction : 3.5 * model.bedFriction * load[0];
  // Slip as small as what a step may be off by never comes to rest on a direction, and none of it matters.
  return (off < step.settled || slip < 5 * step.settled) && rates[0] + holds > 0;
}

/** Rates of a creep's state; leaves the other's slip in its series and the direction in the contact's own. */
function rate(contact: Contact, at: Float64Array): void {
  const { own1, own2, other1, other2 } = contact;
  const moves = other1[0] !== 0 || other2[0] !== 0;
  other1[0] = at[1];
  other2[0] = at[2];
  start.turn1 = start.turn2 = 0;
  contact.direct();
  const ahead = 1e-4 * Math.min(1, length(at[1], at[2]));
  if (moves && at[0] > 0 && ahead > 0) {
    const n1 = own1[0],
      n2 = own2[0];
    other1[0] += ahead * other1[1];
    other2[0] += ahead * other2[1];
    contact.direct();
    start.turn1 = (at[0] * (own1[0] - n1)) / ahead;
    start.turn2 = (at[0] * (own2[0] - n2)) / ahead;
    other1[0] = at[1];
    other2[0] = at[2];
    contact.direct();
    start.turn1 = start.turn2 = 0;
  }
  rates[1] = other1[1];
  rates[2] = other2[1];
  rates[3] = approach[1];
  rates[4] = at[3];
  rates[5] = f1[0];
  rates[6] = f2[0];
  rates[7] = g1[0];
  rates[8] = g2[0];
}
