/**
 * The views but the first one, in files of their own: the panel stands sooner without them. They are fetched when they
 * are asked for, and all of them once the page has nothing else to do, so that they are there when the server is not.
 */
import { lazy } from "react";
import { fetched } from "./fetched";
import { STEP_FILES } from "./laterSteps";

/** Between two files, for what the user does. In ms. */
const PAUSE = 400;

const FILES = {
  evidence: () => fetched(import("./evidence/EvidenceView")).then(({ EvidenceView }) => ({ default: EvidenceView })),
  layout: () => fetched(import("./layout/LayoutView")).then(({ LayoutView }) => ({ default: LayoutView })),
  measure: () => fetched(import("./measure/MeasureView")).then(({ MeasureView }) => ({ default: MeasureView })),
  next: () => fetched(import("./next/NextView")).then(({ NextView }) => ({ default: NextView })),
  plan: () => fetched(import("./plan/PlanView")).then(({ PlanView }) => ({ default: PlanView })),
  report: () => fetched(import("./report/ReportView")).then(({ ReportView }) => ({ default: ReportView })),
  setup: () => fetched(import("./setup/SetupView")).then(({ SetupView }) => ({ default: SetupView })),
  shoot: () => fetched(import("./shoot/ShootView")).then(({ ShootView }) => ({ default: ShootView })),
  shot: () => fetched(import("./shot/ShotView")).then(({ ShotView }) => ({ default: ShotView })),
  start: () => fetched(import("./start/StartView")).then(({ StartView }) => ({ default: StartView })),
  video: () => fetched(import("./video/VideoView")).then(({ VideoView }) => ({ default: VideoView })),
};

/** Each view, by its name; it waits for its file where it must. */
export const later = {
  evidence: lazy(FILES.evidence),
  layout: lazy(FILES.layout),
  measure: lazy(FILES.measure),
  next: lazy(FILES.next),
  plan: lazy(FILES.plan),
  report: lazy(FILES.report),
  setup: lazy(FILES.setup),
  shoot: lazy(FILES.shoot),
  shot: lazy(FILES.shot),
  start: lazy(FILES.start),
  video: lazy(FILES.video),
};

/**
 * Fetches the steps and views that are not there yet, one after the other, when the page has time.
 * @returns what stops it
 */
export function fetchViews(): () => void {
  let stopped = false;
  const rest = () => new Promise<void>((resolve) => setTimeout(resolve, PAUSE));
  void (async () => {
    for (const fetchFile of [...Object.values(STEP_FILES), ...Object.values(FILES)]) {
      await rest();
      if (stopped) return;
      // What cannot be had now is asked for again, and told, when the view is opened.
      await fetchFile().catch(() => {});
    }
  })();
  return () => void (stopped = true);
}
