/**
 * The steps of the analysis that are closed at first, or that another kind of question needs, in files of their own:
 * the first answer stands sooner without them. They come when they are opened, or when the page has time
 * (laterViews.ts).
 */
import { lazy } from "react";
import { fetched } from "./fetched";

export const STEP_FILES = {
  rows: () => fetched(import("./question/RowsSection")).then(({ RowsSection }) => ({ default: RowsSection })),
  check: () => fetched(import("./question/CheckSection")).then(({ CheckSection }) => ({ default: CheckSection })),
  question: () =>
    fetched(import("./question/QuestionSection")).then(({ QuestionSection }) => ({ default: QuestionSection })),
  reachQuestion: () =>
    fetched(import("./attempts/ReachQuestionFields")).then(({ ReachQuestionFields }) => ({
      default: ReachQuestionFields,
    })),
  compare: () =>
    fetched(import("./question/CompareSection")).then(({ CompareSection }) => ({ default: CompareSection })),
  answer: () => fetched(import("./question/AnswerSection")).then(({ AnswerSection }) => ({ default: AnswerSection })),
  at: () => fetched(import("./question/AnswerSection")).then(({ AtSettings }) => ({ default: AtSettings })),
  rateAt: () => fetched(import("./question/MadeSection")).then(({ RateAtSettings }) => ({ default: RateAtSettings })),
  reachAt: () =>
    fetched(import("./attempts/ReachSection")).then(({ ReachAtSettings }) => ({ default: ReachAtSettings })),
  reach: () => fetched(import("./attempts/ReachSection")).then(({ ReachSection }) => ({ default: ReachSection })),
  made: () => fetched(import("./question/MadeSection")).then(({ MadeSection }) => ({ default: MadeSection })),
  trust: () => fetched(import("./trust/TrustSection")).then(({ TrustSection }) => ({ default: TrustSection })),
  madeTrust: () =>
    fetched(import("./trust/TrustSection")).then(({ MadeTrustSection }) => ({ default: MadeTrustSection })),
  changes: () => fetched(import("./trust/ChangedAnswer")).then(({ ChangedAnswer }) => ({ default: ChangedAnswer })),
  keep: () => fetched(import("./question/KeptAnswer")).then(({ KeptAnswer }) => ({ default: KeptAnswer })),
};

/** Each step's inside, by its name; it waits for its file where it must. */
export const inside = {
  rows: lazy(STEP_FILES.rows),
  check: lazy(STEP_FILES.check),
  question: lazy(STEP_FILES.question),
  reachQuestion: lazy(STEP_FILES.reachQuestion),
  compare: lazy(STEP_FILES.compare),
  answer: lazy(STEP_FILES.answer),
  at: lazy(STEP_FILES.at),
  rateAt: lazy(STEP_FILES.rateAt),
  reachAt: lazy(STEP_FILES.reachAt),
  reach: lazy(STEP_FILES.reach),
  made: lazy(STEP_FILES.made),
  trust: lazy(STEP_FILES.trust),
  madeTrust: lazy(STEP_FILES.madeTrust),
  changes: lazy(STEP_FILES.changes),
  keep: lazy(STEP_FILES.keep),
};
