/** What is kept of the views, with what the set-up says in the place of their own. */
import { FIRST_EVIDENCE } from "../../experiment/evidence/evidenceChoice";
import { firstLayout, type LayoutForm } from "../../experiment/layout/layoutForm";
import { layoutOfSetup } from "../../experiment/layout/setupForm";
import { FIRST_MEASURE } from "../../experiment/measure/measureForm";
import { measureOfSetup } from "../../experiment/measure/setupMeasure";
import { DEFAULT_SETUP, setupProblem, type Setup, type Uncertain } from "../../experiment/setup/setup";
import { DEFAULT_SHOT, shotOfSetup } from "../../experiment/shot/shotSettings";
import { FIRST_VIDEO, videoOfSetup } from "../../experiment/video/videoForm";
import type { PanelSettings } from "./settings";

/**
 * The set-up that earlier versions kept in the views themselves, for a workbook without a sheet of it: the layout's
 * table, the shot's constants, the measurement's ball, ruler and target.
 */
export function setupOfKept({ shot, layout, measure }: PanelSettings): Setup {
  const exactly = (value: number): Uncertain => ({ low: value, value, high: value });
  const within = (value: number, half: number): Uncertain => ({ low: value - half, value, high: value + half });
  const sized = (usual: Uncertain, value: number): Uncertain =>
    Math.abs(value - usual.value) < 1e-9 ? usual : exactly(value);
  const made: Setup = {
    ...DEFAULT_SETUP,
    ...(shot && { units: shot.units, ...shot.constants }),
    ...(layout && {
      units: layout.units,
      length: sized(DEFAULT_SETUP.length, Math.max(layout.railLength, layout.tableWidth)),
      breadth: sized(DEFAULT_SETUP.breadth, Math.min(layout.railLength, layout.tableWidth)),
      ballDiameter: sized(DEFAULT_SETUP.ballDiameter, layout.ballDiameter),
      obstacleDiameter: exactly(layout.obstacleDiameter),
    }),
    ...(measure && {
      units: measure.units,
      ballDiameter: within(measure.ballDiameter, measure.ballTolerance),
      rulerDivision: exactly(measure.rulerDivision),
      target: exactly(measure.target),
    }),
  };
  return setupProblem(made) === undefined ? made : DEFAULT_SETUP;
}

/** @param language of the page, for the paper of a first layout */
export function withSetup(settings: PanelSettings, setup: Setup, language: string): PanelSettings & Filled {
  const {
    shot = DEFAULT_SHOT,
    layout = firstLayout(language),
    measure = FIRST_MEASURE,
    evidence = FIRST_EVIDENCE,
    video = FIRST_VIDEO,
  } = settings;
  return {
    ...settings,
    shot: shotOfSetup(shot, setup),
    layout: layoutOfSetup(layout, setup),
    measure: measureOfSetup(measure, setup),
    video: videoOfSetup(video, setup),
    evidence: { ...evidence, units: setup.units, ballDiameter: setup.ballDiameter.value },
  };
}

/** What every view has once there is a set-up. */
type Filled = Required<Pick<PanelSettings, "shot" | "measure" | "evidence" | "video">> & {
  readonly layout: LayoutForm;
};
