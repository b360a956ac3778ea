/**
 * What a touch of a slider in the Shot view computes: at once the shot, its layout, its sentences and the drawing's
 * markup; later the band and the slopes; then the curves, in tasks of 8 ms that end at the next place of a curve. The
 * time that the browser takes to lay out and paint is not in it.
 */
import { createElement } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { computeShot } from "../../src/experiment/shot/computedShot";
import { constantSets } from "../../src/experiment/shot/constantSets";
import { pathBand, shotLayout } from "../../src/experiment/shot/shotLayout";
import {
  bendSettings,
  conditionsOfShot,
  DEFAULT_SHOT,
  fromOrigin,
  ORIGINS,
  type ShotSettings,
} from "../../src/experiment/shot/shotSettings";
import { bendRange, curveSteps, sensitivities } from "../../src/experiment/shot/shotSweep";
import {
  arrivalSentence,
  beforeSentence,
  bendSentence,
  clearanceSentence,
  shotWarnings,
} from "../../src/experiment/shot/shotWords";
import { PALETTES } from "../../src/panel/frame/palette";
import { TableDrawing } from "../../src/panel/shot/TableDrawing";
import { oursAtMost, type Measurement } from "./measure";

const ALLOWED = 50;
const RUNS = 40;

/** The longest of many, after as many to warm up: a user meets the slow ones too. */
function longest(shots: readonly ShotSettings[], work: (shot: ShotSettings) => unknown): number {
  let most = 0;
  for (let run = 0; run < 2 * RUNS; run++) {
    for (const shot of shots) {
      const began = performance.now();
      work({ ...shot, across: shot.across - 1e-4 * run });
      if (run >= RUNS) most = Math.max(most, performance.now() - began);
    }
  }
  return most;
}

export async function sliderBench(): Promise<Measurement[]> {
  const shots = ORIGINS.map((origin) => fromOrigin(DEFAULT_SHOT, origin));
  const atOnce = longest(shots, (shot) => {
    const conditions = conditionsOfShot(shot);
    const computed = computeShot(shot, conditions);
    const layout = shotLayout(shot, computed, conditions);
    bendSentence(computed, { low: NaN, high: NaN, short: 0 }, shot.units);
    beforeSentence(shot, computed, conditions);
    arrivalSentence(shot, layout);
    clearanceSentence(shot, layout);
    shotWarnings(shot, computed, layout, conditions);
    renderToStaticMarkup(
      createElement(TableDrawing, { layout, band: [], palette: PALETTES.light, width: 900, label: "" }),
    );
  });
  const later = longest(shots, (shot) => {
    const sets = constantSets(shot);
    pathBand(shot, sets);
    bendRange(shot, sets);
    sensitivities(shot, sets[0]);
  });
  let place = 0;
  for (const shot of shots) {
    for (const setting of bendSettings(shot)) {
      const steps = curveSteps(shot, setting, constantSets(shot), 25);
      for (let done = false; !done;) {
        const began = performance.now();
        done = steps.next().done === true;
        place = Math.max(place, performance.now() - began);
      }
    }
  }
  const line = (name: string, ours: number): Measurement => ({
    name,
    ours,
    reference: "the time within which a slider answers, the browser's layout and paint aside",
    referenceTime: ALLOWED,
    goal: oursAtMost(ALLOWED),
  });
  return [
    line("a slider: shot, sentences and drawing", atOnce),
    line("a slider, later: band and slopes", later),
    line("a slider, later: the longest task of the curves", 8 + place),
  ];
}
