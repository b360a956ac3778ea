/** What a track tells, in sentences. */
import { say, type Said } from "../language/said";
import { confidenceText, decimalsFor, fixed, significant, withUnit } from "../language/wording";
import type { TrackedShot } from "./trackedShot";

/** in/s of one mile an hour. */
const MILE_AN_HOUR = 17.6;

/** Speed in mph. @example milesAnHour(176) // 10 */
export function milesAnHour(inchesPerSecond: number): number {
  return inchesPerSecond / MILE_AN_HOUR;
}

/** A break shot is hardly faster, and a slower ball is hardly filmed, mph. */
const LIKELY = { least: 0.5, most: 35 };

/** What a speed that nobody shoots points to. */
export function speedDoubt({ speedAfterCushion }: TrackedShot): Said[] {
  const speed = milesAnHour(speedAfterCushion);
  return speed >= LIKELY.least && speed <= LIKELY.most
    ? []
    : [
        say`${significant(speed, 3)} mph is hardly a ball's speed after a cushion: look whether the frames per second are those at which the film was taken, not those at which it plays, and whether the table's size is right.`,
      ];
}

/** How much the corners make of the interval, and what was taken for their error. */
export function cornersSentence(cornerError: number, part: Said, whole: Said): Said {
  return cornerError > 0
    ? say`The corners are taken to be marked within ${significant(cornerError, 3)} pixels each way (standard uncertainty); that alone makes ${part} of the bend's standard error of ${whole}.`
    : "The corners are taken as exact: the interval holds the scatter of the points only.";
}

/** @param unseen frames without the ball @param cornerError of the picture's corners, px; undefined without one */
export function trackSentences(
  shot: TrackedShot,
  confidence: number,
  unseen: number,
  cornerError: number | undefined,
): Said[] {
  const flattened = cornerError !== undefined;
  const { bend, standardError, low, high, leftOut, pointsUsed } = shot;
  const decimals = decimalsFor(standardError);
  const share = confidenceText(confidence);
  const way = low > 0 ? " short" : high < 0 ? " long" : "";
  return [
    say`The ball bends ${fixed(Math.abs(bend), decimals)} in${way || (bend < 0 ? " long" : " short")} on its way from the cushion, ${share} % interval ${fixed(low, decimals)} to ${fixed(high, decimals)} in (+ short, − long).`,
    ...(way === ""
      ? ["The interval holds 0: the track does not tell which way the ball bends, or that it bends at all."]
      : []),
    say`It leaves at ${fixed(shot.departureAngle, 1)}° and arrives at ${fixed(shot.arrivalAngle, 1)}° from square, at ${significant(milesAnHour(shot.speedAfterCushion), 3)} mph after the cushion, which its centre touches ${fixed(shot.cushionAt, 2)} in along the rail.`,
    say`${pointsUsed} points after the cushion lie on the path, a coordinate scattering ${significant(shot.scatter, 2)}${flattened ? " pixels" : " in"}; ${leftOut.length === 0 ? "none was left out" : `${leftOut.length} lie off it and ${leftOut.length === 1 ? "was" : "were"} left out`}${unseen > 0 ? `, and ${unseen} frames do not show the ball` : ""}.`,
    ...(shot.afterwards > 0
      ? [
          `The path ends where the ball comes back or meets something else: ${shot.afterwards} later points are not used.`,
        ]
      : []),
    ...speedDoubt(shot),
    "The bend is that of the path, from its chord between the contact and the last point seen. It is not the bend that the layout asked for.",
    ...(flattened
      ? [
          cornersSentence(
            cornerError,
            withUnit(significant(shot.cornersPart, 2), "in"),
            withUnit(significant(standardError, 2), "in"),
          ),
          "The corners map the bed; the ball's centre stands a radius above it and is seen farther from the camera than it is. The higher the camera, the less that matters; the interval does not hold it.",
        ]
      : []),
  ];
}
