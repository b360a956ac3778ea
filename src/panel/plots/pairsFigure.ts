/** The pairwise intervals of a comparison, as a figure. May import: figure.ts, figures.ts (its shapes), experiment/. */
import type { ComparisonAnswer } from "../../experiment/comparison";
import { counted, significant, withUnit } from "../../experiment/wording";
import type { FigureChoice } from "./figures";

export function pairsFigure({ analysis, comparison, among, margin, reference }: ComparisonAnswer): FigureChoice {
  const { response, regression, columns } = analysis;
  const title = `Differences between levels of ${columns[0].heading.name}`;
  return {
    id: "pairs",
    title,
    make: () => {
      const { unit } = response.heading;
      const drawn = comparison.pairs.flatMap(({ a, b, difference, low, high }) => (difference === null ? [] : [{ name: `${a} less ${b}`, value: difference, low, high }]));
      const left = comparison.pairs.length - drawn.length;
      const percent = `${significant(100 * regression.confidence, 4)} %`;
      const told = margin === undefined ? "an interval that crosses it leaves open which is larger, and does not show that they are alike" : `shaded: differences up to ${withUnit(significant(margin, 4), unit)}, which count as none; an interval wholly within shows that two are alike to that`;
      return {
        id: "pairs",
        title,
        caption: `Squares: difference of the adjusted means, first less second; bars: ${percent} intervals that hold for ${counted(comparison.pairs.length, reference === undefined ? "pair" : `comparison with "${reference}"`, reference === undefined ? "pairs" : `comparisons with "${reference}"`)} of ${among} at once. Upright line: no difference; ${told}.${left > 0 ? ` ${counted(left, "pair")} cannot be compared from these rows.` : ""}`,
        xLabel: `Difference${unit ? ` (${unit})` : ""}`,
        yLabel: "",
        points: [],
        rule: 0,
        intervals: drawn,
        ...(margin !== undefined && { margin }),
      };
    },
  };
}
