/** What each view is for, how it is used, and what it does not say. */
import type { ViewName } from "./settings";

export interface Help {
  /** Name on the tab. */
  readonly name: string;
  /** The first line says in one sentence what the view is for. */
  readonly lines: readonly string[];
}

export const HELP: Readonly<Record<ViewName, Help>> = {
  analysis: {
    name: "Analysis",
    lines: [
      "How far it bends, what drives the bend, what makes a shot, which tables or cloths differ: from the rows of a sheet.",
      "Choose rows finds the table and its headings; Check rows lists every row that is left out, with the cell and the reason. Choose a question, then read the answer.",
      "A log of attempts, a gap of the obstacle and how each attempt ended, is first asked how far it bends: got by says at least what the obstacle asked for, a hit less, another miss nothing.",
      "Every number has its interval. An interval covers the scatter of your rows; it does not cover what was wrong with all of them alike, and what goes together need not be cause and effect.",
      "Shots of one session are not separate evidence on what stayed the same all session: where that matters, the answer leads with a fit that knows it.",
    ],
  },
  start: {
    name: "First hour",
    lines: [
      "The first hour: a log, its first shots one row each, their bends, a first answer.",
      "Type the gap as the ruler reads it (5/16 is a number here) and press Enter: the row is written, its bend is said, and the next is asked for. What stays from shot to shot is taken over until you say that it changed.",
      "From three shots the average and its interval are said; nothing is changed that you typed.",
    ],
  },
  setup: {
    name: "Set-up",
    lines: [
      "Table, ball, obstacle, ruler, target, and what cloth and cushion do: once for the workbook, taken by every other view.",
      "It stands on the sheet Conditions. What you change there shows here and the other way round; what is left blank there has its usual value.",
      "Low and high say within what a value lies. A usual value is somebody else's table: each says where it comes from and how you measure it.",
    ],
  },
  plan: {
    name: "Plan",
    lines: [
      "Which shots to take, how often and in which order, so that luck, warming up and the table do not pass for an effect.",
      "Name the settings to vary and their levels. The plan says what it can and cannot tell apart before you shoot it, and how likely it is to show a difference that matters to you. Each visit to a table is a session of its own.",
      "Write it to a sheet and shoot down the rows. After a break it says which shot is next. A changed plan goes on a new sheet that begins with every row already shot.",
    ],
  },
  shoot: {
    name: "Shoot",
    lines: [
      "For standing at the table: set the gap that it shows, shoot, press how it ended. Each press is a row of the log at once.",
      "Got by says that the bend was at least what the obstacle asked for, a hit that it was less, missed nothing of the bend. The next gap is the one that teaches most; the stop is said, too.",
      "Session, table, humidity and the like stay as in the last row until you change them. A press is taken back as long as nobody has changed its row.",
      "The answer here is of this session alone; Analysis reads all of them.",
    ],
  },
  shot: {
    name: "Shot",
    lines: [
      "A shot computed from published physics: where the ball goes, how far it bends, what it clears, what would bend it more.",
      "Move the sliders; the drawing is to scale. Table constants are uncertain, so path and curve have a band. Calibrate them to your own rows.",
      "It does not know how humidity changes friction, and above 2.5 m/s square to the rail its cushion no longer holds; it says so.",
    ],
  },
  layout: {
    name: "Layout",
    lines: [
      "Where gates, guides, marks and the obstacle stand for a wanted bend, measured from the rails that a tape reaches, and how far each may be off.",
      "Print the PDF at 100 %: the wall drawing, and the spacing of the marks in full size with a bar to check the printer by.",
    ],
  },
  video: {
    name: "Video",
    lines: [
      "Reads the bend from a film: mark the table's corners and the ball, and see its path, its bend with the interval, its speed and the contact.",
      "The film is opened on this computer and stays there. Film from a stand, the whole playing surface in view, as high as you can; do not move the camera.",
      "The interval holds the scatter of the places only, not a lens that bends straight lines, nor corners that are marked wrongly: mark a length that you know to see how far the map is off.",
    ],
  },
  measure: {
    name: "Measure",
    lines: [
      "How exactly a bend is known, which source of error rules, what more readings would bring, and whether a target was truly beaten.",
      "Give what you know of ruler, marks, ball, sighting, obstacle and camera. The draws check whether the usual formula may be used here.",
      "It can only count the sources that you name.",
    ],
  },
  evidence: {
    name: "Evidence",
    lines: [
      "Claimed bends, the checks of what was recorded after each, and their standing.",
      "A claim stands when marks, line, obstacle, recording and views were recorded and hold. One that does not is listed with the reason and stays where it is.",
      "On a log of attempts the marked rows are claims (a word in a column headed Claim; without one, each shooter's farthest). How many tries went before, and what they let expect, count in the verdict.",
      "Bends short and long have standings of their own; claims whose difference is within their uncertainty share a rank.",
    ],
  },
  next: {
    name: "Next",
    lines: [
      "Which setting to shoot next: the highest predicted, the one that teaches most, the best trade between them.",
      "Set limits for what may change; everything else stays as it is set up now, so nobody re-levels a table for one shot.",
      "The highest of many predictions tends to be too high, and beyond what was shot a fitted curve may be far off; both are said.",
    ],
  },
  report: {
    name: "Report",
    lines: [
      "One command makes a sheet and a page for printing, with all that another person needs to check and repeat the answer.",
      "It reports the answer of the Analysis view, and what Plan, Measure and Evidence keep.",
    ],
  },
};
