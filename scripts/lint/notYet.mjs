/**
 * Files in which an index is not yet known to be maybe undefined, or in which a ! stands yet. The list only shrinks.
 *
 * @type {readonly string[]}
 */
export const NOT_YET = [
  "src/experiment/next/nextWords.ts",
  "src/experiment/next/whatNext.ts",
  "src/experiment/question/analysis.ts",
  "src/experiment/question/answer.ts",
  "src/experiment/question/buildDriver.ts",
  "src/experiment/question/madeAnalysis.ts",
  "src/experiment/question/madeRates.ts",
  "src/experiment/question/rowCheck.ts",
  "src/experiment/question/sessionAware.ts",
  "src/experiment/start/firstLog.ts",
  "src/experiment/trust/changedChoices.ts",
  "src/experiment/trust/consistency.ts",
  "src/experiment/trust/together.ts",
  "src/experiment/trust/trustChecks.ts",
  "src/experiment/trust/trustWords.ts",
  "src/panel/plan/PlanView.tsx",
  "src/panel/start/StartView.tsx",
];
