/** The shot as the sliders have it with what the set-up says, and what follows from it at once and a little later. */
import { useCallback, useDeferredValue, useEffect, useMemo, useRef, useState } from "react";
import type { Setup } from "../../experiment/setup/setup";
import { computeShot } from "../../experiment/shot/computedShot";
import { constantSets } from "../../experiment/shot/constantSets";
import { pathBand, shotLayout } from "../../experiment/shot/shotLayout";
import { conditionsOfShot, shotOfSetup, type SettingName, type ShotSettings } from "../../experiment/shot/shotSettings";
import { bendRange, sensitivities } from "../../experiment/shot/shotSweep";

/** Settings are handed on to be kept once a slider has rested this long, in ms. */
const KEPT_AFTER = 300;

export function useShot(kept: ShotSettings, setup: Setup, onKeep: (shot: ShotSettings) => void) {
  const [set, setShot] = useState(kept);
  useKept(set, onKeep);
  const shot = useMemo(() => shotOfSetup(set, setup), [set, setup]);
  const change = useCallback((part: Partial<ShotSettings>) => setShot((before) => ({ ...before, ...part })), []);
  const setOne = useCallback(
    (setting: SettingName, value: number) => setShot((before) => ({ ...before, [setting]: value })),
    [],
  );
  const conditions = useMemo(() => conditionsOfShot(shot), [shot]);
  const computed = useMemo(() => computeShot(shot, conditions), [shot, conditions]);
  const layout = useMemo(() => shotLayout(shot, computed, conditions), [shot, computed, conditions]);
  const later = useDeferredValue(shot);
  const spread = useMemo(() => {
    const sets = constantSets(later);
    return {
      band: pathBand(later, sets),
      range: bendRange(later, sets),
      steps: sensitivities(later, conditionsOfShot(later)),
    };
  }, [later]);
  return { shot, later, conditions, computed, layout, spread, change, setOne, turn: setShot };
}

export type ShownShot = ReturnType<typeof useShot>;

/** Hands the settings on once they rest, and at the latest when the view goes. */
function useKept(shot: ShotSettings, onKeep: (shot: ShotSettings) => void): void {
  const first = useRef(shot);
  const latest = useRef({ shot, onKeep });
  latest.current = { shot, onKeep };
  useEffect(() => {
    if (first.current === shot) return;
    const timer = setTimeout(() => {
      first.current = shot;
      latest.current.onKeep(shot);
    }, KEPT_AFTER);
    return () => clearTimeout(timer);
  }, [shot]);
  useEffect(
    () => () => {
      if (first.current !== latest.current.shot) latest.current.onKeep(latest.current.shot);
    },
    [],
  );
}
