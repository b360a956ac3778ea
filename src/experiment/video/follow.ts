/**
 * Following the ball from frame to frame: its patch is looked for where the last two places lead. A ball turns, so the
 * patch is taken anew when it is only just known again; a ball that is not known again is lost, and following stops.
 */
import type { Point } from "../../bank/pathClearance";
import { cutPatch, findPatch, type GreyPicture } from "../../statistics/numeric/patchSearch";

export interface Following {
  readonly patch: GreyPicture;
  /** Where the ball's centre lies from the middle of the patch. */
  readonly offset: Point;
  readonly radius: number;
  /** Where it was seen last, and the step to there. */
  readonly at: Point;
  readonly step: Point | undefined;
}

export type Followed =
  | { readonly found: true; readonly following: Following; readonly score: number }
  | { readonly found: false; readonly score: number | undefined };

/** Correlation below which it is not the ball, and below which the patch is taken anew. */
const LOST = 0.6;
const RENEWED = 0.85;
/**
 * The search reaches so many radii of the ball beyond the place that is expected, and twice the last step: a cushion may
 * turn it round. The first step is not known, and a fast ball moves several radii in a frame.
 */
const REACH = 2;
const FIRST_REACH = 8;

/** @param radius of the ball in pixels @returns undefined where the ball lies at the picture's edge */
export function beginFollowing(picture: GreyPicture, at: Point, radius: number): Following | undefined {
  // A rim of what is around the ball makes its outline part of the patch.
  const around = Math.max(3, Math.round(1.25 * radius));
  const patch = cutPatch(picture, at.x, at.y, around);
  if (!patch) return undefined;
  const offset = { x: at.x - Math.round(at.x), y: at.y - Math.round(at.y) };
  return { patch, offset, radius, at, step: undefined };
}

/** Where the ball is in the next frame. */
export function followInto(picture: GreyPicture, { patch, offset, radius, at, step }: Following): Followed {
  const ball = Math.max(radius, 3);
  const reach = Math.ceil(step ? REACH * ball + 2 * Math.hypot(step.x, step.y) : FIRST_REACH * ball);
  const hit = findPatch(picture, patch, at.x + (step?.x ?? 0), at.y + (step?.y ?? 0), reach);
  if (!hit || hit.score < LOST || hit.atBorder) return { found: false, score: hit?.score };
  const place = { x: hit.x + offset.x, y: hit.y + offset.y };
  const anew = hit.score < RENEWED ? beginFollowing(picture, place, radius) : undefined;
  return {
    found: true,
    score: hit.score,
    following: {
      patch: anew?.patch ?? patch,
      offset: anew?.offset ?? offset,
      radius,
      at: place,
      step: { x: place.x - at.x, y: place.y - at.y },
    },
  };
}
