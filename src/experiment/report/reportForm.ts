/** What the user adds to a report, as it is kept with the workbook. */
import { asRecord } from "../language/keptObject";
import { usualPaper, type Paper } from "../layout/layoutForm";

export interface ReportForm {
  readonly title: string;
  /** Why the question was asked, in the user's own words. */
  readonly purpose: string;
  readonly paper: Paper;
}

export function firstReport(language: string): ReportForm {
  return { title: "", purpose: "", paper: usualPaper(language) };
}

/** Reads a kept form; what is missing or of the wrong kind is empty. */
export function parseReport(raw: unknown): ReportForm {
  const given = asRecord(raw);
  const text = (name: string) => (typeof given[name] === "string" ? given[name] : "");
  return { title: text("title"), purpose: text("purpose"), paper: given.paper === "Letter" ? "Letter" : "A4" };
}
