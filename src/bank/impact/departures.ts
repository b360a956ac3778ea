/**
 * Direction and rate at which slip starts: n and λ ≥ 0 with b − μ A n = λ n, where slip′ = A f + b.
 */
import { expandOnce, series } from "./series";
import { length, model, now, SLIP, start, STICK } from "./state";

const { bed1, bed2, f1, f2, load } = series;

/** Rounds that directions which follow from each other are given to agree. */
export const ROUNDS = 60;

/** A and b at the nose; A is upper triangular. */
const drive = { b1: 0.5, b2: 0.5, a11: 0.5, a12: 0.5, a22: 0.5 };

/**
 * At the nose, with the bed's present kind of contact and, when it slips, direction. The rate is 0 when friction just
 * holds.
 */
export function noseDeparts(): void {
  const { sine, cosine, kappa, alpha, gamma, bedFriction } = model;
  drive.b1 = 0;
  drive.b2 = now.lifted ? 0 : sine * cosine;
  drive.a11 = 3.5;
  drive.a12 = 0;
  drive.a22 = now.lifted ? 3.5 : alpha;
  if (!now.lifted && now.bed === STICK) {
    drive.b2 += (gamma * cosine) / 3.5;
    drive.a11 -= (kappa * kappa) / 3.5;
    drive.a22 -= (gamma * gamma) / 3.5;
  } else if (!now.lifted && now.bed === SLIP) {
    const size = length(bed1[0], bed2[0]);
    const u1 = (bedFriction * bed1[0]) / size,
      u2 = (bedFriction * bed2[0]) / size;
    drive.b1 = -kappa * sine * u1;
    drive.b2 -= gamma * sine * u2;
    drive.a12 = kappa * cosine * u1;
    drive.a22 += gamma * cosine * u2;
  }
  solve();
}

/** Newton's steps on |n|² = 1, halving where they leave the bracket: |n| falls as the rate rises. */
function solve(): void {
  const { a11, a12, a22 } = drive;
  const { noseFriction } = model;
  const b1 = drive.b1 - start.turn1;
  const b2 = drive.b2 - start.turn2;
  let low = now.creeping ? -0.999 * noseFriction * Math.min(a11, a22) : 0;
  let high = length(b1, b2) + noseFriction * (a11 + Math.abs(a12) + a22);
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
  start.noseRate = !now.creeping && rate < 1e-15 ? 0 : rate;
  start.depart2 = b2 / (start.noseRate + noseFriction * a22);
  start.depart1 = (b1 - noseFriction * a12 * start.depart2) / (start.noseRate + noseFriction * a11);
  const size = length(start.depart1, start.depart2) || 1;
  start.depart1 /= size;
  start.depart2 /= size;
}

/**
 * The same at the bed, where A is 7/2 both ways: n lies along b. While the nose sticks its friction follows from n in
 * turn, so they go round until they agree. The direction into bed1[0], bed2[0].
 */
export function bedDeparts(): void {
  for (let round = now.nose === STICK ? ROUNDS : 1; round > 0; round--) {
    expandOnce();
    const b1 = model.kappa * f1[0] - start.turn1,
      b2 = model.gamma * f2[0] - model.cosine - start.turn2;
    const size = length(b1, b2);
    start.bedRate = size - 3.5 * model.bedFriction * load[0];
    bed1[0] = b1 / size;
    bed2[0] = b2 / size;
  }
}
