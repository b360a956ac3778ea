/** The differences between the levels of a category as intervals. */
import { say } from "../../experiment/language/said";
import type { Analysis } from "../../experiment/question/analysis";
import type { ComparisonAnswer } from "../../experiment/question/comparison";
import { confidenceText, significant, withUnit } from "../../experiment/language/wording";
import { there } from "../../there";
import { compare, type Comparison } from "../../statistics/compare/comparison";
import type { FigureChoice } from "./figures";

/** More levels than this have too many pairs to look at. */
const MOST_LEVELS = 12;

/** The pairs of a comparison that was asked. */
export function pairsFigure({ analysis, comparison, margin, reference }: ComparisonAnswer): FigureChoice {
  return figureOf(analysis, 0, () => comparison, margin, reference);
}

/** All pairs of each category driver; compared when looked at. */
export function driverPairs(analysis: Analysis): FigureChoice[] {
  return analysis.regression.question.drivers.flatMap((driver, index) =>
    driver.kind === "category" && driver.levels.length > 1 && driver.levels.length <= MOST_LEVELS
      ? [figureOf(analysis, index, () => compare(analysis.regression, index))]
      : [],
  );
}

function figureOf(
  { response, regression, columns }: Analysis,
  category: number,
  compared: () => Comparison,
  margin?: number,
  reference?: string,
): FigureChoice {
  const { name } = there(columns[category], "a column of the category").heading;
  const named = { id: `pairs-${category}`, title: `Differences between levels of ${name}` };
  return {
    ...named,
    make: () => {
      const { unit } = response.heading;
      const { pairs } = compared();
      const drawn = pairs.flatMap(({ a, b, difference, low, high }) =>
        difference === null
          ? []
          : [
              {
                name: `${a} less ${b}`,
                value: difference,
                low,
                high,
                beside: significant(difference, 3),
                opens: `driver-${category}`,
              },
            ],
      );
      const left = pairs.length - drawn.length;
      const percent = say`${confidenceText(regression.confidence)} %`;
      const told =
        margin === undefined
          ? "an interval that crosses it leaves open which is larger, and does not show that they are alike"
          : say`shaded: differences up to ${withUnit(significant(margin, 4), unit)}, which count as none; an interval wholly within shows that two are alike to that`;
      const all =
        reference === undefined
          ? pairs.length === 1
            ? "the one pair"
            : `all ${pairs.length} pairs`
          : pairs.length === 1
            ? `the one comparison with "${reference}"`
            : `all ${pairs.length} comparisons with "${reference}"`;
      return {
        ...named,
        caption: say`Squares: difference of the adjusted means, first less second; bars: ${percent} intervals that hold for ${all} at once. Upright line: no difference; ${told}.${left > 0 ? ` ${left} more cannot be compared from these rows.` : ""}`,
        xLabel: `Difference${unit ? ` (${unit})` : ""}`,
        yLabel: "",
        points: [],
        rule: 0,
        ruleName: "no difference",
        intervals: drawn,
        ...(margin !== undefined && { margin }),
      };
    },
  };
}
