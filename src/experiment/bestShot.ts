/**
 * The setting that bends most within limits. May import: computedShot.ts, shotSettings.ts, shotSweep.ts, bank/. SI.
 *
 * The bend has several hills and, where a slip stops at the cushion, kinks, so the search is global and takes no slopes:
 * places spread over the whole box by Halton's sequence (Numer. Math. 2 (1960) 84), the same each time, then from the best
 * of them steps along each setting that halve when none helps (Hooke & Jeeves, J. ACM 8 (1961) 212).
 */
import type { Conditions } from "../bank/conditions";
import { RIGID_NOSE_LIMIT } from "../bank/cushion";
import { MISCUE_LIMIT } from "../bank/stroke";
import { tableShape } from "../bank/tableShape";
import { bendOfShot, computeShot, offTable, standingOf, type ComputedShot } from "./computedShot";
import { searched, type Searched, type ShotSettings } from "./shotSettings";
import { sensitivities, type Sensitivity } from "./shotSweep";

export interface BestShot {
  readonly shot: ShotSettings;
  readonly bend: number;
  readonly sensitivities: readonly Sensitivity[];
  /** Shots that were computed. */
  readonly tried: number;
}

const PLACES = 900;
const CLIMBS = 6;
/** First and last step of a climb as shares of the limits. */
const FIRST_STEP = 0.1;
const LAST_STEP = 1e-5;
const PRIMES = [2, 3, 5, 7, 11];

/**
 * Whether a shot can be trusted and stays on the table: no warning, the arrival between the side rails, the balls on the
 * table before it, and the tip within the miscue limit.
 */
export function isSound(shot: ShotSettings, computed: ComputedShot, radius: number): boolean {
  const { bank } = computed;
  return bank?.path !== undefined && bank.warnings.length === 0 && arrivesBeside(shot, bank.path.arrival.x, radius) === 0 && amissBefore(shot, computed, radius) === 0;
}

function arrivesBeside({ along, rail }: ShotSettings, arrivalX: number, radius: number): number {
  return offTable({ x: along + arrivalX, y: tableShape(rail).depth / 2 }, { rail }, radius);
}

/** By how much balls are off the table before the shot, and the tip beyond the miscue limit. */
function amissBefore(shot: ShotSettings, computed: ComputedShot, radius: number): number {
  const { spot, cueBall } = standingOf(shot, computed, radius);
  const tip = shot.origin === "stroke" ? Math.max(0, Math.hypot(shot.tipUp, shot.tipRight) - MISCUE_LIMIT * (1 + 1e-9)) : 0;
  return offTable(spot, shot, radius) + offTable(cueBall, shot, radius) + tip;
}

/** The index's digits in a base, mirrored at the point: evenly spread between 0 and 1. */
function halton(index: number, base: number): number {
  let value = 0;
  for (let share = 1 / base, rest = index; rest > 0; rest = Math.floor(rest / base), share /= base) value += share * (rest % base);
  return value;
}

/** What is to be least: less than 0 for a sound shot that bends the wanted way; above 0, by how much is amiss, for one that is not sound. */
function costOf(shot: ShotSettings, computed: ComputedShot, radius: number): number {
  const { bank } = computed;
  if (isSound(shot, computed, radius)) {
    const { bend } = bank!.path!;
    return shot.wanted === "short" ? -bend : shot.wanted === "long" ? bend : -Math.abs(bend);
  }
  const before = amissBefore(shot, computed, radius);
  if (!bank) return 10 + before;
  return 1 + before + (shot.across - bank.reach) + Math.max(0, bank.atCushion.vy - RIGID_NOSE_LIMIT) + bank.offCushion.vz + arrivesBeside(shot, bank.path?.arrival.x ?? 0, radius);
}

/**
 * Searches what the stroke sets (see `searched`) within `shot.limits`, the distances as they are; undefined when no shot within them
 * is sound or bends the wanted way.
 * @throws RangeError when a limit is reversed
 */
export function bestShot(shot: ShotSettings, conditions: Conditions): BestShot | undefined {
  const names = searched(shot);
  const limits = names.map((name) => shot.limits[name]);
  names.forEach((name, i) => {
    if (!(limits[i].low <= limits[i].high)) throw new RangeError(`the limits of ${name} are reversed: the low one is above the high one`);
  });
  const free = names.filter((_, i) => limits[i].high > limits[i].low);
  const fixed: ShotSettings = { ...shot, ...(Object.fromEntries(names.map((name, i) => [name, limits[i].low])) as Record<Searched, number>) };
  const shotAt = (place: readonly number[]): ShotSettings => ({ ...fixed, ...Object.fromEntries(free.map((name, i) => [name, place[i]])) });
  let tried = 0;
  const box = free.map((name) => shot.limits[name]);
  const cost = (place: readonly number[]) => {
    tried++;
    const at = shotAt(place);
    return { place, value: costOf(at, computeShot(at, conditions), conditions.ballDiameter / 2) };
  };
  const looks = Array.from({ length: free.length === 0 ? 1 : PLACES }, (_, i) => cost(box.map(({ low, high }, k) => low + (high - low) * halton(i + 1, PRIMES[k]))));
  looks.sort((a, b) => a.value - b.value);
  const climb = (from: (typeof looks)[number]) => {
    let best = from;
    for (let share = FIRST_STEP; share > LAST_STEP; ) {
      const before = best.value;
      box.forEach(({ low, high }, k) => {
        for (const way of [1, -1]) {
          const next = Math.min(high, Math.max(low, best.place[k] + way * share * (high - low)));
          const there = next === best.place[k] ? best : cost(best.place.map((at, j) => (j === k ? next : at)));
          if (there.value < best.value) best = there;
        }
      });
      if (!(best.value < before)) share /= 2;
    }
    return best;
  };
  const best = looks[0].value < 0 ? looks.slice(0, CLIMBS).map(climb).reduce((least, one) => (one.value < least.value ? one : least)) : looks[0];
  if (!(best.value < 0)) return undefined;
  const found = shotAt(best.place);
  return { shot: found, bend: bendOfShot(found, conditions), sensitivities: sensitivities(found, conditions, shot.limits), tried };
}
