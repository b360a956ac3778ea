/**
 * Sets of constants that span what is known of the table, the cloth and the ball. Eight ranges have 256 corners; the
 * three constants that move a bend most have all of theirs, the others stand together at the ends that bend this shot
 * more, and at those that bend it less. That is the widest band, but where a slip stops.
 */
import { conditionProblem, type Conditions } from "../../bank/conditions";
import { bendOfShot } from "./computedShot";
import { conditionsOfShot, OTHERS, UNCERTAIN, type OtherName, type ShotSettings } from "./shotSettings";

type Part = Partial<Conditions>;

/**
 * The constants at their values first, then what spans their ranges: every corner, and each constant alone at its ends.
 * Sets that coincide stand once; impossible ones are left out, and so are constants that do nothing to this shot.
 * @example constantSets(DEFAULT_SHOT)[0].restitution === 0.98
 */
export function constantSets(shot: ShotSettings): Conditions[] {
  const { constants } = shot;
  const base = conditionsOfShot(shot);
  const [more, less] = together(shot, base);
  const corners = UNCERTAIN.reduce<Part[]>(
    (parts, name) => parts.flatMap((part) => ends(constants[name]).map((at) => ({ ...part, [name]: at }))),
    [{}],
  );
  const alone = [
    ...UNCERTAIN.flatMap((name) => ends(constants[name]).map((at): Part => ({ [name]: at }))),
    ...effective(more).flatMap((name) => ends(shot.others[name]).map((at): Part => ({ [name]: at }))),
  ];
  const sets = [
    {},
    ...corners.flatMap((corner) => [
      { ...corner, ...more },
      { ...corner, ...less },
    ]),
    ...alone,
  ];
  const seen = new Set<string>();
  return sets
    .map((part): Conditions => ({ ...base, ...part }))
    .filter((set) => {
      const key = [...UNCERTAIN, ...OTHERS].map((name) => set[name]).join();
      return !seen.has(key) && seen.add(key) && conditionProblem(set) === undefined;
    });
}

const ends = ({ low, high }: { readonly low: number; readonly high: number }) => [low, high];
const effective = (part: Part) => OTHERS.filter((name) => part[name] !== undefined);

/** The other constants at the ends where the bend is larger, and at those where it is smaller, by sign. */
function together(shot: ShotSettings, base: Conditions): [more: Part, less: Part] {
  const more: Partial<Record<OtherName, number>> = {};
  const less: Partial<Record<OtherName, number>> = {};
  for (const name of OTHERS) {
    const { low, high } = shot.others[name];
    if (!(high > low)) continue;
    const rise = bendOfShot(shot, { ...base, [name]: high }) - bendOfShot(shot, { ...base, [name]: low });
    if (rise === 0) continue;
    [less[name], more[name]] = rise < 0 ? [high, low] : [low, high];
  }
  return [more, less];
}
