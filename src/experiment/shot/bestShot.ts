/**
 * The setting that bends most within limits, of those that somebody can shoot into a pocket. SI.
 *
 * The bend has several hills and, where a slip stops at the cushion, kinks, so the search is global and takes no
 * slopes. A bank is the same wherever along the rail it is shot, so each shot that is tried is put where its ball runs
 * into the middle of the pocket's mouth; what that takes off the table, or into its own layout, does not count.
 */
import type { Conditions } from "../../bank/conditions";
import { RIGID_NOSE_LIMIT } from "../../bank/cushion";
import { MISCUE_LIMIT } from "../../bank/stroke";
import { tableShape, type Pocket } from "../../bank/tableShape";
import { pocketOpposite } from "../../bank/wholeShot";
import { boxSearch } from "../../statistics/numeric/boxSearch";
import { bendOfShot, computeShot, offTable, ballStarts, type ComputedShot } from "./computedShot";
import { beyondShooting } from "./shootable";
import { shotFindings } from "./shotClearance";
import { shotLayout } from "./shotLayout";
import { searched, type Searched, type ShotSettings } from "./shotSettings";
import { sensitivities, type Sensitivity } from "./shotSweep";

export interface BestShot {
  /** With its place on the rail. */
  readonly shot: ShotSettings;
  readonly bend: number;
  /** Into which its ball runs. */
  readonly pocket: string;
  readonly sensitivities: readonly Sensitivity[];
  /** Shots that were computed. */
  readonly tried: number;
}

const PLACES = 900;
const CLIMBS = 6;
/** Pieces of a path that is looked through: they cut less off it than counts (a 1024th of its bend). */
const PIECES = 32;
/** Last step of a climb as a share of the limits. */
const LAST_STEP = 1e-5;

/** The pocket that the search aims at: on the rail opposite, nearest to where the shot arrives as it is set. */
export function aimedPocket(shot: ShotSettings, { bank }: ComputedShot): Pocket | undefined {
  const table = tableShape(shot.rail, shot.table);
  return pocketOpposite(table, shot.along + (bank?.path?.arrival.x ?? 0));
}

/** The shot where its ball runs into the middle of a pocket's mouth; as it is when the ball never reaches the line. */
export function putInto(pocket: Pocket, shot: ShotSettings, { bank }: ComputedShot, radius: number): ShotSettings {
  if (!bank?.path) return shot;
  const [first, second] = pocket.jaws;
  const middle = { x: (first.x + second.x) / 2, y: (first.y + second.y) / 2 };
  const { arrival } = bank.path;
  const beyond = middle.y - radius - shot.across;
  return { ...shot, along: middle.x - arrival.x - beyond * Math.tan(arrival.angle) };
}

/**
 * The bend of a shot that can be trusted, shot and set up: no warning of the model, spin that an object ball can have,
 * the tip within the miscue limit, balls on the table, the whole way clear of gates, obstacle, rails and jaws, and into
 * the pocket. The obstacle stands where the ball grazes it. Undefined for any other.
 */
export function soundBend(shot: ShotSettings, computed: ComputedShot, conditions: Conditions): number | undefined {
  const { bank } = computed;
  const radius = conditions.ballDiameter / 2;
  if (
    !bank?.path ||
    bank.warnings.length > 0 ||
    beyondShooting(shot, conditions) > 0 ||
    amissBefore(shot, computed, radius) > 0
  )
    return undefined;
  return lacking(shot, computed, conditions) === 0 ? bank.path.bend : undefined;
}

/** By how much the shot with its own layout lacks room, all together. */
function lacking(shot: ShotSettings, computed: ComputedShot, conditions: Conditions): number {
  return shotFindings(shotLayout(shot, computed, conditions, PIECES)).reduce(
    (sum, { clearance }) => sum - clearance,
    0,
  );
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
function costOf(shot: ShotSettings, computed: ComputedShot, conditions: Conditions): number {
  const { bank } = computed;
  const radius = conditions.ballDiameter / 2;
  const before = amissBefore(shot, computed, radius) + beyondShooting(shot, conditions);
  if (!bank) return 10 + before;
  if (bank.path && bank.warnings.length === 0 && before === 0) {
    const lacks = lacking(shot, computed, conditions);
    if (lacks > 0) return 0.5 + lacks;
    const { bend } = bank.path;
    return shot.wanted === "short" ? -bend : shot.wanted === "long" ? bend : -Math.abs(bend);
  }
  return (
    1 + before + (shot.across - bank.reach) + Math.max(0, bank.atCushion.vy - RIGID_NOSE_LIMIT) + bank.offCushion.vz
  );
}

/**
 * Searches what the stroke sets (see `searched`) within `shot.limits`, the distances as they are but for the place on
 * the rail; undefined when no shot within them is sound or bends the wanted way.
 * @throws RangeError when a limit is reversed
 */
export function bestShot(shot: ShotSettings, conditions: Conditions): BestShot | undefined {
  const names = searched(shot);
  const { limits } = shot;
  for (const name of names)
    if (!(limits[name].low <= limits[name].high))
      throw new RangeError(`the limits of ${name} are reversed: the low one is above the high one`);
  const radius = conditions.ballDiameter / 2;
  const pocket = aimedPocket(shot, computeShot(shot, conditions));
  if (!pocket) return undefined;
  const free = names.filter((name) => limits[name].high > limits[name].low);
  const fixed: ShotSettings = {
    ...shot,
    ...(Object.fromEntries(names.map((name) => [name, limits[name].low])) as Record<Searched, number>),
  };
  const at = (place: readonly number[]) => {
    const set: ShotSettings = { ...fixed, ...Object.fromEntries(free.map((name, i) => [name, place[i]])) };
    const computed = computeShot(set, conditions);
    return { computed, shot: putInto(pocket, set, computed, radius) };
  };
  const best = boxSearch(
    free.map((name) => limits[name]),
    (place) => {
      const { computed, shot: put } = at(place);
      return costOf(put, computed, conditions);
    },
    { places: PLACES, climbs: CLIMBS, lastStep: LAST_STEP, worth: (value) => value < 0 },
  );
  if (!(best.value < 0)) return undefined;
  const found = at(best.place).shot;
  return {
    shot: found,
    bend: bendOfShot(found, conditions),
    pocket: pocket.name,
    sensitivities: sensitivities(found, conditions, limits),
    tried: best.tried,
  };
}
