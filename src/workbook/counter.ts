/** Columns that number the rows. */

/** Headings of such a column. */
export const COUNTER = /^(trial|shot|no\.?|nr\.?|number|#|id)( ?(no\.?|nr\.?|number|#|id))?$/i;

/** Whether a heading says that its column numbers the rows. @example isCounter("Trial no.") === true */
export function isCounter(heading: string): boolean {
  return COUNTER.test(heading.trim());
}
