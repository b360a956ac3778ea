/**
 * The setting that bends most within limits. May import: shotSettings.ts, shotSweep.ts, bank/. SI.
 *
 * The bend has several hills and, where a slip stops at the cushion, kinks, so the search is global: DIRECT (Jones,
 * Perttunen & Stuckman, J. Optim. Theory Appl. 79 (1993) 157) from ml-direct, which divides the box the same way each time and
 * needs no seed, then the same again in smaller and smaller boxes about the best place.
 */
import direct from "ml-direct";
import type { Conditions } from "../bank/conditions";
import type { Bank } from "../bank/shot";
import { tableShape } from "../bank/tableShape";
import { SEARCHED, type Searched, type ShotSettings } from "./shotSettings";
import { bankOfShot, sensitivities, type Sensitivity } from "./shotSweep";

export interface BestShot {
  readonly shot: ShotSettings;
  readonly bend: number;
  readonly sensitivities: readonly Sensitivity[];
  /** Shots that were computed. */
  readonly tried: number;
}

const ROUNDS = 26;
const FINER_ROUNDS = 9;
/** Sides of the finer boxes as shares of the limits. */
const FINER = [0.12, 0.02, 0.003];

/**
 * Whether a bank can be trusted and stays on the table: no warning, and the arrival is between the side rails.
 */
export function isSound(bank: Bank, { along, rail }: Pick<ShotSettings, "along" | "rail">, radius: number): boolean {
  if (!bank.path || bank.warnings.length > 0) return false;
  const x = along + bank.path.arrival.x;
  return x >= radius && x <= tableShape(rail).width - radius;
}

/**
 * Searches speed, angle, roll and side within `shot.limits`, the distances as they are; undefined when no shot within them
 * is sound or bends the wanted way.
 * @throws RangeError when a limit is reversed
 */
export function bestShot(shot: ShotSettings, conditions: Conditions): BestShot | undefined {
  const limits = SEARCHED.map((name) => shot.limits[name]);
  SEARCHED.forEach((name, i) => {
    if (!(limits[i].low <= limits[i].high)) throw new RangeError(`the limits of ${name} are reversed: the low one is above the high one`);
  });
  const free = SEARCHED.filter((_, i) => limits[i].high > limits[i].low);
  const fixed: ShotSettings = { ...shot, ...(Object.fromEntries(SEARCHED.map((name, i) => [name, limits[i].low])) as Record<Searched, number>) };
  const shotAt = (place: readonly number[]): ShotSettings => ({ ...fixed, ...Object.fromEntries(free.map((name, i) => [name, place[i]])) });
  let tried = 0;
  const cost = (place: readonly number[]) => {
    tried++;
    const at = shotAt(place);
    const bank = bankOfShot(at, conditions);
    if (!isSound(bank, at, conditions.ballDiameter / 2)) return 0;
    const { bend } = bank.path!;
    return shot.wanted === "short" ? -bend : shot.wanted === "long" ? bend : -Math.abs(bend);
  };
  let best: { place: readonly number[]; value: number } = { place: [], value: free.length === 0 ? cost([]) : Infinity };
  if (free.length > 0) {
    const box = free.map((name) => shot.limits[name]);
    const search = (lows: number[], highs: number[], iterations: number) => {
      const { optima, minFunctionValue } = direct(cost, lows, highs, { iterations });
      if (minFunctionValue < best.value) best = { place: Array.from(optima[0]), value: minFunctionValue };
    };
    search(box.map(({ low }) => low), box.map(({ high }) => high), ROUNDS);
    for (const share of FINER) {
      const half = box.map(({ low, high }) => (share * (high - low)) / 2);
      // A best place near a limit is looked for up to the limit itself.
      search(best.place.map((at, i) => Math.max(box[i].low, at - half[i])), best.place.map((at, i) => Math.min(box[i].high, at + half[i])), FINER_ROUNDS);
    }
    for (let i = 0; i < free.length; i++) {
      for (const limit of [box[i].low, box[i].high]) {
        const place = best.place.map((at, j) => (j === i ? limit : at));
        const value = Math.abs(limit - best.place[i]) < 0.01 * (box[i].high - box[i].low) ? cost(place) : Infinity;
        if (value <= best.value) best = { place, value };
      }
    }
  }
  if (!(best.value < 0)) return undefined;
  const found = shotAt(best.place);
  return { shot: found, bend: bankOfShot(found, conditions).path!.bend, sensitivities: sensitivities(found, conditions, shot.limits), tried };
}
