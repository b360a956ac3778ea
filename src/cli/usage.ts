/** What the command line says of itself, and how it fails. */

export const USAGE = `bendbook: bank-shot trials from the command line

  bendbook evaluate FORMULA... [--json]
      computes worksheet formulas, such as 'BANK.BEND(1/8)'

  bendbook regress FILE --response HEADER [options]
      fits the response column of a trial log (.xlsx, .csv or .parquet)
      --made HEADER             in place of --response: a column that says how shots ended; being made is fitted as a chance
      --sheet NAME              the sheet; otherwise the first that has the response
      --driver HEADER           a column taken as a number
      --category HEADER         a column taken as a category; the first level met is the reference
      --curve HEADER DEGREE     lets a number's line curve, degree 2 to 10
      --joint HEADER HEADER     lets the effect of one column depend on the other
      --twice HEADER HEADER     a driver and the column in which it was read again: what errors of reading do to its
                                effect (JSON: "readingErrors"); columns such as "Humidity (%)" and "Humidity 2 (%)" are
                                noticed without it
      --no-constant             forces the fit through the origin
      --confidence SHARE        confidence of the intervals, 0.95 unless said
      --robust                  standard errors that hold when rows scatter unequally
      --cluster HEADER          standard errors that hold when rows alike in this column go together, with --made too
      --random HEADER           each level of this column shifts its rows by a random amount (JSON: "session", with how
                                many there are and their standard deviation); --random or --cluster said again: each
                                distinct combination is one, as in --random Date --random Session
      --order HEADER            asks whether shots drift or neighbours go together, by this number or time of theirs
                                within each session (JSON: "order"), and whether leaving it out changes an answer
      --weight HEADER           counts rows by this column: weight 2 scatters with half the variance of weight 1
      --at HEADER=VALUE         what is expected at this setting, others in their middle: the mean and a single shot (JSON:
                                "at"), of an average session and of a new one; with --made the success rate (JSON: "rate")
      --bootstrap N             checks the intervals by N draws of rows, or of groups (JSON: "bootstrap")
      --permute N               checks each driver's p by exchanging rows N times (JSON: "permutation")
      --seed S                  a whole number: the same seed gives the same draws; 1 unless said
      --take-in                 counts rows below and columns beside an Excel table as part of it; without it they are
                                told on standard error and, in JSON, as "outsideTable"
      --json                    JSON at full precision

  bendbook regress --from-sums FILE --response HEADER [--driver HEADER...] [--confidence SHARE] [--json]
      the same coefficients and intervals from sums that a database took over rows too many for one machine; FILE is
      their .csv or .parquet, and docs/large-sets.md has the SQL that makes it

  bendbook compare FILE --response HEADER --among HEADER [options]
      compares the levels of a column with each other, everything else alike, all pairs at once
      --category HEADER         another category, its levels with equal weight
      --driver HEADER           a number, held at its mean
      --margin X                asks whether levels are the same to X, in the response's unit
      --reference LEVEL         compares every other level with this one only, instead of all pairs
      --slope HEADER            asks whether the effect of this number differs between the levels; JSON gains
                                "slopes", "slopePairs" and "slopesDiffer"
      and --sheet, --confidence, --robust, --cluster, --random, --take-in, --json as above

  bendbook reach FILE (--gap HEADER | --required HEADER) --outcome HEADER [options]
      how far it bends, and how surely, from attempts past an obstacle: got by says at least what the obstacle asked
      for, a hit less, anything else nothing
      --gap HEADER              the obstacle's gap, or --required HEADER, the bend that it asked for (ball radius − gap)
      --outcome HEADER          made, cleared, hit obstacle or missed
      --measured HEADER         the bend that a camera saw; its row's outcome is then not used
      --random HEADER           what makes a session; said several times, each distinct combination is one
      --at HEADER=VALUE         the setting asked about; otherwise numbers at their mean, categories at their first level
      --probability P           the bend that an attempt gets at least with this chance, several times if you like;
                                0.5 and 0.9 unless said
      --ball D                  the ball's diameter in the unit of the gap, 2.25 in unless said
      --target BEND --tries N   how likely one attempt, and one of N tries of a session, reaches that bend, and which
                                change of a driver goes with a better chance (JSON: "target")
      --misjudged SHARE         share of outcomes that are taken for the opposite, such as 0.02 for a light touch that
                                nobody saw in 1 of 50 attempts; none unless said
      and --sheet, --driver, --category, --confidence, --take-in, --json as above (JSON: "reach", "scatter", "counts")

  bendbook repeat FILE --reading HEADER --reading HEADER... [--by HEADER...] [--sheet NAME] [--confidence SHARE]
                   [--take-in] [--json]
      how well readings of the same marks agree, such as "Gap (in)" and "Gap 2 (in)": standard deviation of a single
      reading (JSON: "repeatability", "low", "high"), its share of the variance, shifts; by the levels of a column

  bendbook power --difference D --spread S (--shots N | --power P) [--level SHARE] [--tables K] [--looks K] [--json]
  bendbook power --difference D --spread S --session-spread T --sessions N --shots M [--level SHARE] [--json]
      chance to see a difference between two tables with N shots each, or the shots it takes;
      spread: standard deviation of single shots; two sides; level 0.05 unless said (or --confidence 0.95);
      --tables K: difference of the two farthest apart among K tables; --looks K: how looking K times on the way
      raises the false alarms (JSON: "falseAlarms");
      --session-spread T: standard deviation between sessions, each of which sees one table; N sessions on each table
      with M shots each; with --power P in place of --sessions or --shots that one is found

  bendbook track FILE --frames-per-second F [--corners "x1,y1 x2,y2 x3,y3 x4,y4" --table LENGTHxWIDTH]
                 [--corner-error PIXELS] [--ball D] [--confidence SHARE] [--json]
      the bend of a filmed ball after the cushion, from a .csv of frame (or time), x, y; + short, − long
      --frames-per-second F     the film's own rate, not the player's; not needed where the file has times in s
      --corners                 pixels of the playing surface's corners: the banked rail's left and right end, then the
                                right and left end of the rail opposite; without them x and y are inches, x along the
                                banked rail, y from its nose
      --table                   the playing surface in inches, along the banked rail and away from it, such as 100x50
      --corner-error PIXELS     standard uncertainty of a corner each way, 1.5 unless said; it is in the interval
      --ball D                  the ball's diameter in inches, 2.25 unless said
      JSON: "bend", "standardError", "low", "high" in inches; "departureAngle", "arrivalAngle" in degrees from square;
      "speedAfterCushion" in mph; "cushionAt" in inches; "pointsUsed", "pointsLeftOut" after the cushion

  bendbook gather FOLDER --out FILE [options]
      the trials of every .xlsx and .csv below a folder as one tidy set (.xlsx, .csv or .parquet), each row with its
      origin; units are reconciled, and what disagrees is listed
      --units us|si             in, mph, °F or mm, m/s, °C; otherwise each column's most frequent unit
      --same HEADER HEADER      two headings that mean the same column
      --sheet NAME              only sheets of this name
      --take-in                 as above
      --force                   replaces FILE
      --json                    what was done, as JSON

  bendbook gather FOLDER --claims --out FILE.html [options]
      the claimed bends of every .xlsx and .csv below a folder as one standing, on a page that can be published: place,
      claim with its uncertainty, ties, tries, films, how each was checked, the rules; a claim is a row of a table of
      claims, or an attempt with a word in the log's column headed Claim
      --target BEND             how likely each reached it, the tries before it taken into account
      --certainty SHARE         two are tied unless one is larger with it, 0.95 unless said
      --confidence SHARE        of every interval, 0.95 unless said
      --tolerance LENGTH        how far marks, line and obstacle may be off, 1/32 in unless said
      --uncertainty LENGTH      standard uncertainty of bends whose row names none, 1/32 in unless said
      --title TEXT              the heading of the page
      --units us|si             in or mm, on the page and of these lengths; in unless said
      and --sheet, --take-in, --force, --json as above

  bendbook recalculate FILE --out FILE [--force] [--json]
      recomputes every BANK formula of an .xlsx or .xlsm and what depends on it, lists the cells whose stored value
      differs and the formulas that keep theirs because they are not computed here, and writes a copy (JSON: "formulas",
      "bank" (how many of them are ours), "changed", "kept")

  bendbook --help, bendbook --version

Exit code 0: done; 1: the data or a formula had an error; 2: the command was not understood.`;

/** How a command speaks. */
export interface Voices {
  /** Says what was asked for, on standard output. */
  print(text: string): void;
  /** Says what the user should know besides, on standard error. */
  warn(text: string): void;
  /** Says how far a long command is; not every word is heard. */
  progress(text: string): void;
}

/** The command line itself is wrong: exit code 2. */
export class UsageError extends Error {}

/** The command was understood and cannot be done: exit code 1. */
export class CommandError extends Error {}
