/** The results of what makes a shot as a new sheet. */
import { toText } from "../language/said";
import type { NewSheet } from "../../workbook/port";
import { completed } from "../language/completed";
import { madeSentences, type MadeAnalysis } from "../question/madeAnalysis";
import { rateAt, rateRows } from "../question/madeRates";
import { madeTrust } from "../trust/madeTrust";
import { madeMethod } from "./methodWords";
import { addAsked, addChecks, addRemarks, number, sheetRows, WIDTHS } from "./sheetRows";

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
  for (const { text } of madeSentences(analysis)) add(toText(text));
  const asked = rateAt(analysis, at);
  if (asked.sentence !== undefined && columns.length > 0) add(toText(asked.sentence));
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
        toText(setting),
        number(chance?.chance),
        number(chance?.low),
        number(chance?.high),
        number(counted?.made),
        number(counted?.shots),
      );
  }
  addChecks(sheet, "the fit to the rows used", completed(madeTrust(analysis, order)));
  addRemarks(sheet, check);
  return { name, rows, columnWidths: WIDTHS };
}
