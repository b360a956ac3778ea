/**
 * The results of an explained number as a new sheet: values, settings, row counts, what the checks found, version and
 * date, and a chart for each driver.
 */
import { toText } from "../language/said";
import { adjustedMeans } from "../../statistics/fit/adjustedMeans";
import { effectLine } from "../../statistics/fit/effectLine";
import { termTests } from "../../statistics/fit/wholeTerms";
import type { BookChart } from "../../workbook/book";
import type { NewSheet } from "../../workbook/port";
import { completed } from "../language/completed";
import type { Analysis } from "../question/analysis";
import { answerSentences } from "../question/answer";
import { comparisonSentences, type ComparisonAnswer } from "../question/comparison";
import { groupings } from "../question/groupings";
import { trustAnswer } from "../trust/trustWords";
import { methodOf } from "./methodWords";
import { addAsked, addChecks, addRemarks, number, sheetRows, WIDTHS, type SheetRows } from "./sheetRows";

/**
 * The results of an explained number, or of a comparison when that is what was asked.
 * @param made when the sheet was made
 * @param version of Bendbook
 * @param order heading of what says the order of the shots: noticed where it is left out, null for not asked
 */
export function resultsSheet(
  analysis: Analysis,
  name: string,
  made: Date,
  version: string,
  comparison?: ComparisonAnswer,
  order?: string | null,
): NewSheet {
  const { choice, check, response } = analysis;
  const sheet = sheetRows();
  const { rows, add, heading } = sheet;

  heading(`${response.heading.name}: what the rows say`);
  for (const { text } of comparison ? comparisonSentences(comparison) : answerSentences(analysis)) add(toText(text));
  addAsked(
    sheet,
    analysis,
    methodOf(choice),
    made,
    version,
    comparison
      ? [
          ["Compared", comparison.among],
          ["With", comparison.reference ?? "each other, all pairs"],
          ...(comparison.margin === undefined ? [] : [["Counts as the same within", comparison.margin] as const]),
        ]
      : [],
  );
  if (comparison) addComparison(sheet, comparison);

  addRegression(sheet, analysis);
  const charts = addDrivers(sheet, analysis);
  addChecks(
    sheet,
    "the plain fit to the rows used",
    completed(trustAnswer(analysis, groupings(analysis)[0]?.by, order)).remarks,
  );
  addRemarks(sheet, check);
  return { name, rows, columnWidths: WIDTHS, charts };
}

/** Coefficients, the whole and tests of whole terms. */
function addRegression({ add, heading }: SheetRows, { regression, response }: Analysis): void {
  heading("Coefficient", "Estimate", "Standard error", "Low", "High", "t", "p");
  for (const { label, estimate, standardError, low, high, t, p } of regression.terms) {
    add(label, number(estimate), number(standardError), number(low), number(high), number(t), number(p));
  }
  add(`Estimates are in ${response.heading.unit || "the response's unit"} per unit of the driver.`);
  if (regression.unestimated.length > 0) {
    heading("Not estimated", "Why");
    for (const { term, reason } of regression.unestimated) add(term, reason);
  }

  heading("Of the whole", "Value");
  add("Share of variation explained", number(regression.rSquared));
  add("Residual standard deviation", number(regression.residual.sd), response.heading.unit);
  add("Residual degrees of freedom", regression.residual.df);
  add("All drivers against none: F", number(regression.F.value));
  add("p", number(regression.F.p));

  heading("Test", "F", "Degrees of freedom", "Residual degrees of freedom", "p");
  for (const { name: term, test } of termTests(regression))
    add(term, number(test.value), test.df1, test.df2, number(test.p));
}

/** A table for each driver, adjusted means or a line, and the chart that shows it. */
function addDrivers({ rows, add, heading }: SheetRows, { regression, columns, response }: Analysis): BookChart[] {
  return columns.map(({ heading: driver }, index) => {
    const isCategory = regression.question.drivers[index]?.kind === "category";
    let first: number;
    if (isCategory) {
      heading(`${driver.name}: adjusted mean`, response.heading.text, "Low", "High", "Rows");
      first = rows.length;
      for (const { level, estimate, rows: count } of adjustedMeans(regression, index))
        add(level, number(estimate?.value), number(estimate?.low), number(estimate?.high), count);
    } else {
      heading(driver.text, `${response.heading.name}, fitted`, "Low", "High");
      first = rows.length;
      const { x, estimates } = effectLine(regression, index, 11);
      x.forEach((at, i) => add(at, number(estimates[i]?.value), number(estimates[i]?.low), number(estimates[i]?.high)));
    }
    const block = (column: number) => ({ row: first, column, rows: rows.length - first, columns: 1 });
    return {
      title: `${response.heading.name} against ${driver.name}`,
      kind: isCategory ? "column" : "scatter",
      xTitle: driver.text,
      yTitle: response.heading.text,
      x: block(0),
      y: block(1),
    };
  });
}

function addComparison({ add, heading }: SheetRows, { comparison, margin, slope, analysis }: ComparisonAnswer): void {
  const { unit } = analysis.response.heading;
  const pairs = (title: string, list: typeof comparison.pairs, same: boolean) => {
    heading(
      title,
      "Difference",
      "Standard error",
      "Low",
      "High",
      "Degrees of freedom",
      "p",
      ...(same ? ["Same within the margin"] : []),
    );
    for (const { a, b, difference, standardError, low, high, df, p, equivalent } of list) {
      add(
        `${a} less ${b}`,
        number(difference),
        number(standardError),
        number(low),
        number(high),
        number(df),
        number(p),
        ...(same ? [equivalent === null ? "" : equivalent ? "yes" : "not shown"] : []),
      );
    }
  };
  pairs("Pair, first less second", comparison.pairs, margin !== undefined);
  add(`Differences of adjusted means${unit ? ` in ${unit}` : ""}; intervals and p for all of these at once.`);
  if (!slope) return;
  heading(`Effect of ${slope.column.heading.text} at`, "Per unit", "Low", "High", "Rows");
  for (const { level, estimate, rows: count } of slope.found.slopes)
    add(level, number(estimate?.value), number(estimate?.low), number(estimate?.high), count);
  pairs("Effects, first less second", slope.found.pairs, false);
}
