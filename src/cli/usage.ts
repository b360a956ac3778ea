/** What the command line says of itself, and how it fails. May import: nothing. */

export const HELP = `bendbook: bank-shot trials from the command line

  bendbook evaluate FORMULA... [--json]
      computes worksheet formulas, such as 'BANK.BEND(1/8)'

  bendbook regress FILE --response HEADER [options]
      fits the response column of a trial log (.xlsx or .csv)
      --sheet NAME              the sheet; otherwise the first that has the response
      --driver HEADER           a column taken as a number
      --category HEADER         a column taken as a category; the first level met is the reference
      --curve HEADER DEGREE     lets a number's line curve, degree 2 to 10
      --joint HEADER HEADER     lets the effect of one column depend on the other
      --no-constant             forces the fit through the origin
      --confidence SHARE        confidence of the intervals, 0.95 unless said
      --robust                  standard errors that hold when rows scatter unequally
      --cluster HEADER          standard errors that hold when rows alike in this column go together
      --random HEADER           each level of this column shifts its rows by a random amount
      --json                    JSON at full precision

  bendbook recalculate FILE --out FILE [--force] [--json]
      recomputes every BANK formula, lists the cells whose stored value differs, writes a copy

  bendbook --help, bendbook --version

Exit code 0: done; 1: the data or a formula had an error; 2: the command was not understood.`;

/** The command line itself is wrong: exit code 2. */
export class UsageError extends Error {}

/** The command was understood and cannot be done: exit code 1. */
export class CommandError extends Error {}
