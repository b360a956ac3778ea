/**
 * The order of the test files: what takes longest begins first, so that no worker is left with a long file at the end.
 * By rough processor time, on a clean checkout too, where nothing was measured yet.
 */
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** Those that take more than some ten seconds, the longest first; files of the browser before all others. */
const LONGEST = [
  "browser/video",
  "browser/killed",
  "browser/shoot",
  "browser/drafts",
  "browser/access",
  "browser/analysis",
  "browser/editing",
  "browser/typed",
  "browser/journey",
  "browser/shot",
  "browser/offline",
  "browser/report",
  "browser/taskpane",
  "browser/",
  "workbook/file/large",
  "statistics/errors/coverage",
  "experiment/shot/shot",
  "cli/cli",
  "outside/upAndDown",
  "experiment/calibrate/",
  "workbook/columns/differential",
  "workbook/embedded/mended/wholeCalculation",
  "cli/",
  "scripts/officeSets",
  "outside/",
];

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => {
      const found = LONGEST.findIndex((name) => moduleId.replaceAll("\\", "/").includes(`/tests/${name}`));
      return found < 0 ? LONGEST.length : found;
    };
    return (await super.sort(files)).sort((one, other) => rank(one) - rank(other));
  }
}
