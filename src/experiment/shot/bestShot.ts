/**
 * The setting that bends most within limits. SI.
 *
 * The bend has several hills and, where a slip stops at the cushion, kinks, so the search is global and takes no
 * slopes.
 */
import type { Conditions } from "../../bank/conditions";
import { RIGID_NOSE_LIMIT } from "../../bank/cushion";
import { MISCUE_LIMIT } from "../../bank/stroke";
import { tableShape } from "../../bank/tableShape";
import { boxSearch } from "../../statistics/numeric/boxSearch";
import { bendOfShot, computeShot, offTable, ballStarts, type ComputedShot } from "./computedShot";
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
/** Last step of a climb as a share of the limits. */
const LAST_STEP = 1e-5;

/**
 * The bend of a shot that can be trusted and stays on the table: no warning, the arrival between the side rails, the
 * balls on the table before it, and the tip within the miscue limit. Undefined for any other.
 */
export function soundBend(shot: ShotSettings, computed: ComputedShot, radius: number): number | undefined {
  const { bank } = computed;
  return bank?.path !== undefined &&
    bank.warnings.length === 0 &&
    arrivesBeside(shot, bank.path.arrival.x, radius) === 0 &&
    amissBefore(shot, computed, radius) === 0
    ? bank.path.bend
    : undefined;
}

function arrivesBeside({ along, rail }: ShotSettings, arrivalX: number, radius: number): number {
  return offTable({ x: along + arrivalX, y: tableShape(rail).depth / 2 }, { rail }, radius);
}

/** By how much balls are off the table before the shot, and the tip beyond the miscue limit. */
function amissBefore(shot: ShotSettings, computed: ComputedShot, radius: number): number {
  const { spot, cueBall } = ballStarts(shot, computed, radius);
  const tip =
    shot.origin === "stroke" ? Math.max(0, Math.hypot(shot.tipUp, shot.tipRight) - MISCUE_LIMIT * (1 + 1e-9)) : 0;
  return offTable(spot, shot, radius) + offTable(cueBall, shot, radius) + tip;
}

/**
 * What is to be least: less than 0 for a sound shot that bends the wanted way; above 0, by how much is amiss, for one
 * that is not sound.
 */
function costOf(shot: ShotSettings, computed: ComputedShot, radius: number): number {
  const { bank } = computed;
  const bend = soundBend(shot, computed, radius);
  if (bend !== undefined) {
    return shot.wanted === "short" ? -bend : shot.wanted === "long" ? bend : -Math.abs(bend);
  }
  const before = amissBefore(shot, computed, radius);
  if (!bank) return 10 + before;
  return (
    1 +
    before +
    (shot.across - bank.reach) +
    Math.max(0, bank.atCushion.vy - RIGID_NOSE_LIMIT) +
    bank.offCushion.vz +
    arrivesBeside(shot, bank.path?.arrival.x ?? 0, radius)
  );
}

/**
 * Searches what the stroke sets (see `searched`) within `shot.limits`, the distances as they are; undefined when no
 * shot within them is sound or bends the wanted way.
 * @throws RangeError when a limit is reversed
 */
export function bestShot(shot: ShotSettings, conditions: Conditions): BestShot | undefined {
  const names = searched(shot);
  const { limits } = shot;
  for (const name of names)
    if (!(limits[name].low <= limits[name].high))
      throw new RangeError(`the limits of ${name} are reversed: the low one is above the high one`);
  const free = names.filter((name) => limits[name].high > limits[name].low);
  const fixed: ShotSettings = {
    ...shot,
    ...(Object.fromEntries(names.map((name) => [name, limits[name].low])) as Record<Searched, number>),
  };
  const shotAt = (place: readonly number[]): ShotSettings => ({
    ...fixed,
    ...Object.fromEntries(free.map((name, i) => [name, place[i]])),
  });
  const cost = (place: readonly number[]) => {
    const at = shotAt(place);
    return costOf(at, computeShot(at, conditions), conditions.ballDiameter / 2);
  };
  const best = boxSearch(
    free.map((name) => limits[name]),
    cost,
    { places: PLACES, climbs: CLIMBS, lastStep: LAST_STEP, worth: (value) => value < 0 },
  );
  if (!(best.value < 0)) return undefined;
  const found = shotAt(best.place);
  return {
    shot: found,
    bend: bendOfShot(found, conditions),
    sensitivities: sensitivities(found, conditions, limits),
    tried: best.tried,
  };
}
