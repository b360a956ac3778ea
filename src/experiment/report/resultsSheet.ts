/**
 * The results of a question as a new sheet: values, settings, row counts, what the checks found, version and date.
 */
import { adjustedMeans } from "../../statistics/fit/adjustedMeans";
import { effectLine } from "../../statistics/fit/effectLine";
import { termTests } from "../../statistics/fit/wholeTerms";
import type { Area } from "../../workbook/book";
import type { BookChart } from "../../workbook/book";
import type { NewCell, NewSheet } from "../../workbook/port";
import type { Analysis } from "../question/analysis";
import { answerSentences } from "../question/answer";
import { headingsOf, type Choice } from "../question/choice";
import { comparisonSentences, type ComparisonAnswer } from "../question/comparison";
import { completed } from "../language/completed";
import { listOf } from "../language/wording";
import { groupings } from "../question/groupings";
import { madeSentences, type MadeAnalysis } from "../question/madeAnalysis";
import { rateAt, rateRows } from "../question/madeRates";
import { madeTrust } from "../trust/madeTrust";
import type { RowCheck } from "../question/rowCheck";
import { trustAnswer, type TrustRemark } from "../trust/trustWords";

/** Rows of a results sheet as they grow. */
function sheetRows() {
  const rows: NewCell[][] = [];
  const plain = (value: NewCell["value"]): NewCell =>
    typeof value === "number" && !Number.isFinite(value) ? { value: String(value) } : { value };
  return {
    rows,
    add: (...values: NewCell["value"][]) => void rows.push(values.map(plain)),
    heading: (...values: string[]) => {
      if (rows.length > 0) rows.push([]);
      rows.push(values.map((value) => ({ value, bold: true })));
    },
  };
}

const number = (value: number | null | undefined) => value ?? "";
const WIDTHS = [44, 22, 16, 16, 16, 12, 12];

/** What was asked, of which rows, when and with what. */
function addAsked(
  { rows, add, heading }: ReturnType<typeof sheetRows>,
  { log, choice, check }: Pick<Analysis, "log" | "choice" | "check">,
  method: string,
  made: Date,
  version: string,
  more: readonly (readonly [string, NewCell["value"]])[] = [],
): void {
  heading("Asked", "Value");
  add("Sheet", log.sheet);
  add("Table", log.title);
  add("Response", choice.response);
  more.forEach(([name, value]) => add(name, value));
  choice.drivers.forEach(({ heading: text, as, degree }) =>
    add("Driver", `${text}, as a ${as}${degree > 1 ? `, curve of degree ${degree}` : ""}`),
  );
  choice.joint.forEach(([a, b]) => add("Acting together", `${a} and ${b}`));
  add("Constant", choice.constant ? "yes" : "no, forced through the origin");
  add("Confidence of intervals", choice.confidence);
  add("Method", method);
  add("Rows read", log.rows.length);
  add("Rows used", check.used.length);
  add("Rows left out", check.leftOut.length);
  add("Hidden or filtered rows counted in", log.hiddenRows);
  add("Bendbook", version);
  rows.push([{ value: "Made" }, { value: serialOf(made), format: "yyyy-mm-dd hh:mm" }]);
}

/** What each check found, the check named beside its first finding. */
function addChecks({ add, heading }: ReturnType<typeof sheetRows>, of: string, checks: readonly TrustRemark[]): void {
  heading(`Checks of ${of}`, "What was found");
  for (const { title, found } of checks) found.forEach((text, line) => add(line === 0 ? title : "", text));
  add("A check that finds nothing proves nothing: few rows hide much.");
}

/** Which rows were left out, and which are worth a look. */
function addRemarks({ add, heading }: ReturnType<typeof sheetRows>, { leftOut, suspicious }: RowCheck): void {
  if (leftOut.length > 0) {
    heading("Row left out", "Cell", "Why");
    for (const { row, address, reason } of leftOut) add(row + 1, address, reason);
  }
  if (suspicious.length > 0) {
    heading("Used, but worth a look", "Cell", "Why");
    for (const { row, address, reason } of suspicious) add(row + 1, address, reason);
  }
}

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
  const { choice, check, regression, columns, response } = analysis;
  const sheet = sheetRows();
  const { rows, add, heading } = sheet;

  heading(`${response.heading.name}: what the rows say`);
  for (const { text } of comparison ? comparisonSentences(comparison) : answerSentences(analysis)) add(text);
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

  const charts: BookChart[] = [];
  const block = (first: number, column: number): Area => ({
    row: first,
    column,
    rows: rows.length - first,
    columns: 1,
  });
  columns.forEach((column, index) => {
    const driver = regression.question.drivers[index];
    const title = `${response.heading.name} against ${column.heading.name}`;
    if (driver?.kind === "category") {
      heading(`${column.heading.name}: adjusted mean`, response.heading.text, "Low", "High", "Rows");
      const first = rows.length;
      for (const { level, estimate, rows: count } of adjustedMeans(regression, index))
        add(
          level,
          number(estimate?.value ?? null),
          number(estimate?.low ?? null),
          number(estimate?.high ?? null),
          count,
        );
      charts.push({
        title,
        kind: "column",
        xTitle: column.heading.text,
        yTitle: response.heading.text,
        x: block(first, 0),
        y: block(first, 1),
      });
    } else {
      heading(column.heading.text, `${response.heading.name}, fitted`, "Low", "High");
      const first = rows.length;
      const { x, estimates } = effectLine(regression, index, 11);
      x.forEach((at, i) =>
        add(
          at,
          number(estimates[i]?.value ?? null),
          number(estimates[i]?.low ?? null),
          number(estimates[i]?.high ?? null),
        ),
      );
      charts.push({
        title,
        kind: "scatter",
        xTitle: column.heading.text,
        yTitle: response.heading.text,
        x: block(first, 0),
        y: block(first, 1),
      });
    }
  });

  addChecks(
    sheet,
    "the plain fit to the rows used",
    completed(trustAnswer(analysis, groupings(analysis)[0]?.by, order)).remarks,
  );
  addRemarks(sheet, check);
  return { name, rows, columnWidths: WIDTHS, charts };
}

function addComparison(
  { add, heading }: ReturnType<typeof sheetRows>,
  { comparison, margin, slope, analysis }: ComparisonAnswer,
): void {
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

/**
 * The results of what makes a shot.
 * @param at settings at which the success rate was asked, as typed, by heading
 * @param order heading of what says the order of the shots: noticed where it is left out, null for not asked
 */
export function madeSheet(
  analysis: MadeAnalysis,
  at: Readonly<Record<string, string>>,
  name: string,
  made: Date,
  version: string,
  order?: string | null,
): NewSheet {
  const { choice, check, columns, logistic: fit } = analysis;
  const sheet = sheetRows();
  const { rows, add, heading } = sheet;
  heading("Made or not: what the rows say");
  for (const { text } of madeSentences(analysis)) add(text);
  const asked = rateAt(analysis, at);
  if (asked.sentence !== undefined && columns.length > 0) add(asked.sentence);
  addAsked(sheet, analysis, madeMethod(fit.method, choice.scatter), made, version);
  heading("Of the whole", "Value");
  add("Shots made", fit.made);
  add("Shots", fit.rows);
  add("Coefficients are in the logarithm of the odds, made to not made, per unit of the driver.");
  heading("Coefficient", "Estimate", "Standard error", "Low", "High", "p");
  for (const { label, estimate, standardError, low, high, p } of fit.terms)
    add(label, number(estimate), number(standardError), number(low), number(high), number(p));
  if (fit.unestimated.length > 0) {
    heading("Not estimated", "Why");
    for (const { term, reason } of fit.unestimated) add(term, reason);
  }
  if (columns.length > 0) {
    heading("Success rate, the other drivers in their middle", "Rate", "Low", "High", "Made", "Shots");
    for (const { setting, chance, counted } of rateRows(analysis))
      add(
        setting,
        number(chance?.chance),
        number(chance?.low),
        number(chance?.high),
        number(counted?.made),
        number(counted?.shots),
      );
  }
  addChecks(sheet, "the fit to the rows used", completed(madeTrust(analysis, order)));
  addRemarks(sheet, check);
  return { name, rows, columnWidths: WIDTHS, charts: [] };
}

/** How the question was answered, in a few words. */
export function methodOf({ scatter, weight }: Pick<Choice, "scatter" | "weight">): string {
  if (weight !== undefined) return `${methodOf({ ...(scatter && { scatter }) })}; rows weighted by ${weight}`;
  if (!scatter) return "least squares; intervals from Student's t, every row on its own";
  if (scatter.as === "robust") return "least squares; errors corrected for unequal spread, intervals from Student's t";
  if (scatter.as === "cluster")
    return `least squares; errors for rows of one ${listOf(headingsOf(scatter))} together in any way, intervals from Student's t`;
  return `restricted maximum likelihood; each ${listOf(headingsOf(scatter))} shifted by a random amount, intervals from Student's t`;
}

/** The same for made or missed. */
export function madeMethod(method: MadeAnalysis["logistic"]["method"], scatter: Choice["scatter"]): string {
  const lead = `logistic regression by ${method}`;
  if (!scatter || scatter.as === "robust") return `${lead}, every shot on its own`;
  const session = listOf(headingsOf(scatter));
  return scatter.as === "random"
    ? `${lead}; each ${session} shifted by a random amount`
    : `${lead}; errors for shots of one ${session} together in any way`;
}

/** A moment as a spreadsheet's serial day in local time. */
export function serialOf(moment: Date): number {
  return (moment.getTime() - moment.getTimezoneOffset() * 60000) / 86400000 + 25569;
}
