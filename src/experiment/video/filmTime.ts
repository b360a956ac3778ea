/**
 * A film's own clock and the ball's. A camera that takes 240 frames a second may write a file that plays 30 of them, or
 * one that says a wrong rate: then the file's times are too long, all by one factor, and only a stated rate mends them.
 */
import { say, type Said } from "../language/said";
import { significant } from "../language/wording";
import { frameTimes } from "./frameTimes";
import type { VideoForm } from "./videoForm";

/** Frames a second of the file: as frames were seen to follow each other, else as the ball's places do. */
function fileRateOf({ seenRate, points }: VideoForm): number | undefined {
  return seenRate > 0 ? seenRate : frameTimes(points.map(({ time }) => time))?.rate;
}

/** How many times slower than the ball the file plays; 1 where nobody states a rate. */
export function slownessOf(form: VideoForm): number {
  const rate = fileRateOf(form);
  return form.filmedAt > 0 && rate !== undefined ? form.filmedAt / rate : 1;
}

/** Slowness and speed-up by less than this are rounding of the file's times. */
const SAME = 0.02;

/** Whose clock speed and bend rest on. @example toText(clockSentence({ ...FIRST_VIDEO, filmedAt: 240, seenRate: 30 })) === "By the rate that is stated, 240 frames a second, the file plays 8 times slower than the ball ran: its 30 frames a second are not used for the speed." */
export function clockSentence(form: VideoForm): Said {
  const rate = fileRateOf(form);
  if (form.filmedAt === 0 || rate === undefined)
    return "Times are the file's own. A film in slow motion plays slower than it was filmed: state the camera's rate under Sizes.";
  const slowness = slownessOf(form);
  const [stated, own] = [significant(form.filmedAt, 4), significant(rate, 4)];
  if (Math.abs(slowness - 1) < SAME)
    return say`The file's own times agree with the rate that is stated, ${stated} frames a second.`;
  const way =
    slowness > 1 ? say`${significant(slowness, 3)} times slower` : say`${significant(1 / slowness, 3)} times faster`;
  return say`By the rate that is stated, ${stated} frames a second, the file plays ${way} than the ball ran: its ${own} frames a second are not used for the speed.`;
}
