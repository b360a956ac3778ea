/** The bend against every setting, computed in pieces short enough that no slider waits for one. May import: experiment/. */
import { useEffect, useState } from "react";
import { bendOfShot } from "../../experiment/computedShot";
import { bendSettings, constantSets, type BendSetting, type ShotSettings } from "../../experiment/shotSettings";
import { bendCurve, type BendCurve } from "../../experiment/shotSweep";

export interface Curves {
  /** That they belong to; the one set now may already be another. */
  readonly shot: ShotSettings;
  /** At that shot; NaN when the ball never reaches the line. */
  readonly bend: number;
  readonly curves: readonly { readonly setting: BendSetting; readonly curve: BendCurve }[];
}

const POINTS = 25;

/** One curve a task; a change of the shot begins anew, and until all are there the last ones stand. */
export function useCurves(shot: ShotSettings): Curves | undefined {
  const [curves, setCurves] = useState<Curves>();
  useEffect(() => {
    const sets = constantSets(shot);
    const made: { setting: BendSetting; curve: BendCurve }[] = [];
    const left = [...bendSettings(shot)];
    const next = () => {
      const setting = left.shift();
      if (setting === undefined) return setCurves({ shot, bend: bendOfShot(shot, sets[0]), curves: made });
      made.push({ setting, curve: bendCurve(shot, setting, sets, POINTS) });
      timer = setTimeout(next, 0);
    };
    let timer = setTimeout(next, 0);
    return () => clearTimeout(timer);
  }, [shot]);
  return curves;
}
