/**
 * What may happen within a step, and where: the root of a polynomial in the impulse.
 */
import { series, sumUp } from "./series";
import { length, look, model, now, SLIP, step, STICK, STOPPED } from "./state";

const { approach, bed1, bed2, f1, f2, g1, g2, lift, load, slip1, slip2, work } = series;

export const NONE = 0;
export const COMPRESSED = 1;
export const RESTORED = 2;
export const NOSE_STOPS = 3;
export const BED_STOPS = 4;
export const NOSE_BREAKS = 5;
export const BED_BREAKS = 6;
export const LIFTS = 7;
export const LANDS = 8;

/** What must stay positive until the event, at look.at, into look.found. */
function margin(event: number): void {
  const { terms } = now;
  switch (event) {
    case COMPRESSED:
      return sumUp(approach, terms);
    case RESTORED:
      return sumUp(work, terms);
    case NOSE_STOPS:
      return marginOfSlip(slip1, slip2);
    case BED_STOPS:
      return marginOfSlip(bed1, bed2);
    case NOSE_BREAKS:
      look.found = model.noseFriction;
      return marginOfHold(f1, f2);
    case BED_BREAKS:
      sumUp(load, terms - 1);
      look.found *= model.bedFriction;
      return marginOfHold(g1, g2);
    case LIFTS:
      return sumUp(load, terms - 1);
    default:
      return marginOfLanding();
  }
}

/** Slip goes on while it keeps to the side on which the step began. */
function marginOfSlip(a: Float64Array, b: Float64Array): void {
  sumUp(a, now.terms);
  const first = look.found;
  sumUp(b, now.terms);
  look.found = a[0] * first + b[0] * look.found;
}

/** A contact sticks while its friction is within what holds it, given in look.found. */
function marginOfHold(a: Float64Array, b: Float64Array): void {
  const holds = look.found;
  sumUp(a, now.terms - 1);
  const first = look.found;
  sumUp(b, now.terms - 1);
  look.found = holds * holds - first * first - look.found * look.found;
}

function marginOfLanding(): void {
  if (lift[0] !== 0) return sumUp(lift, now.terms);
  // The height's speed over p, as it starts from zero.
  const p = look.at;
  let sum = lift[now.terms];
  for (let k = now.terms - 1; k >= 1; k--) sum = sum * p + lift[k];
  look.found = sum;
}

/**
 * Where the margin, negative at the end of the step, falls to zero: regula falsi in the Illinois form, then the low
 * side. Into look.at.
 */
function locate(event: number): void {
  let low = 0;
  let high = step.length;
  margin(event);
  let atHigh = look.found;
  look.at = 0;
  margin(event);
  let atLow = look.found;
  if (!(atLow > 0)) return;
  // Ends where no double lies between the two.
  for (;;) {
    let p = low + ((high - low) * atLow) / (atLow - atHigh);
    if (!(p > low && p < high)) p = 0.5 * (low + high);
    if (p === low || p === high) break;
    look.at = p;
    margin(event);
    const value = look.found;
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
  look.at = high;
}

/** The first event within the step, and where: shortens step.length. */
export function firstEvent(): number {
  let event = NONE;
  for (let kind = COMPRESSED; kind <= LANDS; kind++) {
    if (!applies(kind)) continue;
    look.at = step.length;
    margin(kind);
    if (!(look.found < 0)) continue;
    locate(kind);
    const at = look.at;
    if ((kind === NOSE_STOPS && slides(slip1, slip2)) || (kind === BED_STOPS && slides(bed1, bed2))) {
      step.length = 0.9 * at;
      event = NONE;
    } else {
      step.length = at;
      event = kind;
    }
  }
  return event;
}

/** Whether there is slip at look.at. */
function slides(a: Float64Array, b: Float64Array): boolean {
  sumUp(a, now.terms);
  const first = look.found;
  sumUp(b, now.terms);
  return length(first, look.found) > STOPPED;
}

function applies(event: number): boolean {
  switch (event) {
    case COMPRESSED:
      return !now.restoring;
    case RESTORED:
      return now.restoring;
    case NOSE_STOPS:
      return now.nose === SLIP;
    case BED_STOPS:
      return now.bed === SLIP;
    case NOSE_BREAKS:
      return now.nose === STICK && now.bed === SLIP;
    case BED_BREAKS:
      return now.bed === STICK && now.nose === SLIP;
    case LIFTS:
      return !now.lifted && now.nose === SLIP && model.cosine * model.noseFriction > model.sine;
    default:
      return now.lifted;
  }
}
