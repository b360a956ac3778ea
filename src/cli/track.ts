/** bendbook track. */
import { say, toText, joinTexts } from "../experiment/language/said";
import { parseArgs } from "node:util";
import type { Point } from "../bank/pathClearance";
import { STANDARD_BALL_DIAMETER } from "../bank/bend";
import type { Corners } from "../bank/projective";
import { picturedTable, USUAL_CORNER_ERROR, type PicturedTable } from "../experiment/track/picturedTable";
import { trackedShot, type TrackedShot } from "../experiment/track/trackedShot";
import { TrackProblem } from "../experiment/track/trackProblem";
import { TrackRowProblem, trackRows, type TrackRows } from "../experiment/track/trackRows";
import { milesAnHour, trackSentences } from "../experiment/track/trackWords";
import { significant } from "../experiment/language/wording";
import { oneFile, optionConfidence, optionNumber, withNegatives } from "./options";
import { openFile } from "./readLog";
import { CommandError, UsageError, type Voices } from "./usage";

/** Frames are missing from a track now and then; a rate that is off by more is another rate. */
const RATE_SLACK = 0.2;

/** Tells the bend of a tracked ball. @returns the exit code */
export async function trackCommand(args: string[], { print }: Voices): Promise<number> {
  const { values, positionals } = parseArgs({
    args: withNegatives(args),
    allowPositionals: true,
    options: {
      "frames-per-second": { type: "string" },
      corners: { type: "string" },
      "corner-error": { type: "string" },
      table: { type: "string" },
      ball: { type: "string" },
      confidence: { type: "string" },
      json: { type: "boolean" },
    },
  });
  const file = oneFile("track", positionals, "(.csv) of frame (or time), x, y");
  const given = values["frames-per-second"];
  const rate =
    given === undefined ? undefined : optionNumber("frames-per-second", given, "a rate above 0", (value) => value > 0);
  const table = tableOf(values.corners, values.table, values["corner-error"]);
  const ball =
    values.ball === undefined
      ? STANDARD_BALL_DIAMETER.in
      : optionNumber("ball", values.ball, "the ball's diameter in inches, above 0", (value) => value > 0);
  const confidence = optionConfidence(values.confidence);
  const rows = await rowsOf(file, rate);
  if (rate !== undefined && rows.ownRate !== undefined && Math.abs(rows.ownRate / rate - 1) > RATE_SLACK)
    throw new CommandError(
      toText(
        say`--frames-per-second is ${rate}, and the times in ${file} are ${significant(rows.ownRate, 4)} a second: leave the option out where the times are right, or give frames in place of times.`,
      ),
    );
  const shot = told(file, () => trackedShot(rows.points, { ...(table && { table }), nearest: ball / 2, confidence }));
  print(
    values.json
      ? JSON.stringify(asJson(shot), null, 2)
      : toText(joinTexts(trackSentences(shot, confidence, rows.unseen, table?.cornerError), "\n")),
  );
  return 0;
}

function asJson(shot: TrackedShot): unknown {
  const { bend, standardError, low, high, departureAngle, arrivalAngle, cushionAt, pointsUsed, leftOut } = shot;
  return {
    bend,
    standardError,
    low,
    high,
    departureAngle,
    arrivalAngle,
    speedAfterCushion: milesAnHour(shot.speedAfterCushion),
    cushionAt,
    pointsUsed,
    pointsLeftOut: leftOut.length,
  };
}

async function rowsOf(file: string, rate: number | undefined): Promise<TrackRows> {
  const { book } = await openFile(file);
  const [sheet] = book.sheets;
  const cells = sheet ? Array.from(sheet.rows, (row) => Array.from(row ?? [], (cell) => cell?.value ?? null)) : [];
  return told(file, () => trackRows(cells, rate));
}

/** What a track's problem is, with the file's name before it. */
function told<T>(file: string, make: () => T): T {
  try {
    return make();
  } catch (problem) {
    if (problem instanceof TrackProblem || problem instanceof TrackRowProblem)
      throw new CommandError(`${file}: ${problem.message}`);
    throw problem;
  }
}

/** The table that the corners and its size fix in the picture; undefined where neither is given. */
function tableOf(
  corners: string | undefined,
  table: string | undefined,
  error: string | undefined,
): PicturedTable | undefined {
  if (corners === undefined && table === undefined) {
    if (error !== undefined) throw new UsageError("--corner-error is of the corners: give --corners and --table, too.");
    return undefined;
  }
  if (corners === undefined || table === undefined)
    throw new UsageError("--corners and --table go together: where the corners are seen, and how far apart they are.");
  const [length, width] = sizeOf(table);
  const cornerError =
    error === undefined
      ? USUAL_CORNER_ERROR
      : optionNumber("corner-error", error, "pixels, 0 or more", (value) => value >= 0);
  const found = picturedTable(cornersOf(corners), length, width, cornerError);
  if (!found)
    throw new UsageError(
      "--corners do not go around the playing surface, or might not with that --corner-error: give the banked rail's left and right end, then the right and left end of the rail opposite.",
    );
  return found;
}

function cornersOf(text: string): Corners {
  const points = text.trim().split(/\s+/).map(pointOf);
  const [a, b, c, d, ...rest] = points;
  if (!a || !b || !c || !d || rest.length > 0)
    throw new UsageError(
      `--corners has ${points.length} points: give four, "x1,y1 x2,y2 x3,y3 x4,y4": the banked rail's left and right end, then the right and left end of the rail opposite.`,
    );
  return [a, b, c, d];
}

function pointOf(text: string): Point {
  const found = /^(-?[\d.]+),(-?[\d.]+)$/.exec(text);
  const [x, y] = [Number(found?.[1]), Number(found?.[2])];
  if (!Number.isFinite(x) || !Number.isFinite(y))
    throw new UsageError(`--corners has "${text}": give pixels as x,y, such as 120,640.`);
  return { x, y };
}

function sizeOf(text: string): [number, number] {
  const found = /^([\d.]+)\s*[x×]\s*([\d.]+)$/i.exec(text.trim());
  const [length, width] = [Number(found?.[1]), Number(found?.[2])];
  if (!(length > 0 && width > 0))
    throw new UsageError(
      `--table is "${text}": give the playing surface in inches, along the banked rail and away from it, such as 100x50.`,
    );
  return [length, width];
}
