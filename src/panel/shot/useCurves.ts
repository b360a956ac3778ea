/** The bend against every setting, computed in pieces short enough that no slider waits for one. */
import { useEffect, useState } from "react";
import { bendOfShot } from "../../experiment/shot/computedShot";
import { constantSets } from "../../experiment/shot/constantSets";
import {
  bendSettings,
  conditionsOfShot,
  type BendSetting,
  type ShotSettings,
} from "../../experiment/shot/shotSettings";
import { curveSteps, type BendCurve } from "../../experiment/shot/shotSweep";

export interface Curves {
  /** That they belong to; the one set now may already be another. */
  readonly shot: ShotSettings;
  /** At that shot; NaN when the ball never reaches the line. */
  readonly bend: number;
  readonly curves: readonly { readonly setting: BendSetting; readonly curve: BendCurve }[];
}

const POINTS = 25;

/** A task goes on until it has taken this long, in ms. */
const TASK = 8;

/** In short tasks; a change of the shot begins anew, and until all curves are there the last ones stand. */
export function useCurves(shot: ShotSettings): Curves | undefined {
  const [curves, setCurves] = useState<Curves>();
  useEffect(() => {
    const sets = constantSets(shot);
    const made: { setting: BendSetting; curve: BendCurve }[] = [];
    const left = bendSettings(shot).map((setting) => ({ setting, steps: curveSteps(shot, setting, sets, POINTS) }));
    const next = () => {
      const began = performance.now();
      for (let at = left[0]; at && performance.now() - began < TASK; at = left[0]) {
        const { done, value } = at.steps.next();
        if (!done) continue;
        made.push({ setting: at.setting, curve: value });
        left.shift();
      }
      if (left.length > 0) timer = setTimeout(next, 0);
      else setCurves({ shot, bend: bendOfShot(shot, conditionsOfShot(shot)), curves: made });
    };
    let timer = setTimeout(next, 0);
    return () => clearTimeout(timer);
  }, [shot]);
  return curves;
}
