/**
 * The plots of an analysis, as data. May import: figure.ts, experiment/, statistics/.
 */
import type { Analysis } from "../../experiment/analysis";
import { significant } from "../../experiment/wording";
import { adjustedMeans } from "../../statistics/adjustedMeans";
import { effectLine } from "../../statistics/effectLine";
import { influence } from "../../statistics/influence";
import { normalScores } from "../../statistics/normalScores";
import type { Figure } from "./figure";

/** One figure per driver, then three of residuals and one of influence, in reading order. */
export function figures(analysis: Analysis): Figure[] {
  return [...driverFigures(analysis), ...residualFigures(analysis)];
}

function driverFigures({ regression, columns, response }: Analysis): Figure[] {
  const percent = `${significant(100 * regression.confidence, 4)} %`;
  const name = response.heading.name;
  return columns.map((column, index): Figure => {
    const driver = regression.question.drivers[index];
    const common = { id: `driver-${index}`, title: `${name} against ${column.heading.name}`, xLabel: column.heading.text, yLabel: response.heading.text };
    const others = columns.length > 1 ? ", the other drivers brought to their middle" : "";
    if (driver.kind === "number") {
      const { x, estimates, points } = effectLine(regression, index);
      const known = x.flatMap((at, i) => (estimates[i] ? [{ at, ...estimates[i] }] : []));
      const banded = known.every(({ low }) => low !== null);
      return {
        ...common,
        caption: `Points: the rows used${others}. Line: fitted mean${banded ? `; band: its ${percent} interval at each place` : "; no spread can be judged"}.`,
        points: points.flatMap(({ x: at, y }, row) => (Number.isFinite(y) ? [{ x: at, y, row }] : [])),
        line: {
          x: known.map(({ at }) => at),
          y: known.map(({ value }) => value),
          ...(banded ? { low: known.map(({ low }) => low as number), high: known.map(({ high }) => high as number) } : {}),
        },
      };
    }
    const means = adjustedMeans(regression, index);
    return {
      ...common,
      caption: `Adjusted means with ${percent} intervals${others}. Points: the rows used, moved likewise, side by side.`,
      points: Array.from(driver.values, (level, row) => ({ x: level + sideways(row), y: (means[level].estimate?.value ?? NaN) + regression.residuals[row], row })).filter(({ y }) => Number.isFinite(y)),
      means: means.flatMap(({ estimate }, level) => (estimate ? [{ x: level, value: estimate.value, low: estimate.low, high: estimate.high }] : [])),
      levels: driver.levels,
    };
  });
}

/** Spreads points that share a level, the same way each time. */
function sideways(row: number): number {
  return 0.3 * (((row * 0.6180339887498949) % 1) - 0.5);
}

function residualFigures({ regression, response }: Analysis): Figure[] {
  const { residuals, question } = regression;
  const unit = response.heading.unit ? ` (${response.heading.unit})` : "";
  const rows = influence(regression);
  const studentised = rows.filter(({ studentised: value }) => value !== null);
  const scores = normalScores(studentised.map(({ studentised: value }) => value as number));
  const ends = scores.length > 0 ? [scores[0].score, scores[scores.length - 1].score] : [];
  return [
    {
      id: "residuals",
      title: "Residuals against fitted",
      caption: "What the fit leaves over, against what it expects. A funnel or a bow says that the fit misses something.",
      xLabel: `Fitted ${response.heading.text}`,
      yLabel: `Residual${unit}`,
      points: Array.from(residuals, (residual, row) => ({ x: question.response[row] - residual, y: residual, row })),
      rule: 0,
    },
    {
      id: "quantiles",
      title: "Residual quantiles",
      caption: "Residuals in units of their own standard error against those of a normal spread. Points off the line at the ends are shots unlike the rest.",
      xLabel: "Normal quantile",
      yLabel: "Residual / its standard error",
      points: scores.map(({ score, value, row }) => ({ x: score, y: value, row: studentised[row].row })),
      line: { x: ends, y: ends },
    },
    {
      id: "pull",
      title: "Rows that pull hardest",
      caption: "How far all fitted values move when the row is left out (Cook's distance). Tall needles deserve a second look at the row.",
      xLabel: "Row among those used",
      yLabel: "Cook's distance",
      points: rows.filter(({ distance }) => Number.isFinite(distance)).map(({ row, distance }) => ({ x: row + 1, y: distance, row })),
      needles: true,
    },
  ];
}
