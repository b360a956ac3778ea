/** The stages of the work, in order, and the views of each: what comes before a shot, shots, answers. */
import { VIEWS, type ViewName } from "./settings";

export const STAGES = ["Prepare", "Shoot", "Learn", "Show"] as const;
export type Stage = (typeof STAGES)[number];

export const STAGE_OF: Readonly<Record<ViewName, Stage>> = {
  start: "Prepare",
  setup: "Prepare",
  plan: "Prepare",
  shot: "Prepare",
  layout: "Prepare",
  shoot: "Shoot",
  video: "Shoot",
  analysis: "Learn",
  next: "Learn",
  measure: "Show",
  evidence: "Show",
  report: "Show",
};

/** The views of a stage, in the order of their tabs; the first is shown first. */
export const viewsOf = (stage: Stage): readonly ViewName[] => VIEWS.filter((view) => STAGE_OF[view] === stage);
