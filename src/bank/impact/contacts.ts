/**
 * Which contact slips and which sticks, decided at the beginning and after each event.
 */
import { atBed, atNose, creep, creeps, NUDGE } from "./creep";
import { bedDeparts, noseDeparts, ROUNDS } from "./departures";
import { advanceOnce, expandOnce, series } from "./series";
import { FREE, length, model, now, SLIP, start, step, STICK, STOPPED } from "./state";

const { approach, bed1, bed2, f1, f2, g1, g2, lift, load, slip1, slip2, work } = series;

/** Slip that starts is put on its way by holding its friction for this much impulse; the error is of the square. */
const DEPARTURE = 1e-6;
/** Slip at the bed that starts at this rate or faster is followed from zero by its series. */
const BRISK = 0.05;

/** Decides for each contact without slip whether it sticks or starts to slip: sticks when its friction can hold it. */
export function settle(noseBreaks: boolean, bedBreaks: boolean): void {
  now.bedBegins = false;
  const noseSlip = length(slip1[0], slip2[0]);
  const noseStill = model.noseFriction > 0 && noseSlip <= STOPPED;
  now.nose = model.noseFriction > 0 ? SLIP : FREE;
  if (
    now.nose === SLIP &&
    !noseStill &&
    !now.lifted &&
    model.sine * noseSlip + model.cosine * model.noseFriction * slip2[0] < 0
  ) {
    now.lifted = true;
    lift[0] = 0;
  }
  const bedStill = model.bedFriction > 0 && !now.lifted && length(bed1[0], bed2[0]) <= STOPPED;
  now.bed = model.bedFriction > 0 && !now.lifted ? SLIP : FREE;
  if (!noseStill && !bedStill) return;

  // The last choice, that neither sticks, is always held.
  for (let choice = 0; ; choice++) {
    const noseKind = noseStill && choice < 2 ? STICK : now.nose === FREE ? FREE : SLIP;
    const bedKind = bedStill && choice % 2 === 0 ? STICK : now.bed === FREE ? FREE : SLIP;
    if (choice < 3 && ((noseBreaks && noseKind === STICK) || (bedBreaks && bedKind === STICK))) continue;
    if (attempt(noseKind, bedKind, noseStill, bedStill)) break;
  }
  depart(noseStill && now.nose === SLIP, bedStill && now.bed === SLIP);
}

/** Takes up kinds of contact and finds the directions of starting slips. @returns whether what sticks is held */
function attempt(noseKind: number, bedKind: number, noseStill: boolean, bedStill: boolean): boolean {
  now.nose = noseKind;
  now.bed = bedKind;
  const noseStarts = noseStill && now.nose === SLIP;
  const bedStarts = bedStill && now.bed === SLIP;
  if (noseStill) {
    slip1[0] = 0;
    slip2[0] = noseStarts ? 1 : 0;
  }
  if (bedStill) {
    bed1[0] = 0;
    bed2[0] = bedStarts ? -1 : 0;
  }
  for (let round = bedStarts && noseStarts ? ROUNDS : 1; round > 0; round--) {
    if (bedStarts) bedDeparts();
    if (noseStarts) noseDeparts();
    if (noseStarts) {
      slip1[0] = start.depart1;
      slip2[0] = start.depart2;
    }
  }
  expandOnce();
  return (
    (now.nose !== STICK || length(f1[0], f2[0]) <= model.noseFriction) &&
    (now.bed !== STICK || length(g1[0], g2[0]) <= model.bedFriction * load[0])
  );
}

/** Moves starting slips, now of length 1, off zero. */
function depart(noseStarts: boolean, bedStarts: boolean): void {
  if (noseStarts && bedStarts) departBoth();
  else if (noseStarts) creep(atNose, 0);
  else if (bedStarts && now.nose !== STICK && start.bedRate > BRISK) {
    now.bedBegins = true;
    start.begin1 = bed1[0];
    start.begin2 = bed2[0];
    bed1[0] = bed2[0] = 0;
  } else if (bedStarts) creep(atBed, 0);
}

function departBoth(): void {
  const n1 = slip1[0],
    n2 = slip2[0],
    u1 = bed1[0],
    u2 = bed2[0];
  const p = now.restoring && work[0] < 2 * DEPARTURE * Math.abs(approach[0]) ? 0 : DEPARTURE;
  expandOnce();
  step.length = p;
  advanceOnce();
  slip1[0] = Math.max(NUDGE, start.noseRate * p) * n1;
  slip2[0] = Math.max(NUDGE, start.noseRate * p) * n2;
  bed1[0] = Math.max(NUDGE, start.bedRate * p) * u1;
  bed2[0] = Math.max(NUDGE, start.bedRate * p) * u2;
}

/** Whether slip is too small to have a direction, as where it ends in the very step that another event ends. */
function isStill(kind: number, a: Float64Array, b: Float64Array): boolean {
  return kind === SLIP && length(a[0], b[0]) <= STOPPED;
}

/** Between two steps: what stopped is decided anew, and slip that almost holds is followed as a creep. */
export function settleBetween(): void {
  if (isStill(now.nose, slip1, slip2) || (!now.bedBegins && isStill(now.bed, bed1, bed2))) settle(false, false);
  if (now.nose === SLIP && !now.lifted && creeps(atNose)) {
    // The nose's friction has just turned: what it asks of a bed that sticks may be more than holds it.
    const bedBreaks = now.bed === STICK && length(g1[0], g2[0]) > model.bedFriction * load[0];
    if (!bedBreaks) creep(atNose, length(slip1[0], slip2[0]));
    settle(false, bedBreaks);
  } else if (now.bed === SLIP && creeps(atBed)) {
    creep(atBed, length(bed1[0], bed2[0]));
    settle(false, false);
  }
}
