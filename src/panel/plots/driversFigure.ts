/** What each driver goes with, as intervals on one scale; a press on one opens its line. */
import { say, type Said } from "../../experiment/language/said";
import { confidenceText, decimalsShowing, fixed, significant } from "../../experiment/language/wording";
import type { Analysis } from "../../experiment/question/analysis";
import { driverEffects } from "../../experiment/question/driverEffects";
import type { MadeAnalysis } from "../../experiment/question/madeAnalysis";
import { rateRows } from "../../experiment/question/madeRates";
import type { Estimate } from "../../statistics/fit/estimates";
import type { FigureInterval } from "./figure";
import type { FigureChoice } from "./figures";

/** Undefined where there is no driver to speak of. */
export function driversFigure(analysis: Analysis): FigureChoice | undefined {
  const { columns, response, regression, choice } = analysis;
  if (columns.length === 0) return undefined;
  const { name, unit } = response.heading;
  const named = { id: "drivers", title: `What ${name.toLowerCase()} goes with` };
  return {
    ...named,
    make: () => {
      const percent = say`${confidenceText(regression.confidence)} %`;
      const grouped = choice.scatter && choice.scatter.as !== "robust" ? " Sessions count as in the answer." : "";
      return {
        ...named,
        caption: say`Dots: difference of the mean for a usual step of one driver, the others alike; bars: ${percent} intervals, one at a time. Hollow and grey: the interval holds 0, so the rows do not tell which way.${grouped}`,
        xLabel: say`${name}${unit ? ` (${unit})` : ""}, ${percent} intervals`,
        yLabel: "",
        points: [],
        rule: 0,
        ruleName: "no difference",
        intervals: driverEffects(analysis).map(({ name: effect, driver, found }): FigureInterval => ({
          name: effect,
          value: found.value,
          low: found.low,
          high: found.high,
          beside: signed(found),
          opens: `driver-${driver}`,
        })),
      };
    },
  };
}

/** With its sign, and as many decimals as it is known to. */
function signed({ value, standardError, low, high }: Estimate): Said {
  const text =
    standardError === null || low === null || high === null
      ? significant(Math.abs(value), 3)
      : fixed(Math.abs(value), decimalsShowing(standardError, low, high));
  return say`${value < 0 ? "−" : "+"}${text}`;
}

/** The success rate at settings that the rows suggest, as intervals; a press on one opens its driver's curve. */
export function ratesFigure(made: MadeAnalysis): FigureChoice | undefined {
  if (made.columns.length === 0) return undefined;
  const named = { id: "rates", title: "Success rate at settings of each driver" };
  return {
    ...named,
    make: () => {
      const percent = say`${confidenceText(made.logistic.confidence)} %`;
      return {
        ...named,
        caption: say`Dots: fitted rate at one setting of one driver, the others in their middle; bars: ${percent} intervals, one at a time. Of numbers the tenth part, the middle and the nine tenths of the rows.`,
        xLabel: say`Shots made (%), ${percent} intervals`,
        yLabel: "",
        points: [],
        intervals: rateRows(made).flatMap(({ setting, driver, chance }) =>
          chance
            ? [
                {
                  name: setting,
                  value: 100 * chance.chance,
                  low: 100 * chance.low,
                  high: 100 * chance.high,
                  beside: say`${significant(100 * chance.chance, 2)} %`,
                  opens: `rate-${driver}`,
                },
              ]
            : [],
        ),
      };
    },
  };
}
