/**
 * The results of an analysis as a new sheet: values, settings, row counts, version and date.
 * May import: analysis.ts, answer.ts, statistics/, workbook/port.ts.
 */
import { adjustedMeans } from "../statistics/adjustedMeans";
import { effectLine } from "../statistics/effectLine";
import { termTests } from "../statistics/termTests";
import type { Area } from "../workbook/book";
import type { NewCell, NewChart, NewSheet } from "../workbook/port";
import type { Analysis } from "./analysis";
import { answerSentences } from "./answer";
import type { Choice } from "./choice";

/** @param made when the sheet was made @param version of Bendbook */
export function resultsSheet(analysis: Analysis, name: string, made: Date, version: string): NewSheet {
  const { log, choice, check, regression, columns, response } = analysis;
  const rows: NewCell[][] = [];
  const plain = (value: NewCell["value"]): NewCell => (typeof value === "number" && !Number.isFinite(value) ? { value: String(value) } : { value });
  const add = (...values: NewCell["value"][]) => rows.push(values.map(plain));
  const heading = (...values: string[]) => {
    if (rows.length > 0) rows.push([]);
    rows.push(values.map((value) => ({ value, bold: true })));
  };
  const number = (value: number | null) => value ?? "";

  heading(`${response.heading.name}: what the rows say`);
  for (const { text } of answerSentences(analysis)) add(text);

  heading("Asked", "Value");
  add("Sheet", log.sheet);
  add("Table", log.title);
  add("Response", choice.response);
  choice.drivers.forEach(({ heading: text, as, degree }) => add("Driver", `${text}, as a ${as}${degree > 1 ? `, curve of degree ${degree}` : ""}`));
  choice.joint.forEach(([a, b]) => add("Acting together", `${a} and ${b}`));
  add("Constant", choice.constant ? "yes" : "no, forced through the origin");
  add("Confidence of intervals", choice.confidence);
  add("Method", methodOf(choice));
  add("Rows read", log.rows.length);
  add("Rows used", check.used.length);
  add("Rows left out", check.leftOut.length);
  add("Hidden or filtered rows counted in", log.hiddenRows);
  add("Bendbook", version);
  rows.push([{ value: "Made" }, { value: serialOf(made), format: "yyyy-mm-dd hh:mm" }]);

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
  for (const { name: term, test } of termTests(regression)) add(term, number(test.value), test.df1, test.df2, number(test.p));

  const charts: NewChart[] = [];
  const block = (first: number, column: number): Area => ({ row: first, column, rows: rows.length - first, columns: 1 });
  columns.forEach((column, index) => {
    const driver = regression.question.drivers[index];
    const title = `${response.heading.name} against ${column.heading.name}`;
    if (driver.kind === "category") {
      heading(`${column.heading.name}: adjusted mean`, response.heading.text, "Low", "High", "Rows");
      const first = rows.length;
      for (const { level, estimate, rows: count } of adjustedMeans(regression, index)) add(level, number(estimate?.value ?? null), number(estimate?.low ?? null), number(estimate?.high ?? null), count);
      charts.push({ title, kind: "column", xTitle: column.heading.text, yTitle: response.heading.text, x: block(first, 0), y: block(first, 1) });
    } else {
      heading(column.heading.text, `${response.heading.name}, fitted`, "Low", "High");
      const first = rows.length;
      const { x, estimates } = effectLine(regression, index, 11);
      x.forEach((at, i) => add(at, number(estimates[i]?.value ?? null), number(estimates[i]?.low ?? null), number(estimates[i]?.high ?? null)));
      charts.push({ title, kind: "scatter", xTitle: column.heading.text, yTitle: response.heading.text, x: block(first, 0), y: block(first, 1) });
    }
  });

  if (check.leftOut.length > 0) {
    heading("Row left out", "Cell", "Why");
    for (const { row, address, reason } of check.leftOut) add(row + 1, address, reason);
  }
  if (check.suspicious.length > 0) {
    heading("Used, but worth a look", "Cell", "Why");
    for (const { row, address, reason } of check.suspicious) add(row + 1, address, reason);
  }
  return { name, rows, columnWidths: [44, 22, 16, 16, 16, 12, 12], charts };
}

/** How the question was answered, in a few words. */
export function methodOf({ scatter, weight }: Pick<Choice, "scatter" | "weight">): string {
  if (weight !== undefined) return `${methodOf({ ...(scatter && { scatter }) })}; rows weighted by ${weight}`;
  if (!scatter) return "least squares; intervals from Student's t, every row on its own";
  if (scatter.as === "robust") return "least squares; errors corrected for unequal spread, intervals from Student's t";
  if (scatter.as === "cluster") return `least squares; errors for rows of one ${scatter.heading} together in any way, intervals from Student's t`;
  return `restricted maximum likelihood; each ${scatter.heading} shifted by a random amount, intervals from Student's t`;
}

/** A moment as a spreadsheet's serial day in local time. */
export function serialOf(moment: Date): number {
  return (moment.getTime() - moment.getTimezoneOffset() * 60000) / 86400000 + 25569;
}
